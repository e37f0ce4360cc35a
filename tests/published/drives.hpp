#pragma once

#include "model/drive.hpp"

namespace sprocketry::model {

// More than any book asks for; finite, so that no difference of infinities comes up.
inline constexpr double kPlenty = 1e12;

// A motor of a torque constant (N m/A) and a resistance (ohm) on a stiff supply (V): nothing but
// the voltage limits it.
inline DriveLimits on_supply(double torque_constant, double resistance, double voltage) {
  DriveLimits d;
  d.torque_constant = torque_constant;
  d.resistance = resistance;
  d.voltage = voltage;
  d.phase_current = kPlenty;
  d.battery_current = kPlenty;
  d.motor_power = kPlenty;
  // Without any resistance at all the speed of full duty would be infinity over infinity.
  d.duty_resistance = resistance > 0 ? resistance : 1e-9;
  return d;
}

}  // namespace sprocketry::model
