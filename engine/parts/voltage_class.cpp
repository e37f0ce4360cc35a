#include "parts/voltage_class.hpp"

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

}  // namespace sprocketry::parts
