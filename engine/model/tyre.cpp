#include "model/tyre.hpp"

#include "model/constants.hpp"

namespace sprocketry::model {

double rolling_circumference(double section_width, double aspect_ratio, double rim_diameter) {
  return kPi * (rim_diameter + 2 * section_width * aspect_ratio);
}

}  // namespace sprocketry::model
