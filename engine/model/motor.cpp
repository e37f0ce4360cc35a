#include "model/motor.hpp"

#include <algorithm>
#include <cmath>

#include "model/constants.hpp"

namespace sprocketry::model {

double torque_constant(double speed_constant) { return 1.0 / speed_constant; }

LossTorque loss_torque(double torque_constant, double resistance,
                       std::span<const NoLoadPoint> no_load) {
  const auto torque = [&](const NoLoadPoint& p) { return torque_constant * p.current; };
  if (no_load.size() < 2) return {no_load.empty() ? 0.0 : torque(no_load.front()), 0.0};
  const auto speed = [&](const NoLoadPoint& p) {
    return (p.voltage - p.current * resistance) / torque_constant;
  };
  const double viscous =
      (torque(no_load[1]) - torque(no_load[0])) / (speed(no_load[1]) - speed(no_load[0]));
  return {torque(no_load[0]) - viscous * speed(no_load[0]), viscous};
}

double winding_resistance(double resistance_25, double temperature) {
  return resistance_25 * (1.0 + kCopperCoefficient * (temperature - kWindingReference));
}

double warm_torque_constant(const Motor& motor, double magnet_temperature) {
  constexpr double kNeodymium = 0.0011;  // 1/K
  constexpr double kFerrite = 0.0020;
  const double rise = magnet_temperature - kWindingReference;
  switch (motor.magnet) {
    case Magnet::kNeodymium:
      return motor.torque_constant * (1.0 - kNeodymium * rise);
    case Magnet::kFerrite:
      return motor.torque_constant * (1.0 - kFerrite * rise);
    case Magnet::kNotStated:
      break;
  }
  return motor.torque_constant;
}

ThermalNetwork split_thermal(double resistance, double capacity, double max_winding, double mass) {
  constexpr double kWindingShare = 0.4;
  constexpr double kCopperShare = 0.13;
  constexpr double kCopperHeat = 385.0;  // J/kg K
  const double winding = std::min(kCopperShare * mass * kCopperHeat, 0.5 * capacity);
  return {kWindingShare * resistance, (1.0 - kWindingShare) * resistance, winding,
          capacity - winding, max_winding};
}

ThermalNetwork estimated_thermal(double continuous_current, double resistance_25, double mass) {
  constexpr double kMaxWinding = kZeroCelsius + 130.0;
  constexpr double kAir = kZeroCelsius + 40.0;
  constexpr double kMotorHeat = 420.0;  // J/kg K
  const double loss =
      continuous_current * continuous_current * winding_resistance(resistance_25, kMaxWinding);
  return split_thermal((kMaxWinding - kAir) / loss, kMotorHeat * mass, kMaxWinding, mass);
}

double current_for_duration(double continuous, double peak, double peak_duration, double duration) {
  if (duration <= peak_duration) return peak;
  const double excess = peak * peak - continuous * continuous;
  return std::sqrt(continuous * continuous + excess * (peak_duration / duration));
}

}  // namespace sprocketry::model
