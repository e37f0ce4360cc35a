#include "model/chain_line.hpp"

#include <algorithm>
#include <cmath>

namespace sprocketry::model {
namespace {

// One way round of the front sprocket: the spacer that it takes and what is left to the rear.
ChainLineFit one_way(double needed, double most_spacer, bool teeth_outside) {
  ChainLineFit fit;
  fit.teeth_outside = teeth_outside;
  fit.shaft_spacer = std::clamp(needed, 0.0, most_spacer);
  fit.rear_shift = fit.shaft_spacer - needed;
  return fit;
}

}  // namespace

ChainLineFit fit_chain_line(const ChainLine& line, double tooth, double hub_length,
                            double shaft_length) {
  const double rear = line.wheel_face + line.rear_spacer + 0.5 * tooth;
  const double reach = rear - line.shaft_face;  // from the shaft's face to the line
  const double most = std::max(0.0, shaft_length - hub_length);
  ChainLineFit fit = one_way(reach - 0.5 * tooth, most, false);
  const ChainLineFit other = one_way(reach - (hub_length - 0.5 * tooth), most, true);
  // What differs in the last digits reaches the line alike.
  constexpr double kSame = 1e-9;
  const double gain = std::abs(fit.rear_shift) - std::abs(other.rear_shift);
  const bool shorter = other.shaft_spacer < fit.shaft_spacer;
  if (gain > kSame || (gain > -kSame && shorter)) fit = other;
  fit.rear_teeth = rear;
  return fit;
}

double line_tolerance(double centre_distance) { return 1e-3 * std::max(1.0, centre_distance); }

}  // namespace sprocketry::model
