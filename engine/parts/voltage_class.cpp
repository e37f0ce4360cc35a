#include "parts/voltage_class.hpp"

#include <array>
#include <cmath>

namespace sprocketry::parts {

std::optional<double> voltage_class(std::span<const double> classes, double nominal_voltage) {
  constexpr double kClassWidth = 0.15;
  std::optional<double> nearest;
  for (const double one : classes) {
    const double distance = std::abs(nominal_voltage - one);
    const double best = nearest ? std::abs(nominal_voltage - *nearest) : 0.0;
    if (!nearest || distance < best || (distance == best && one < *nearest)) nearest = one;
  }
  if (!nearest || std::abs(nominal_voltage - *nearest) > kClassWidth * *nearest) return {};
  return nearest;
}

std::span<const double> trade_voltage_classes() {
  static constexpr std::array kClasses = {12.0, 24.0, 36.0,  48.0,  60.0, 72.0,
                                          84.0, 96.0, 108.0, 120.0, 144.0};
  return kClasses;
}

}  // namespace sprocketry::parts
