#pragma once

#include <algorithm>
#include <cmath>

#include "model/battery.hpp"
#include "model/controller.hpp"
#include "model/heat.hpp"

namespace sprocketry::model {

// What limits the motor current of one motor, controller and pack at one state of charge and
// winding temperature. All the physics of full throttle stands in these numbers. SI.
struct DriveLimits {
  double torque_constant = 0;  // N m/A
  double resistance = 0;       // ohm, warm winding
  LossTorque loss;             //
  double efficiency = 1;       // of the controller
  double voltage = 0;          // V, open circuit E
  double pack_resistance = 0;  // ohm
  double phase_current = 0;    // A, largest motor current that controller and motor allow
  double battery_current = 0;  // A, largest that the pack may give (I_bmax)
  double motor_power = 0;      // W at the motor's terminals when the pack gives that
  double duty_resistance = 0;  // ohm, R + R_b/eta_c: what full duty sees
};

// I_bmax in A at an open-circuit voltage E: the least of the stated limit (controller, pack,
// ceiling), (E - V_low)/R_b, where the pack sags to the low-voltage cut-off, and E/(2 R_b), the
// matched load. Never below 0.
double largest_battery_current(double voltage, double pack_resistance, double low_voltage,
                               double stated_limit);

// Stated limit in A on the battery current: the least of controller, pack and ceiling.
double stated_battery_limit(const Controller& controller, const Pack& pack, double ceiling);

// Voltage in V under load at which the drive cuts back: the higher of pack's empty voltage and
// controller's minimum.
double cut_off_voltage(const Controller& controller, const Pack& pack);

// The limits at a state of charge 0..1 with the motor at these temperatures; `ceiling` in A
// (infinity: none), `phase_current` in A (the lesser of what controller and motor allow for the
// event at hand).
DriveLimits drive_limits(const Motor& motor, const Controller& controller, const Pack& pack,
                         double state_of_charge, const MotorTemperature& motor_temperature,
                         double ceiling, double phase_current);

// The lesser of motor's and controller's largest current (A) for an event of so many seconds.
double phase_current_for(const Motor& motor, const Controller& controller, double duration);

// Largest motor current in A at motor speed w (rad/s): the least of phase limit, battery limit
// I (I R + K w) <= motor_power, and full duty I <= (E - K w)/duty_resistance. Never below 0.
// (Buck chopper: power balance V_m I_m = eta_c V_b I_b; Rashid, Power Electronics, ch. 14.)
double largest_motor_current(const DriveLimits& limits, double motor_speed);

// Current in A that a motor of resistance R, torque constant K takes at speed w for a terminal
// power P: the positive root of I^2 R + K w I = P.
double current_from_power(double resistance, double torque_constant, double motor_speed,
                          double power);

// Battery current in A for a power P (W) drawn from open-circuit voltage E behind R_b:
// (E - sqrt(E^2 - 4 R_b P))/(2 R_b), in the form that does not cancel; the matched load E/(2 R_b)
// for more power than the pack can give.
inline double battery_current(double voltage, double pack_resistance, double power) {
  const double inside = voltage * voltage - 4.0 * pack_resistance * power;
  const double drawn = 2.0 * power / (voltage + std::sqrt(std::max(inside, 0.0)));
  return inside > 0 ? drawn : 0.5 * voltage / pack_resistance;
}

}  // namespace sprocketry::model
