#include "search/best_case.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <variant>

#include "search/setup.hpp"

namespace sprocketry::search {
namespace {

// A bound stands back from what differs in the last digits: sums in another order, roots found to
// rounding, the pull-away's quadrature (1e-8).
constexpr double kClose = 1e-9;
constexpr double kQuadrature = 1e-7;

model::Controller as_good_as(const model::Controller& a, const model::Controller& b) {
  model::Controller c = a;
  c.min_voltage = std::min(a.min_voltage, b.min_voltage);
  c.max_voltage = std::max(a.max_voltage, b.max_voltage);
  c.battery_current = std::max(a.battery_current, b.battery_current);
  c.motor_current = std::max(a.motor_current, b.motor_current);
  c.motor_continuous = std::max(a.motor_continuous, b.motor_continuous);
  c.peak_duration = std::max(a.peak_duration, b.peak_duration);
  c.efficiency = std::max(a.efficiency, b.efficiency);
  return c;
}

model::Controller as_weak_as(const model::Controller& a, const model::Controller& b) {
  model::Controller c = a;
  c.min_voltage = std::max(a.min_voltage, b.min_voltage);
  c.battery_current = std::min(a.battery_current, b.battery_current);
  c.motor_current = std::min(a.motor_current, b.motor_current);
  c.efficiency = std::min(a.efficiency, b.efficiency);
  return c;
}

double least_or(double value, double otherwise) { return std::isnan(value) ? otherwise : value; }

}  // namespace

void set_level_range(const Setup& setup, const PreparedLevel& level, LevelRange& range) {
  range.best = level.level;
  range.parts = level.parts;
  range.weakest = model::weakest_limits(setup.questions, level.parts.motor->model,
                                        level.parts.controller->model, level.parts.pack->model);
  range.least_price = level.price;
  range.least_mass = range.most_mass =
      bike_mass(setup, level.parts, 0.0, 0.0, 0.0, 0.0, level.extras.mass);
}

void set_level_range(const Setup& setup, const Space& space, std::size_t motor,
                     const std::vector<std::uint32_t>& controllers, std::size_t pack,
                     LevelRange& range) {
  const ControllerOption& first = space.controllers[controllers.front()];
  range.best_controller = range.weakest_controller = first.part->model;
  Money price = first.price;
  double least = first.part->mass;
  double most = least;
  for (const std::uint32_t c : controllers) {
    const ControllerOption& option = space.controllers[c];
    range.best_controller = as_good_as(range.best_controller, option.part->model);
    range.weakest_controller = as_weak_as(range.weakest_controller, option.part->model);
    price = std::min(price, option.price);
    least = std::min(least, option.part->mass);
    most = std::max(most, option.part->mass);
  }
  range.parts = {};
  range.parts.motor = space.motors[motor].part;
  range.parts.controller = first.part;
  range.parts.pack = &space.packs[pack].part;
  const model::Motor& m = range.parts.motor->model;
  const model::Pack& p = range.parts.pack->model;
  range.best = model::make_level(setup.questions, m, range.best_controller, p);
  range.weakest = model::weakest_limits(setup.questions, m, range.weakest_controller, p);
  range.least_price = space.motors[motor].price + space.packs[pack].price + price;
  // Extras differ by controller: from none to all of them.
  double extras = 0;
  for (const ExtraOption& extra : space.extras) extras += extra.part->mass;
  const double base = bike_mass(setup, range.parts, 0.0, 0.0, 0.0, 0.0, 0.0) - first.part->mass;
  range.least_mass = base + least;
  range.most_mass = base + most + extras;
}

BestCase::BestCase(const Setup& setup) : setup_(&setup) {
  metrics_.performance = model::make_performance(setup.questions);
  metrics_.listed_cruises = setup.listed_cruises;
  for (const auto* stage : {&setup.heat, &setup.demand}) {
    std::ranges::copy_if(*stage, std::back_inserter(provable_),
                         [](const rules::Check& check) { return check.rule->best_case; });
  }
}

void BestCase::set(const LevelRange& range, const DriveNode& node, const Chargers& chargers) {
  range_.best = &range.best;
  range_.weakest = range.weakest;
  range_.least_ratio = node.least_ratio;
  range_.most_ratio = node.most_ratio;
  range_.most_lever = node.most_lever;
  const double least = range.least_mass + node.least_mass + chargers.least_carried;
  const double most = range.most_mass + node.most_mass + chargers.most_carried;
  const model::Motor& motor = range.parts.motor->model;
  range_.light = make_rolling(*setup_, motor, least * (1.0 - kClose));
  range_.heavy = make_rolling(*setup_, motor, most * (1.0 + kClose));
  // A regulation's load jumps from row to row of mass: the least of all rows between.
  if (std::holds_alternative<model::RegulationLoad>(setup_->requirement->bike.road)) {
    constexpr double kRow = 10.0;  // kg
    const int rows = static_cast<int>(std::ceil((most - least) / kRow));
    for (int i = 0; i <= rows; ++i) {
      const double mass = least + kRow * i;
      const model::RoadLoad row = make_rolling(*setup_, motor, std::min(mass, most)).load;
      for (model::Rolling* rolling : {&range_.light, &range_.heavy}) {
        rolling->load.rolling_resistance =
            std::min(rolling->load.rolling_resistance, row.rolling_resistance);
        rolling->load.drag_area = std::min(rolling->load.drag_area, row.drag_area);
      }
    }
  }
  build_ = model::best_build(range_);
  parts_ = range.parts;
  metrics_.mass = least * (1.0 - kClose);
  metrics_.price = range.least_price + node.least_price + chargers.least_price;
  const model::Pack& pack = range.parts.pack->model;
  metrics_.charge_time = chargers.none ? model::kNone
                                       : (pack.cell.usable_from - pack.cell.usable_to) *
                                             pack.capacity / chargers.most_current;
  metrics_.performance.battery_current_peak = 0;
  present_ = 0;
}

void BestCase::ensure(unsigned wanted) {
  namespace figures = spec::figures;
  const model::Questions& q = setup_->questions;
  model::Performance& p = metrics_.performance;
  if (wanted & figures::kRange) wanted |= figures::kRide;
  if (wanted & figures::kCruiseRange) wanted |= figures::kCruise;
  const unsigned missing = wanted & ~present_;
  present_ |= missing;
  if (missing & figures::kTopSpeed) {
    model::evaluate_top_speed(build_, p);
    p.top_speed *= 1.0 + kClose;
  }
  if (missing & figures::kSustained) {
    model::evaluate_sustained(build_, p);
    p.sustained_speed *= 1.0 + kClose;
  }
  if (missing & figures::kPullAway) {
    model::evaluate_pull_away(q, build_, p);
    p.pull_away *= 1.0 - kQuadrature;
  }
  if (missing & figures::kStartGrade) {
    model::evaluate_start_grade(build_, p);
    // Unlimited, or a descent (where the lightest is not the best).
    p.start_grade = least_or(p.start_grade, std::numeric_limits<double>::infinity());
    p.start_grade = std::max(0.0, p.start_grade) * (1.0 + kClose);
  }
  if (missing & figures::kRide) {
    model::bound_ride(q, range_, work_, p);
    p.consumption *= 1.0 - kQuadrature;
    p.winding_ride *= 1.0 - kClose;
    p.ride_motor_rms *= 1.0 - kClose;
    p.ride_pack_mean *= 1.0 - kClose;
    for (model::ClimbResult& climb : p.climbs) {
      climb.winding *= 1.0 - kClose;
      climb.force_margin += kClose * std::abs(climb.force_margin) + kClose;
    }
  }
  if (missing & figures::kCruise) {
    model::bound_cruise(q, range_, work_, p);
    for (model::CruiseResult& cruise : p.cruise) cruise.battery_current *= 1.0 - kClose;
  }
}

std::optional<std::size_t> BestCase::broken() {
  const rules::ChainRun no_run;
  const rules::Context context{*setup_->requirement, parts_, no_run, metrics_};
  for (const rules::Check& check : provable_) {
    ensure(check.rule->reads);
    const rules::Finding finding = check.rule->check(context, check.item);
    if (!finding.unchecked() && !finding.holds()) return check.index;
  }
  ensure(setup_->objective_figures);
  for (std::size_t i = 0; i < setup_->objectives.size(); ++i) {
    const spec::MetricInfo& info = *setup_->objectives[i];
    const double value = info.value(metrics_);
    if (std::isnan(value)) return setup_->objective_exists.index;
    values_[i] = info.better == spec::Better::kLower ? value : -value;
  }
  return std::nullopt;
}

const BestCase::Values& BestCase::values() { return values_; }

BestCase::Values BestCase::values_at(Money price) {
  const Money before = metrics_.price;
  metrics_.price = price;
  Values values = values_;
  for (std::size_t i = 0; i < setup_->objectives.size(); ++i) {
    const spec::MetricInfo& info = *setup_->objectives[i];
    if (info.reads != 0) continue;
    const double value = info.value(metrics_);
    values[i] = info.better == spec::Better::kLower ? value : -value;
  }
  metrics_.price = before;
  return values;
}

}  // namespace sprocketry::search
