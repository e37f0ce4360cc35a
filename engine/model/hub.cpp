#include "model/hub.hpp"

#include <algorithm>

namespace sprocketry::model {

double tangential_force(double torque, double shaft_diameter) {
  return 2.0 * torque / shaft_diameter;
}

double key_shear_stress(double force, double width, double length) {
  return force / (width * length);
}

double key_bearing_stress(double force, double bearing_height, double length) {
  return force / (bearing_height * length);
}

double carrying_key_length(double hub_length, double shaft_length, double shaft_diameter) {
  constexpr double kDiameters = 1.5;
  const double length = shaft_length > 0 ? std::min(hub_length, shaft_length) : hub_length;
  return std::min(length, kDiameters * shaft_diameter);
}

double holding_torque(double holding_power, double shaft_diameter) {
  return holding_power * 0.5 * shaft_diameter;
}

}  // namespace sprocketry::model
