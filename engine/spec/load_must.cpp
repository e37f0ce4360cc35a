#include <algorithm>
#include <cmath>

#include "spec/limits.hpp"
#include "spec/load_sections.hpp"

namespace sprocketry::spec {
namespace {

namespace rule = limits::must;
using limits::riding::kDuration;
using limits::riding::kGrade;
using limits::riding::kSpeed;

constexpr double kUsualPullAway = 50.0;  // km/h

// Where the time from rest ends when nothing is said, as text: 50 km/h, or less where the legal
// class ends before or hardly above it, for a speed that is never reached has no time. A tenth
// below the class's limit, in steps of 5 km/h. Common practice, no source.
std::string usual_pull_away(const Requirement& requirement) {
  constexpr double kStep = 5.0;
  const auto& vehicle_class = requirement.must.vehicle_class;
  double speed = kUsualPullAway;
  if (vehicle_class && vehicle_class->top_speed) {
    const double most =
        units::in_unit(*vehicle_class->top_speed, units::Dimension::kSpeed, "km/h") * 0.9;
    speed = std::min(speed, std::max(std::floor(most / kStep), 1.0) * kStep);
  }
  return parts::number_text(speed) + " km/h";
}

// The one bound of a demand such as `top_speed: {min: 70 km/h}`.
std::optional<double> read_bound(Reader& must, std::string_view key, std::string_view bound,
                                 const parts::QuantityRule& limits) {
  const std::string example =
      "{" + std::string(bound) + ": " + std::string(units::example_of(limits.dimension)) + "}";
  auto map = must.optional_map(key, "`" + std::string(key) + "`", example);
  if (!map) return {};
  const auto value = map->quantity(bound, limits);
  map->finish();
  return value;
}

void read_pull_away(Reader& must, Requirement& requirement) {
  const std::string usual = usual_pull_away(requirement);
  requirement.pull_away_to = units::parse(usual, units::Dimension::kSpeed).value().value;
  auto map = must.optional_map("pull_away", "`pull_away`", "{to: 50 km/h, max: 8 s}");
  if (!map) {
    if (!must.has("pull_away")) must.record_default("pull_away.to", usual, kCommonPractice);
    return;
  }
  if (map->has("to")) {
    requirement.pull_away_to = map->quantity("to", kSpeed).value_or(requirement.pull_away_to);
  } else {
    map->take("to");
    map->record_default("to", usual, kCommonPractice);
  }
  requirement.must.pull_away_time = map->optional_quantity("max", rule::kAcceleration);
  if (map->is_map() && !map->has("to") && !map->has("max")) {
    must.error("pull_away", "`pull_away` demands nothing", "write {to: 50 km/h, max: 8 s}");
  }
  map->finish();
}

std::vector<AtSpeed> read_at_speeds(Reader& must, std::string_view key, std::string_view bound,
                                    const parts::QuantityRule& limits, std::string_view example) {
  std::vector<AtSpeed> result;
  const auto* items = must.optional_list(key, example);
  if (items == nullptr) return result;
  for (const document::Node& item : *items) {
    Reader entry(item, item.mark, must.path() + "." + std::string(key),
                 "an entry of `" + std::string(key) + "`", must.findings());
    const auto speed = entry.quantity("speed", kSpeed);
    const auto limit = entry.quantity(bound, limits);
    entry.finish();
    if (speed && limit) result.push_back({*speed, *limit});
  }
  return result;
}

std::vector<Climb> read_climbs(Reader& must) {
  std::vector<Climb> climbs;
  const auto* items = must.optional_list("climbs", "[{grade: 12 %, speed: 30 km/h, for: 3 min}]");
  if (items == nullptr) return climbs;
  for (const document::Node& item : *items) {
    Reader climb(item, item.mark, "must.climbs", "an entry of `climbs`", must.findings());
    const auto grade = climb.quantity("grade", kGrade);
    const auto speed = climb.quantity("speed", kSpeed);
    const auto duration = climb.quantity("for", kDuration);
    climb.finish();
    if (grade && speed && duration) climbs.push_back({*grade, *speed, *duration});
  }
  return climbs;
}

std::optional<Money> read_price(Reader& must) {
  auto map = must.optional_map("price", "`price`", "{max: 3500}");
  if (!map) return {};
  const auto price = map->money("max", "3500");
  map->finish();
  return price;
}

bool demands_anything(Reader& must) {
  for (const auto* key : {"top_speed", "sustained_speed", "range", "cruise_range", "climbs",
                          "hill_start", "battery_current", "cruise_current", "price", "mass",
                          "charge_time", "keeps_up", "vehicle_class"}) {
    if (must.has(key)) return true;
  }
  const document::Node* pull_away = must.take("pull_away");
  return pull_away != nullptr &&
         (pull_away->kind != document::NodeKind::kMap || pull_away->find("max") != nullptr);
}

}  // namespace

void read_must(Reader& root, Requirement& requirement) {
  auto must = root.map("must", "`must`", "{top_speed: {min: 70 km/h}}");
  if (!must) return;
  Demands& demands = requirement.must;
  demands.top_speed = read_bound(*must, "top_speed", "min", kSpeed);
  demands.sustained_speed = read_bound(*must, "sustained_speed", "min", kSpeed);
  demands.range = read_bound(*must, "range", "min", rule::kRange);
  demands.cruise_range =
      read_at_speeds(*must, "cruise_range", "min", rule::kRange, "[{speed: 60 km/h, min: 30 km}]");
  demands.climbs = read_climbs(*must);
  demands.hill_start_grade = read_bound(*must, "hill_start", "grade", rule::kHillStart);
  demands.battery_current = read_bound(*must, "battery_current", "max", rule::kCurrent);
  demands.cruise_current = read_at_speeds(*must, "cruise_current", "max", rule::kCurrent,
                                          "[{speed: 40 km/h, max: 40 A}]");
  demands.price = read_price(*must);
  demands.mass = read_bound(*must, "mass", "max", rule::kMass);
  demands.charge_time = read_bound(*must, "charge_time", "max", rule::kChargeTime);
  demands.keeps_up = read_bound(*must, "keeps_up", "min", rule::kKeepsUp);
  read_vehicle_class(*must, demands);
  read_pull_away(*must, requirement);  // reads the class
  if (must->is_map() && !demands_anything(*must)) {
    root.findings().diagnostics.error(must->mark(), "`must` demands nothing",
                                      "state at least one demand, such as `top_speed: {min: 70 "
                                      "km/h}`");
  }
  must->finish();
}

}  // namespace sprocketry::spec
