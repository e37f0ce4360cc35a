#pragma once

#include "model/traction.hpp"

namespace sprocketry::model {

// The driven wheel off the ground at full throttle.
struct FreeRun {
  double motor_speed = 0;      // rad/s
  double road_speed = 0;       // m/s that the wheel would roll
  double battery_current = 0;  // A, accessories not counted
};
// At full duty the loss torque is all there is: E = I (R + R_b/eta_c) + K w with K I = T_c + B w.
FreeRun free_run(const DriveLimits& limits, const Gearing& gearing);

// What a steady speed on the flat draws.
struct SteadyDraw {
  double battery_current = 0;  // A, accessories included
  double motor_current = 0;    // A, DC equivalent
  double motor_speed = 0;      // rad/s
  double pack_voltage = 0;     // V at the terminals
};
// At a speed in m/s with accessories in W; all kNone when the bike cannot hold it.
SteadyDraw steady_draw(const DriveLimits& limits, const Gearing& gearing, const Rolling& rolling,
                       double speed, double accessories);

}  // namespace sprocketry::model
