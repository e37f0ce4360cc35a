#pragma once

#include <limits>
#include <vector>

namespace sprocketry::model {

// Marks a result that does not exist (a speed never reached, a winding that never settles).
inline constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

// Riding at one speed on the flat. All but the motor speed are kNone when the speed cannot be held
// at conditions.state_of_charge.
struct CruiseResult {
  double speed = 0;                // m/s
  double battery_current = kNone;  // A
  double motor_current = kNone;    // A, DC equivalent
  double motor_speed = 0;          // rad/s
  double range = kNone;            // m
};

// From one speed to another at full throttle on the flat; kNone when never reached.
struct AccelerationResult {
  double from = 0;      // m/s
  double to = 0;        // m/s
  double time = kNone;  // s
};

struct ClimbResult {
  double grade = 0;                 // tan
  double speed = 0;                 // m/s
  double duration = 0;              // s
  double force_margin = kNone;      // N, available for that long minus needed
  double force_margin_low = kNone;  // N, the same at the low state of charge
  double winding = kNone;           // K at the end
};

// What a bike does. SI; kNone where it does not exist.
struct Performance {
  double pull_away = kNone;             // s
  double top_speed = kNone;             // m/s, 0 for a bike that cannot move
  double top_speed_full = kNone;        // m/s with the pack new, warm and full, in still air
  double top_speed_low = kNone;         // m/s at the low state of charge
  double sustained_speed = kNone;       // m/s
  double start_grade = kNone;           // tan
  double battery_current_peak = kNone;  // A
  double range = kNone;                 // m on the ride
  double consumption = kNone;           // J/m at the pack's terminals on the ride
  double keeps_up = kNone;              // share 0..1 of the ride's time
  double winding_ride = kNone;          // K, steady
  double ride_motor_rms = kNone;        // A
  double ride_pack_mean = kNone;        // A
  std::vector<CruiseResult> cruise;
  std::vector<AccelerationResult> accelerations;
  std::vector<ClimbResult> climbs;
};

}  // namespace sprocketry::model
