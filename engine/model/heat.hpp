#pragma once

#include "model/motor.hpp"

namespace sprocketry::model {

// Temperatures of the two nodes in K.
struct MotorTemperature {
  double winding = 0;
  double body = 0;
};

// The motor when copper loss alone has brought its winding to a temperature (K) in air of a
// temperature (K): the body stands between them as the two resistances in series say. The magnets
// are as warm as the body.
MotorTemperature settled_at(const Motor& motor, double winding, double air_temperature);

// What heats a motor: the mean square of its current (A2) and mean friction power (W).
struct HeatLoad {
  double mean_square_current = 0;
  double friction_power = 0;
};

// Temperatures that the motor settles at in air of a temperature (K), copper loss growing with the
// winding's temperature; both kNone when it never settles (alpha I^2 R25 (R_wb + R_ba) >= 1).
MotorTemperature steady_temperature(const Motor& motor, const HeatLoad& load,
                                    double air_temperature);

// Temperatures after `duration` s of a constant load from `start`, the exact solution of
//   C_w dT_w/dt = I^2 R(T_w) - (T_w - T_b)/R_wb
//   C_b dT_b/dt = (T_w - T_b)/R_wb + P_f - (T_b - T_air)/R_ba
// (two nodes in series; linear since R is linear in T_w, so eigenvectors of a 2 x 2 matrix give
// it). Valid also where no steady state exists.
MotorTemperature temperature_after(const Motor& motor, const HeatLoad& load, double air_temperature,
                                   const MotorTemperature& start, double duration);

}  // namespace sprocketry::model
