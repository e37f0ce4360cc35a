#include <algorithm>
#include <array>

#include "model/constants.hpp"
#include "model/heat.hpp"
#include "rules/checks.hpp"

namespace sprocketry::rules {
namespace {

const model::Performance& performance(const Context& c) { return c.metrics.performance; }

double motor_speed_per_road_speed(const Context& c) {
  return c.chain.total_reduction * 2.0 * model::kPi / c.requirement.bike.rolling_circumference;
}

Finding motor_speed_full(const Context& c, std::size_t) {
  return at_most(performance(c).top_speed_full * motor_speed_per_road_speed(c),
                 c.parts.motor->model.max_speed);
}

Finding motor_speed(const Context& c, std::size_t) {
  return at_most(performance(c).top_speed * motor_speed_per_road_speed(c),
                 c.parts.motor->model.max_speed);
}

Finding unloaded_speed(const Context& c, std::size_t) {
  const model::Motor& motor = c.parts.motor->model;
  const spec::Conditions& on_day = c.requirement.conditions;
  const double magnets =
      model::settled_at(motor, on_day.winding_temperature, on_day.air_temperature).body;
  // Magnets that are warmer, and weaker, let it turn faster.
  const double constant =
      std::min(motor.torque_constant, model::warm_torque_constant(motor, magnets));
  return at_most(c.parts.pack->model.full_voltage / constant, motor.max_speed);
}

Finding chain_speed_at(const Context& c, double road_speed) {
  if (!c.parts.chain->max_speed) return not_given("chains.max_speed");
  const double turns = road_speed / c.requirement.bike.rolling_circumference;
  return at_most(turns * c.parts.rear_teeth * c.parts.chain->model.pitch,
                 *c.parts.chain->max_speed);
}

Finding chain_speed(const Context& c, std::size_t) {
  return chain_speed_at(c, performance(c).top_speed);
}

Finding chain_speed_full(const Context& c, std::size_t) {
  return chain_speed_at(c, performance(c).top_speed_full);
}

Finding motor_current_ride(const Context& c, std::size_t) {
  return at_most(performance(c).ride_motor_rms, c.parts.motor->model.continuous_current);
}

Finding pack_current_ride(const Context& c, std::size_t) {
  return at_most(performance(c).ride_pack_mean, c.parts.pack->model.continuous_current);
}

constexpr const char* kCruiseSpeed = "the cruise speed";

Finding motor_current_cruise(const Context& c, std::size_t item) {
  const double current = performance(c).cruise[item].motor_current;
  if (current != current) return not_reached(kCruiseSpeed);
  return at_most(current, c.parts.motor->model.continuous_current);
}

Finding pack_current_cruise(const Context& c, std::size_t item) {
  const double current = performance(c).cruise[item].battery_current;
  if (current != current) return not_reached(kCruiseSpeed);
  return at_most(current, c.parts.pack->model.continuous_current);
}

Finding winding_ride(const Context& c, std::size_t) {
  return at_most(performance(c).winding_ride, c.parts.motor->model.thermal.max_winding);
}

Finding winding_climb(const Context& c, std::size_t item) {
  return at_most(performance(c).climbs[item].winding, c.parts.motor->model.thermal.max_winding);
}

Finding pull_away_peak(const Context& c, std::size_t) {
  if (performance(c).pull_away != performance(c).pull_away) {
    return not_reached("the pull-away speed");
  }
  return at_most(performance(c).pull_away, std::min(c.parts.motor->model.peak_duration,
                                                    c.parts.controller->model.peak_duration));
}

std::size_t cruises(const spec::Requirement& r) { return r.cruise.size(); }
std::size_t climbs(const spec::Requirement& r) { return r.must.climbs.size(); }
std::string cruise_about(const spec::Requirement& r, std::size_t item) {
  return speed_text(r, r.cruise[item]);
}
std::string climb_about(const spec::Requirement& r, std::size_t item) {
  return "climb at " + climb_text(r, item);
}

constexpr std::array kRules = {
    Rule{"motor speed", Stage::kSpeed, Kind::kReject, Unit::kRpm, spec::figures::kTopSpeed,
         "the motor's data sheet", "the motor does not overspeed at top speed", one_item,
         motor_speed},
    Rule{"unloaded motor speed", Stage::kSpeed, Kind::kCaution, Unit::kRpm, 0,
         "the motor's data sheet",
         "full throttle with the wheel off the ground does not overspeed the motor", one_item,
         unloaded_speed},
    Rule{"motor speed, full pack", Stage::kSpeed, Kind::kCaution, Unit::kRpm,
         spec::figures::kTopSpeedFull, "the motor's data sheet",
         "nor does it with the pack new, warm and full, in still air", one_item, motor_speed_full},
    Rule{"chain speed", Stage::kSpeed, Kind::kReject, Unit::kMetrePerSecond,
         spec::figures::kTopSpeed, "the chain's data sheet",
         "the chain does not run faster than it may", one_item, chain_speed},
    Rule{"chain speed, full pack", Stage::kSpeed, Kind::kCaution, Unit::kMetrePerSecond,
         spec::figures::kTopSpeedFull, "the chain's data sheet",
         "nor does it with the pack new, warm and full, in still air", one_item, chain_speed_full},
    Rule{"ride motor current", Stage::kHeat, Kind::kReject, Unit::kAmpere, spec::figures::kRide,
         "the motor's continuous rating",
         "the ride's root-mean-square motor current stays within the continuous rating", one_item,
         motor_current_ride, nullptr, true},
    Rule{"cruise motor current", Stage::kHeat, Kind::kReject, Unit::kAmpere, spec::figures::kCruise,
         "the motor's continuous rating", "each cruise stays within the motor's continuous rating",
         cruises, motor_current_cruise, cruise_about},
    Rule{"ride pack current", Stage::kHeat, Kind::kReject, Unit::kAmpere, spec::figures::kRide,
         "the cells' continuous rating",
         "the ride's mean battery current stays within the cells' continuous rating", one_item,
         pack_current_ride, nullptr, true},
    Rule{"cruise pack current", Stage::kHeat, Kind::kReject, Unit::kAmpere, spec::figures::kCruise,
         "the cells' continuous rating", "each cruise stays within the cells' continuous rating",
         cruises, pack_current_cruise, cruise_about},
    Rule{"ride winding", Stage::kHeat, Kind::kReject, Unit::kCelsius, spec::figures::kRide,
         "the motor's highest winding temperature", "the ride does not overheat the motor",
         one_item, winding_ride, nullptr, true},
    Rule{"climb winding", Stage::kHeat, Kind::kReject, Unit::kCelsius, spec::figures::kRide,
         "the motor's highest winding temperature",
         "no climb, begun warm from the ride, overheats the motor", climbs, winding_climb,
         climb_about, true},
    Rule{"peak duration", Stage::kHeat, Kind::kCaution, Unit::kSecond, spec::figures::kPullAway,
         "the time for which motor and controller state their peak",
         "pulling away is over before the peak rating's time is up", one_item, pull_away_peak},
};

}  // namespace

std::span<const Rule> riding_rules() { return kRules; }

}  // namespace sprocketry::rules
