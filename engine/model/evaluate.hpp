#pragma once

#include <vector>

#include "model/drive.hpp"
#include "model/performance.hpp"
#include "model/ride.hpp"
#include "model/speeds.hpp"
#include "model/traction.hpp"

namespace sprocketry::model {

// A climb that is asked for: grade (tan), speed (m/s), time (s).
struct ClimbQuestion {
  double grade = 0;
  double speed = 0;
  double duration = 0;
};

// All that is asked of every bike of one requirement. SI.
struct Questions {
  Surroundings air;
  double air_temperature = 0;      // K
  double winding_temperature = 0;  // K, for the winding's resistance
  double state_of_charge = 0;
  double low_state_of_charge = 0;
  double accessories = 0;   // W
  double ceiling = 0;       // A on the battery current, infinity: none
  double pull_away_to = 0;  // m/s
  RideColumns ride;
  std::vector<double> cruise;             // m/s
  std::vector<RideColumns> cruise_rides;  // one per cruise speed
  std::vector<AccelerationResult> accelerations;
  std::vector<ClimbQuestion> climbs;
};

// What one motor, controller and pack share over all gearings and masses.
struct Level {
  const Motor* motor = nullptr;
  const Controller* controller = nullptr;
  const Pack* pack = nullptr;
  DriveLimits full;  // at conditions.state_of_charge
  DriveLimits low;   // at conditions.low_state_of_charge
  ContinuousLimits continuous;
  PackSide side;
  std::vector<double> climb_current;  // A, phase limit for each climb's duration
};
Level make_level(const Questions& questions, const Motor& motor, const Controller& controller,
                 const Pack& pack);

// One bike: a level with its gearing and all that rolls.
struct Build {
  const Level* level = nullptr;
  Gearing gearing;
  Rolling rolling;
  Corners corners;  // of full throttle
};
Build make_build(const Level& level, const Gearing& gearing, const Rolling& rolling);

// The stages of an evaluation, in the order in which rules read them, so that a search can stop at
// the first rule that fails. Each fills its own fields of `performance`; its lists must have the
// questions' sizes (see make_performance).
Performance make_performance(const Questions& questions);

// top_speed.
void evaluate_top_speed(const Build& build, Performance& performance);
// range, consumption, keeps_up, winding_ride, ride currents, cruise, climbs.
void evaluate_ride(const Questions& questions, const Build& build, RideWork& work,
                   Performance& performance);
// sustained_speed, pull_away, start_grade, top_speed_low, battery_current_peak, accelerations.
void evaluate_throttle(const Questions& questions, const Build& build, Performance& performance);

}  // namespace sprocketry::model
