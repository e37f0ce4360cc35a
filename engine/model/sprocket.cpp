#include "model/sprocket.hpp"

#include <cmath>

#include "model/constants.hpp"
#include "model/performance.hpp"

namespace sprocketry::model {
namespace {

constexpr double kHubClearance = 0.76e-3;    // m
constexpr double kToothOfWidth = 0.93;       // of the chain's inner width
constexpr double kToothClearance = 0.15e-3;  // m

}  // namespace

double pitch_diameter(double pitch, int teeth) { return pitch / std::sin(kPi / teeth); }

double outside_diameter(double pitch, int teeth) {
  return pitch * (0.6 + 1.0 / std::tan(kPi / teeth));
}

double root_diameter(double pitch, double roller_diameter, int teeth) {
  return pitch_diameter(pitch, teeth) - roller_diameter;
}

double caliper_diameter(double pitch, double roller_diameter, int teeth) {
  const double across = teeth % 2 == 0 ? 1.0 : std::cos(kPi / (2 * teeth));
  return pitch_diameter(pitch, teeth) * across - roller_diameter;
}

double largest_hub_diameter(double pitch, int teeth) {
  return pitch * (1.0 / std::tan(kPi / teeth) - 1.0) - kHubClearance;
}

double tooth_thickness(double inner_width) { return kToothOfWidth * inner_width - kToothClearance; }

SprocketSize sprocket_size(double pitch, double roller_diameter, double inner_width, int teeth) {
  const bool roller = roller_diameter > 0;
  return {teeth,
          pitch_diameter(pitch, teeth),
          outside_diameter(pitch, teeth),
          roller ? root_diameter(pitch, roller_diameter, teeth) : kNone,
          roller ? caliper_diameter(pitch, roller_diameter, teeth) : kNone,
          largest_hub_diameter(pitch, teeth),
          inner_width > 0 ? tooth_thickness(inner_width) : kNone};
}

}  // namespace sprocketry::model
