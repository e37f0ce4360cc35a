#include "spec/vehicle_class.hpp"

#include <array>

namespace sprocketry::spec {

std::span<const VehicleClass> vehicle_classes() {
  constexpr double kKilometrePerHour = 1.0 / 3.6;
  static const std::array kClasses = {
      VehicleClass{"L1e-B", 45 * kKilometrePerHour, 4000.0, {}},
      VehicleClass{"L3e-A1", {}, 11000.0, 100.0},
      VehicleClass{"L3e-A2", {}, 35000.0, 200.0},
  };
  return kClasses;
}

}  // namespace sprocketry::spec
