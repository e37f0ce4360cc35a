#include "model/drive.hpp"

#include <algorithm>
#include <cmath>

namespace sprocketry::model {

double largest_battery_current(double voltage, double pack_resistance, double low_voltage,
                               double stated_limit) {
  const double sag = (voltage - low_voltage) / pack_resistance;
  const double matched = voltage / (2.0 * pack_resistance);
  return std::max(0.0, std::min({stated_limit, sag, matched}));
}

double stated_battery_limit(const Controller& controller, const Pack& pack, double ceiling) {
  return std::min({controller.battery_current, pack.current_limit, ceiling});
}

double cut_off_voltage(const Controller& controller, const Pack& pack) {
  return std::max(pack.empty_voltage, controller.min_voltage);
}

DriveLimits drive_limits(const Motor& motor, const Controller& controller, const Pack& pack,
                         double state_of_charge, const MotorTemperature& motor_temperature,
                         double ceiling, double phase_current) {
  DriveLimits d;
  d.torque_constant = warm_torque_constant(motor, motor_temperature.body);
  d.resistance = winding_resistance(motor.resistance, motor_temperature.winding);
  d.loss = motor.loss;
  d.efficiency = controller.efficiency;
  d.voltage = pack.series * open_circuit_voltage(pack.cell.open_circuit, state_of_charge);
  d.pack_resistance = pack.resistance;
  d.phase_current = phase_current;
  d.battery_current =
      largest_battery_current(d.voltage, d.pack_resistance, cut_off_voltage(controller, pack),
                              stated_battery_limit(controller, pack, ceiling));
  d.motor_power =
      d.efficiency * d.battery_current * (d.voltage - d.battery_current * d.pack_resistance);
  d.duty_resistance = d.resistance + d.pack_resistance / d.efficiency;
  return d;
}

double phase_current_for(const Motor& motor, const Controller& controller, double duration) {
  return std::min(current_for_duration(motor.continuous_current, motor.peak_current,
                                       motor.peak_duration, duration),
                  current_for_duration(controller.motor_continuous, controller.motor_current,
                                       controller.peak_duration, duration));
}

double current_from_power(double resistance, double torque_constant, double motor_speed,
                          double power) {
  const double back = torque_constant * motor_speed;
  const double root = std::sqrt(back * back + 4.0 * resistance * power);
  return 2.0 * power / (back + root);
}

double largest_motor_current(const DriveLimits& d, double motor_speed) {
  const double duty = (d.voltage - d.torque_constant * motor_speed) / d.duty_resistance;
  // 0/0 at standstill when the pack can give nothing.
  const double battery = d.motor_power > 0 ? current_from_power(d.resistance, d.torque_constant,
                                                                motor_speed, d.motor_power)
                                           : 0.0;
  return std::max(0.0, std::min({d.phase_current, battery, duty}));
}

}  // namespace sprocketry::model
