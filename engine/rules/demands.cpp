#include <algorithm>
#include <array>
#include <cmath>

#include "rules/checks.hpp"
#include "rules/whole_charge.hpp"

namespace sprocketry::rules {
namespace {

using spec::Requirement;

const model::Performance& performance(const Context& c) { return c.metrics.performance; }

// The evaluation answers every speed that a demand names; see spec::Metrics.
const model::CruiseResult& cruise_at(const Context& c, double speed) {
  return *std::ranges::find(performance(c).cruise, speed, &model::CruiseResult::speed);
}

Finding top_speed(const Context& c, std::size_t) {
  return at_least(performance(c).top_speed, *c.requirement.must.top_speed);
}
Finding sustained_speed(const Context& c, std::size_t) {
  return at_least(performance(c).sustained_speed, *c.requirement.must.sustained_speed);
}
Finding pull_away(const Context& c, std::size_t) {
  return at_most(performance(c).pull_away, *c.requirement.must.pull_away_time);
}
Finding range(const Context& c, std::size_t) {
  return at_least(performance(c).range, *c.requirement.must.range);
}
Finding cruise_range(const Context& c, std::size_t item) {
  const spec::AtSpeed& asked = c.requirement.must.cruise_range[item];
  return at_least(cruise_at(c, asked.speed).range, asked.limit);
}
Finding climbs(const Context& c, std::size_t item) {
  return at_least(performance(c).climbs[item].force_margin, 0.0);
}
Finding hill_start(const Context& c, std::size_t) {
  return at_least(performance(c).start_grade, *c.requirement.must.hill_start_grade);
}
Finding battery_current(const Context& c, std::size_t) {
  return at_most(performance(c).battery_current_peak, *c.requirement.must.battery_current);
}
Finding cruise_current(const Context& c, std::size_t item) {
  const spec::AtSpeed& asked = c.requirement.must.cruise_current[item];
  return at_most(cruise_at(c, asked.speed).battery_current, asked.limit);
}
Finding price(const Context& c, std::size_t) {
  return at_most(static_cast<double>(c.metrics.price),
                 static_cast<double>(*c.requirement.must.price));
}
Finding mass(const Context& c, std::size_t) {
  return at_most(c.metrics.mass, *c.requirement.must.mass);
}
Finding time_from_the_wall(const Context& c, std::size_t) {
  const auto whole = whole_charge(c.requirement, c.parts);
  if (!whole) return not_given("chargers");
  return at_most(whole->charge.time, *c.requirement.must.charge_time);
}
Finding charge_reaches(const Context& c, std::size_t) {
  const auto whole = whole_charge(c.requirement, c.parts);
  if (!whole) return not_given("chargers");
  return at_least(whole->charge.state_of_charge,
                  c.parts.pack->model.cell.usable_from - kShortOfFull);
}
Finding charge_time(const Context& c, std::size_t) {
  return at_most(c.metrics.charge_time, *c.requirement.must.charge_time);
}
Finding keeps_up(const Context& c, std::size_t) {
  return at_least(performance(c).keeps_up, *c.requirement.must.keeps_up);
}
const spec::VehicleClass& vehicle_class(const Context& c) {
  return *c.requirement.must.vehicle_class;
}
Finding class_speed(const Context& c, std::size_t) {
  return at_most(performance(c).top_speed_full, *vehicle_class(c).top_speed);
}
Finding class_power(const Context& c, std::size_t) {
  return at_most(c.torque.continuous_power, *vehicle_class(c).power);
}
// The Regulation weighs an electric vehicle without its propulsion battery (from memory).
Finding class_power_per_mass(const Context& c, std::size_t) {
  return at_most(c.torque.continuous_power / (c.metrics.mass - c.parts.pack->mass),
                 *vehicle_class(c).power_per_mass);
}
template <auto Member>
std::size_t when_limited(const Requirement& r) {
  return r.must.vehicle_class && (*r.must.vehicle_class).*Member ? 1 : 0;
}
std::string class_name(const Requirement& r, std::size_t) { return r.must.vehicle_class->name; }

Finding gross_mass(const Context& c, std::size_t) {
  const Requirement& r = c.requirement;
  if (!r.bike.max_gross_mass) return not_given("bike.max_gross_mass");
  return at_most(c.metrics.mass + r.rider_mass + r.load_mass, *r.bike.max_gross_mass);
}
Finding objective_exists(const Context& c, std::size_t) {
  return must_be(std::ranges::all_of(c.requirement.objectives, [&](const std::string& name) {
    return !std::isnan(spec::find_metric(name)->value(c.metrics));
  }));
}

template <auto Member>
std::size_t when_given(const Requirement& r) {
  return (r.must.*Member).has_value() ? 1 : 0;
}
template <auto Member>
std::size_t each(const Requirement& r) {
  return (r.must.*Member).size();
}
template <auto Member>
std::string at_speed(const Requirement& r, std::size_t item) {
  return speed_text(r, (r.must.*Member)[item].speed);
}

constexpr Stage kStage = Stage::kDemand;
constexpr std::string_view kAsked = "the requirement";
constexpr std::string_view kLaw =
    "the class as named, Regulation (EU) 168/2013, Annex I (from memory), or as the requirement "
    "defines it; national law decides";

using spec::Demands;
constexpr std::array kRules = {
    Rule{"must top_speed", kStage, Kind::kReject, Unit::kSpeed, spec::figures::kTopSpeed, kAsked,
         "it is fast enough", when_given<&Demands::top_speed>, top_speed, nullptr, true},
    Rule{"must sustained_speed", kStage, Kind::kReject, Unit::kSpeed, spec::figures::kSustained,
         kAsked, "it holds this speed for ever", when_given<&Demands::sustained_speed>,
         sustained_speed, nullptr, true},
    Rule{"must pull_away", kStage, Kind::kReject, Unit::kSecond, spec::figures::kPullAway, kAsked,
         "it pulls away well enough", when_given<&Demands::pull_away_time>, pull_away, nullptr,
         true},
    Rule{"must range", kStage, Kind::kReject, Unit::kKilometre, spec::figures::kRange, kAsked,
         "it goes far enough", when_given<&Demands::range>, range, nullptr, true},
    Rule{"must cruise_range", kStage, Kind::kReject, Unit::kKilometre, spec::figures::kCruiseRange,
         kAsked, "it goes far enough at a steady speed", each<&Demands::cruise_range>, cruise_range,
         at_speed<&Demands::cruise_range>, true},
    Rule{"must climbs", kStage, Kind::kReject, Unit::kNewton, spec::figures::kRide, kAsked,
         "it has the force for the climb, for that long", each<&Demands::climbs>, climbs,
         climb_text, true},
    Rule{"must hill_start", kStage, Kind::kReject, Unit::kPercent, spec::figures::kStartGrade,
         kAsked, "it starts on this grade", when_given<&Demands::hill_start_grade>, hill_start,
         nullptr, true},
    Rule{"must battery_current", kStage, Kind::kReject, Unit::kAmpere, spec::figures::kPeakCurrent,
         kAsked, "the controller draws no more than the ceiling",
         when_given<&Demands::battery_current>, battery_current},
    Rule{"must cruise_current", kStage, Kind::kReject, Unit::kAmpere, spec::figures::kCruise,
         kAsked, "cruising draws little enough", each<&Demands::cruise_current>, cruise_current,
         at_speed<&Demands::cruise_current>, true},
    Rule{"must price", kStage, Kind::kReject, Unit::kMoney, 0, kAsked, "it costs little enough",
         when_given<&Demands::price>, price, nullptr, true},
    Rule{"must mass", kStage, Kind::kReject, Unit::kKilogram, 0, kAsked, "the bike is light enough",
         when_given<&Demands::mass>, mass, nullptr, true},
    Rule{"must charge_time", kStage, Kind::kReject, Unit::kHour, 0, kAsked,
         "it charges fast enough", when_given<&Demands::charge_time>, charge_time, nullptr, true},
    Rule{"charge time from the wall", kStage, Kind::kCaution, Unit::kHour, 0, kAsked,
         "with the outlet's limit and the tail it charges as fast as is demanded of the charger's "
         "current",
         when_given<&Demands::charge_time>, time_from_the_wall},
    Rule{"charge reaches the top", kStage, Kind::kCaution, Unit::kPercent, 0,
         "2 % below the top of the usable window; common practice, no source",
         "charging at the cell's full voltage fills what the range counts on", one_item,
         charge_reaches},
    Rule{"must keeps_up", kStage, Kind::kReject, Unit::kPercent, spec::figures::kRide, kAsked,
         "it can follow enough of the ride", when_given<&Demands::keeps_up>, keeps_up},
    Rule{"must class speed", kStage, Kind::kReject, Unit::kSpeed, spec::figures::kTopSpeedFull,
         kLaw,
         "with the pack new, warm and full, in still air it is no faster than the legal class "
         "allows",
         when_limited<&spec::VehicleClass::top_speed>, class_speed, class_name},
    Rule{"must class power", kStage, Kind::kReject, Unit::kKilowatt, 0, kLaw,
         "with such a pack the motor gives no more for ever than the legal class allows",
         when_limited<&spec::VehicleClass::power>, class_power, class_name},
    Rule{"must class power per mass", kStage, Kind::kReject, Unit::kWattPerKilogram, 0, kLaw,
         "so much power for so light a bike, its pack left out, stays in the legal class",
         when_limited<&spec::VehicleClass::power_per_mass>, class_power_per_mass, class_name},
    Rule{"gross mass", kStage, Kind::kReject, Unit::kKilogram, 0, "the frame's plate",
         "bike, rider and load stay under the frame's plate", one_item, gross_mass, nullptr, true},
    Rule{"objective exists", kStage, Kind::kReject, Unit::kNone, 0, "the named objectives",
         "every objective that was named has a value", one_item, objective_exists},
};

}  // namespace

std::span<const Rule> demand_rules() { return kRules; }

}  // namespace sprocketry::rules
