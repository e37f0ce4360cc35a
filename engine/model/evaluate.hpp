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
  // With the pack new, warm and full, so what no day exceeds: `strongest` before the motor warms
  // up, when magnets and winding are at their best; `fastest` with the motor as warm as on the day,
  // when magnets that weaken let it turn faster.
  DriveLimits strongest;
  DriveLimits fastest;
  ContinuousLimits continuous;
  PackSide side;
  std::vector<double> climb_current;  // A, phase limit for each climb's duration
};
// All but `strongest` and `fastest`; `pack` in its state on the day.
Level make_level(const Questions& questions, const Motor& motor, const Controller& controller,
                 const Pack& pack);
// The two that are left out, of the level's motor and controller; `as_new` is its pack new and at
// its rated temperature.
void add_extremes(const Questions& questions, const Pack& as_new, Level& level);

// One bike: a level with its gearing and all that rolls.
struct Build {
  const Level* level = nullptr;
  Gearing gearing;
  Rolling rolling;
  Corners corners;  // of full throttle
};
Build make_build(const Level& level, const Gearing& gearing, const Rolling& rolling);

// An evaluation in portions, so that a search computes only what the rules before the first that
// fails have read. Each fills its own fields of `performance`; its lists must have the questions'
// sizes (see make_performance).
Performance make_performance(const Questions& questions);

// top_speed.
void evaluate_top_speed(const Build& build, Performance& performance);
// top_speed_full: with `fastest`, in still air.
void evaluate_top_speed_full(const Build& build, Performance& performance);
// consumption, keeps_up, winding_ride, ride currents, climbs; leaves the ride's points in `work`.
void evaluate_ride(const Questions& questions, const Build& build, RideWork& work,
                   Performance& performance);
// cruise without its ranges; leaves each cruise's points in a work of its own.
void evaluate_cruise(const Questions& questions, const Build& build, std::vector<RideWork>& works,
                     Performance& performance);
void evaluate_sustained(const Build& build, Performance& performance);
void evaluate_pull_away(const Questions& questions, const Build& build, Performance& performance);
// range; reads the points that evaluate_ride() left in `work`.
void evaluate_range(const Questions& questions, const Build& build, RideWork& work,
                    Performance& performance);
// Bounds of that range in m, its quadrature's error included; nothing where the range itself is as
// quick (see ride_range_bounds()). Reads the same points.
std::optional<RangeBounds> bound_range(const Questions& questions, const Build& build,
                                       RideWork& work);
// The ranges of cruise, of the points that evaluate_cruise() left in `works`.
void evaluate_cruise_range(const Questions& questions, const Build& build,
                           std::vector<RideWork>& works, Performance& performance);
void evaluate_start_grade(const Build& build, Performance& performance);
// battery_current_peak, after evaluate_top_speed().
void evaluate_peak_current(const Build& build, Performance& performance);
// top_speed_low, accelerations.
void evaluate_rest(const Questions& questions, const Build& build, Performance& performance);

}  // namespace sprocketry::model
