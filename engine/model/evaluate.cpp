#include "model/evaluate.hpp"

#include <algorithm>
#include <cmath>

#include "model/cell_state.hpp"
#include "model/heat.hpp"

namespace sprocketry::model {
namespace {

// Acceleration that a hill start must still give, m/s2.
constexpr double kStartAcceleration = 0.5;

double climb_margin(const Build& b, DriveLimits limits, double phase_current, double speed,
                    double needed) {
  limits.phase_current = phase_current;
  return drive_force(limits, b.gearing, b.rolling.largest_force, speed) - needed;
}

void evaluate_climbs(const Questions& q, const Build& b, const HeatLoad& ride_heat,
                     Performance& p) {
  const Motor& motor = *b.level->motor;
  const MotorTemperature start = steady_temperature(motor, ride_heat, q.air_temperature);
  p.winding_ride = start.winding;
  for (std::size_t i = 0; i < q.climbs.size(); ++i) {
    const ClimbQuestion& asked = q.climbs[i];
    ClimbResult& c = p.climbs[i];
    const Rolling& r = b.rolling;
    const double needed = road_force(r.load, r.air, r.mass, asked.grade, asked.speed);
    const double phase = b.level->climb_current[i];
    c.grade = asked.grade;
    c.speed = asked.speed;
    c.duration = asked.duration;
    c.force_margin = climb_margin(b, b.level->full, phase, asked.speed, needed);
    c.force_margin_low = climb_margin(b, b.level->low, phase, asked.speed, needed);
    const double current = demanded_current(b.level->full, b.gearing, needed, asked.speed);
    const double w = b.gearing.ratio * asked.speed;
    const HeatLoad load{current * current, motor.loss.at(w) * w};
    c.winding = temperature_after(motor, load, q.air_temperature, start, asked.duration).winding;
  }
}

double start_grade(const Build& b) {
  const Rolling& r = b.rolling;
  const double force = drive_force(b.level->full, b.gearing, r.largest_force, 0.0);
  // At standstill only the wind pushes besides weight.
  const double wind = road_force({0.0, 0.0, r.load.drag_area}, r.air, r.mass, 0.0, 0.0);
  const double other = effective_mass(r, b.gearing) * kStartAcceleration + wind;
  const double grade = grade_from_force(r.load.rolling_resistance, r.mass, force, other);
  return std::isfinite(grade) ? grade : kNone;
}

}  // namespace

Level make_level(const Questions& q, const Motor& motor, const Controller& controller,
                 const Pack& pack) {
  Level level;
  level.motor = &motor;
  level.controller = &controller;
  level.pack = &pack;
  const double burst = std::min(motor.peak_current, controller.motor_current);
  const MotorTemperature warm = settled_at(motor, q.winding_temperature, q.air_temperature);
  level.full = drive_limits(motor, controller, pack, q.state_of_charge, warm, q.ceiling, burst);
  level.low = drive_limits(motor, controller, pack, q.low_state_of_charge, warm, q.ceiling, burst);
  level.continuous = continuous_limits(motor, controller, pack, q.accessories, q.air_temperature);
  level.side = {&pack, cut_off_voltage(controller, pack),
                stated_battery_limit(controller, pack, q.ceiling), q.accessories};
  for (const ClimbQuestion& climb : q.climbs) {
    level.climb_current.push_back(phase_current_for(motor, controller, climb.duration));
  }
  return level;
}

void add_extremes(const Questions& q, const Pack& as_new, Level& level) {
  const Motor& motor = *level.motor;
  const Controller& controller = *level.controller;
  const double burst = std::min(motor.peak_current, controller.motor_current);
  const double filled = std::max(as_new.cell.usable_from, q.state_of_charge);
  const double cool = std::min(q.air_temperature, kRatedTemperature);
  const MotorTemperature warm = settled_at(motor, q.winding_temperature, q.air_temperature);
  level.strongest = drive_limits(motor, controller, as_new, filled, {cool, cool}, q.ceiling, burst);
  level.fastest = drive_limits(motor, controller, as_new, filled, warm, q.ceiling, burst);
}

Build make_build(const Level& level, const Gearing& gearing, const Rolling& rolling) {
  return {&level, gearing, rolling, throttle_corners(level.full, gearing, rolling.largest_force)};
}

Performance make_performance(const Questions& q) {
  Performance p;
  p.cruise.resize(q.cruise.size());
  p.accelerations = q.accelerations;
  p.climbs.resize(q.climbs.size());
  return p;
}

void evaluate_top_speed(const Build& b, Performance& p) {
  p.top_speed = top_speed(b.level->full, b.gearing, b.rolling);
}

void evaluate_top_speed_full(const Build& b, Performance& p) {
  Rolling still = b.rolling;
  still.air.headwind = 0;
  p.top_speed_full = top_speed(b.level->fastest, b.gearing, still);
}

void evaluate_ride(const Questions& q, const Build& b, RideWork& work, Performance& p) {
  const RideResult r =
      ride_currents(q.ride, b.level->full, b.gearing, b.rolling, b.level->side, work);
  p.consumption = r.consumption;
  p.keeps_up = r.keeps_up;
  p.ride_motor_rms = std::sqrt(r.heat.mean_square_current);
  p.ride_pack_mean = r.pack_mean;
  evaluate_climbs(q, b, r.heat, p);
}

void evaluate_cruise(const Questions& q, const Build& b, std::vector<RideWork>& works,
                     Performance& p) {
  works.resize(q.cruise.size());
  for (std::size_t i = 0; i < q.cruise.size(); ++i) {
    const RideResult r = ride_currents(q.cruise_rides[i], b.level->full, b.gearing, b.rolling,
                                       b.level->side, works[i]);
    CruiseResult& c = p.cruise[i];
    c.speed = q.cruise[i];
    c.motor_speed = b.gearing.ratio * q.cruise[i];
    c.battery_current = r.follows_all ? r.first_current : kNone;
    c.motor_current = r.follows_all ? r.first_motor : kNone;
    c.range = kNone;
  }
}

void evaluate_sustained(const Build& b, Performance& p) {
  p.sustained_speed = sustained_speed(b.level->full, b.level->continuous, b.gearing, b.rolling);
}

void evaluate_pull_away(const Questions& q, const Build& b, Performance& p) {
  p.pull_away =
      acceleration_time(b.level->full, b.gearing, b.rolling, b.corners, 0.0, q.pull_away_to);
}

void evaluate_range(const Questions& q, const Build& b, RideWork& work, Performance& p) {
  p.range = ride_range(q.ride, b.level->full, b.gearing, b.rolling, b.level->side, work);
}

std::optional<RangeBounds> bound_range(const Questions& q, const Build& b, RideWork& work) {
  return ride_range_bounds(q.ride, b.level->full, b.gearing, b.rolling, b.level->side, work);
}

void evaluate_cruise_range(const Questions& q, const Build& b, std::vector<RideWork>& works,
                           Performance& p) {
  for (std::size_t i = 0; i < q.cruise.size(); ++i) {
    if (std::isnan(p.cruise[i].battery_current)) continue;
    p.cruise[i].range =
        ride_range(q.cruise_rides[i], b.level->full, b.gearing, b.rolling, b.level->side, works[i]);
  }
}

void evaluate_start_grade(const Build& b, Performance& p) { p.start_grade = start_grade(b); }

void evaluate_peak_current(const Build& b, Performance& p) {
  p.battery_current_peak = peak_battery_current(b.level->full, b.gearing, b.rolling.largest_force,
                                                b.corners, p.top_speed);
}

void evaluate_rest(const Questions& q, const Build& b, Performance& p) {
  const Level& level = *b.level;
  p.top_speed_low = top_speed(level.low, b.gearing, b.rolling);
  for (std::size_t i = 0; i < q.accelerations.size(); ++i) {
    AccelerationResult& a = p.accelerations[i];
    a = q.accelerations[i];
    a.time = acceleration_time(level.full, b.gearing, b.rolling, b.corners, a.from, a.to);
  }
}

}  // namespace sprocketry::model
