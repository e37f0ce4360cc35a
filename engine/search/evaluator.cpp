#include "search/evaluator.hpp"

#include <algorithm>
#include <cmath>

namespace sprocketry::search {

PreparedLevel prepare_level(const Setup& setup, const Space& space, std::size_t motor,
                            std::size_t controller, std::size_t pack) {
  PreparedLevel p;
  p.parts.motor = space.motors[motor].part;
  p.parts.controller = space.controllers[controller].part;
  p.parts.pack = &space.packs[pack].part;
  p.level = model::make_level(setup.questions, p.parts.motor->model, p.parts.controller->model,
                              p.parts.pack->model);
  model::add_extremes(setup.questions, p.parts.pack->as_new, p.level);
  // Key, hub, chain and law ask what the motor may ever give, not what it gives on the day.
  p.torque =
      model::shaft_torque(p.level.strongest, p.level.fastest, p.level.continuous.motor_current);
  p.extras = extras_cost(space, *p.parts.pack, p.level.side.stated_limit);
  p.price = space.motors[motor].price + space.controllers[controller].price +
            space.packs[pack].price + p.extras.price;
  return p;
}

Evaluator::Evaluator(const Setup& setup, const Space& space) : setup_(&setup), space_(&space) {
  metrics_.performance = model::make_performance(setup.questions);
  metrics_.listed_cruises = setup.listed_cruises;
}

void Evaluator::set_drive(const PreparedLevel& level, const DriveOption& drive) {
  const FrontOption& front = space_->fronts[drive.front];
  const RearOption& rear = space_->rears[drive.rear];
  parts_ = level.parts;
  parts_.chain = space_->chains[drive.chain].part;
  parts_.front = front.family;
  parts_.front_teeth = front.teeth;
  parts_.rear = rear.family;
  parts_.rear_teeth = rear.teeth;
}

void Evaluator::take(const PreparedLevel& level, const DriveOption& drive, double charger_mass) {
  set_drive(level, drive);
  const FrontOption& front = space_->fronts[drive.front];
  const RearOption& rear = space_->rears[drive.rear];
  metrics_.mass = bike_mass(*setup_, parts_, charger_mass, drive.chain_mass, front.mass, rear.mass,
                            level.extras.mass);
  build_ = model::make_build(level.level, drive.gearing,
                             make_rolling(*setup_, parts_.motor->model, metrics_.mass));
  present_ = 0;
  range_bounded_ = false;
}

void Evaluator::ensure(unsigned wanted) {
  namespace figures = spec::figures;
  const model::Questions& q = setup_->questions;
  model::Performance& p = metrics_.performance;
  // What a portion builds on comes first.
  if (wanted & figures::kRange) wanted |= figures::kRide;
  if (wanted & figures::kCruiseRange) wanted |= figures::kCruise;
  if (wanted & figures::kPeakCurrent) wanted |= figures::kTopSpeed;
  const unsigned missing = wanted & ~present_;
  if (missing == 0) return;
  if (missing & figures::kTopSpeed) model::evaluate_top_speed(build_, p);
  if (missing & figures::kTopSpeedFull) model::evaluate_top_speed_full(build_, p);
  if (missing & figures::kRide) model::evaluate_ride(q, build_, ride_work_, p);
  if (missing & figures::kCruise) model::evaluate_cruise(q, build_, cruise_works_, p);
  if (missing & figures::kSustained) model::evaluate_sustained(build_, p);
  if (missing & figures::kPullAway) model::evaluate_pull_away(q, build_, p);
  if (missing & figures::kRange) model::evaluate_range(q, build_, ride_work_, p);
  if (missing & figures::kCruiseRange) model::evaluate_cruise_range(q, build_, cruise_works_, p);
  if (missing & figures::kStartGrade) model::evaluate_start_grade(build_, p);
  if (missing & figures::kPeakCurrent) model::evaluate_peak_current(build_, p);
  if (missing & figures::kRest) model::evaluate_rest(q, build_, p);
  present_ |= missing;
}

void Evaluator::set_charger(const PreparedLevel& level, const DriveOption& drive,
                            const ChargerOption& charger) {
  parts_.charger = charger.part;
  metrics_.price = level.price + drive.price + charger.price;
  metrics_.charge_time = charge_time(*setup_, *parts_.pack, charger.part);
}

const std::optional<model::RangeBounds>& Evaluator::range_bounds() {
  if (!range_bounded_) {
    ensure(spec::figures::kRide);
    range_bounds_ = model::bound_range(setup_->questions, build_, ride_work_);
    range_bounded_ = true;
  }
  return range_bounds_;
}

bool Evaluator::turns_on_range(const rules::Check& check) const {
  if (check.rule->reads == spec::figures::kRange && check.rule->best_case) return true;
  return check.rule == setup_->objective_exists.rule &&
         (setup_->objective_figures & spec::figures::kRange) != 0;
}

std::optional<bool> Evaluator::settled_by_range_bounds(const rules::Check& check,
                                                       const rules::Context& context) {
  if (!turns_on_range(check)) return std::nullopt;
  if ((present_ & spec::figures::kRange) != 0 || !range_bounds()) return std::nullopt;
  double& range = metrics_.performance.range;
  const auto holds_at = [&](double bound) {
    range = bound;
    const rules::Finding finding = check.rule->check(context, check.item);
    range = model::kNone;
    return finding.unchecked() || finding.holds();
  };
  if (holds_at(range_bounds_->least)) return true;
  if (!holds_at(range_bounds_->most)) return false;
  return std::nullopt;
}

std::optional<std::size_t> Evaluator::first_failure(const std::vector<rules::Check>& checks,
                                                    const PreparedLevel& level,
                                                    const DriveOption& drive) {
  const rules::Context context{*setup_->requirement, parts_, drive.run, metrics_, level.torque};
  for (const rules::Check& check : checks) {
    if (const auto holds = settled_by_range_bounds(check, context)) {
      if (!*holds) return check.index;
      continue;
    }
    ensure(check.rule->reads);
    const rules::Finding finding = check.rule->check(context, check.item);
    if (!finding.unchecked() && !finding.holds()) return check.index;
  }
  return std::nullopt;
}

std::optional<std::size_t> Evaluator::strength_fail(const PreparedLevel& level,
                                                    const DriveOption& drive) {
  set_drive(level, drive);
  return first_failure(setup_->strength, level, drive);
}

const spec::Metrics& Evaluator::objectives(const PreparedLevel& level, const DriveOption& drive,
                                           Money charger_price, double charge_time) {
  metrics_.price = level.price + drive.price + charger_price;
  metrics_.charge_time = charge_time;
  ensure(setup_->objective_figures);
  return metrics_;
}

const spec::Metrics* Evaluator::hoped_objectives(const PreparedLevel& level,
                                                 const DriveOption& drive, Money charger_price,
                                                 double charge_time) {
  const unsigned wanted = setup_->objective_figures;
  if ((wanted & spec::figures::kRange) == 0 || !range_bounds()) return nullptr;
  metrics_.price = level.price + drive.price + charger_price;
  metrics_.charge_time = charge_time;
  ensure(wanted & ~spec::figures::kRange);
  metrics_.performance.range = range_bounds_->most;
  return &metrics_;
}

std::optional<std::size_t> Evaluator::riding_fail(const PreparedLevel& level,
                                                  const DriveOption& drive) {
  if (const auto failed = first_failure(setup_->speed, level, drive)) return failed;
  return first_failure(setup_->heat, level, drive);
}

std::optional<std::size_t> Evaluator::demands_fail(const PreparedLevel& level,
                                                   const DriveOption& drive,
                                                   const ChargerOption& charger) {
  set_charger(level, drive, charger);
  if (const auto failed = first_failure(setup_->demand, level, drive)) return failed;
  ensure(setup_->objective_figures);
  const auto missing = [&](const spec::MetricInfo* info) {
    return std::isnan(info->value(metrics_));
  };
  if (!std::ranges::any_of(setup_->objectives, missing)) return std::nullopt;
  return setup_->objective_exists.index;
}

const spec::Metrics& Evaluator::with_charger(const PreparedLevel& level, const DriveOption& drive,
                                             const ChargerOption& charger, unsigned figures) {
  set_charger(level, drive, charger);
  ensure(figures);
  return metrics_;
}

const spec::Metrics& Evaluator::full(const PreparedLevel& level, const DriveOption& drive,
                                     const ChargerOption& charger) {
  take(level, drive, charger.carried_mass);
  ensure(spec::figures::kAll);
  set_charger(level, drive, charger);
  return metrics_;
}

}  // namespace sprocketry::search
