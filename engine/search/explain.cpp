#include "search/explain.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "search/hitting_set.hpp"
#include "search/judge.hpp"
#include "units/units.hpp"

namespace sprocketry::search {
namespace {

std::vector<RuleCount> rule_counts(const Question& q, const Tally& tally) {
  std::vector<RuleCount> counts;
  for (const rules::Check& check : q.checks) {
    if (!counts.empty() && counts.back().rule == check.rule) continue;
    counts.push_back({check.rule, tally.rejects[check.index], tally.alone[check.index]});
  }
  return counts;
}

// The demand's row of a design, with the figures that `evaluate` prints.
rules::Row row_of(const Question& q, const rules::Check& demand, const Combination& design) {
  const Design whole = evaluate_design(q.setup, q.space, design);
  return make_row(demand,
                  {*q.setup.requirement, whole.parts, whole.chain, whole.metrics, whole.torque});
}

std::vector<Reach> reach(const Question& q, const Tally& tally) {
  std::vector<Reach> result;
  for (std::size_t d = 0; d < q.demands.size(); ++d) {
    Reach& next = result.emplace_back();
    next.demand = q.demands[d];
    for (std::size_t v = 0; v < q.voltages.size(); ++v) {
      const std::optional<Nearest>& best = tally.reach[d][v];
      if (!best) continue;
      next.voltages.push_back({q.voltages[v], row_of(q, q.demands[d], best->design), best->design});
    }
  }
  return result;
}

// The steepest grade (tan) that a design has the force for at the speed of the climb that a demand
// asks for; nothing for other demands. Wind and drag do not depend on the grade, the rest of the
// resistance is what grade_from_force() solves.
std::optional<double> climbed_grade(const Question& q, const rules::Check& demand,
                                    const Combination& design) {
  if (demand.rule->name != "must climbs") return std::nullopt;
  const Design whole = evaluate_design(q.setup, q.space, design);
  const spec::Climb& climb = q.setup.requirement->must.climbs[demand.item];
  const model::Rolling r = make_rolling(q.setup, whole.parts.motor->model, whole.metrics.mass);
  const double needed = model::road_force(r.load, r.air, r.mass, climb.grade, climb.speed);
  const double margin = whole.metrics.performance.climbs[demand.item].force_margin;
  const double other =
      model::road_force({0.0, r.load.linear, r.load.drag_area}, r.air, r.mass, 0.0, climb.speed);
  const double grade =
      model::grade_from_force(r.load.rolling_resistance, r.mass, needed + margin, other);
  return std::isfinite(grade) ? std::optional(grade) : std::nullopt;
}

std::vector<Relaxation> relaxations(const Question& q, const Tally& tally) {
  std::vector<Relaxation> result;
  for (std::size_t d = 0; d < q.demands.size(); ++d) {
    Relaxation& next = result.emplace_back();
    next.demand = q.demands[d];
    if (!tally.nearest[d]) continue;
    next.design = tally.nearest[d]->design;
    next.row = row_of(q, q.demands[d], *next.design);
    next.grade = climbed_grade(q, q.demands[d], *next.design);
  }
  return result;
}

// A set of demands cannot hold together when each design that passes the rules misses one of them:
// when it has a bit in common with every mask of missed demands. So the smallest such set is a
// smallest hitting set. Leaving a demand out of it leaves some mask unhit: that mask's design.
Conflict conflict(const Question& q, const Tally& tally) {
  std::vector<std::uint64_t> masks;
  for (const auto& [mask, design] : tally.missed) masks.push_back(mask);
  const std::uint64_t set = smallest_hitting_set(masks);
  Conflict result;
  for (std::size_t d = 0; d < q.demands.size(); ++d) {
    const std::uint64_t bit = std::uint64_t{1} << d;
    if ((set & bit) == 0) continue;
    std::optional<Combination> witness;
    for (const auto& [mask, design] : tally.missed) {
      if ((mask & set & ~bit) != 0) continue;
      if (!witness || comes_first(design, *witness)) witness = design;
    }
    result.demands.push_back(q.demands[d]);
    result.without.push_back(witness.value());
  }
  return result;
}

// One unit as this person writes it (1 mph, 1 mi, 1 lb) in the rule's output unit.
double one_unit(const rules::Rule& rule, const spec::DisplayUnits& units) {
  const auto in_output = [&](units::Dimension dimension, const std::string& symbol) {
    return rules::unit_info(rule.unit).factor / units::in_unit(1.0, dimension, symbol);
  };
  switch (rule.unit) {
    case rules::Unit::kSpeed:
      return units.speed == "mph" ? in_output(units::Dimension::kSpeed, units.speed) : 1.0;
    case rules::Unit::kKilometre:
      return units.distance == "mi" ? in_output(units::Dimension::kLength, units.distance) : 1.0;
    case rules::Unit::kKilogram:
      return units.mass == "lb" ? in_output(units::Dimension::kMass, units.mass) : 1.0;
    default:
      return 1.0;
  }
}

// Turns steps in the search's terms into what is printed.
struct Reading {
  const Question& q;
  const rules::Check& demand;
  const spec::MetricInfo& aim;
  rules::Sense sense;
  const rules::UnitInfo& unit;

  // From SI, negated where more is better.
  [[nodiscard]] double demanded(double nearness) const {
    const double value = sense == rules::Sense::kAtLeast ? -nearness : nearness;
    return value * unit.factor + unit.offset;
  }
  [[nodiscard]] double reached(double value) const {
    return aim.better == spec::Better::kLower ? value : -value;
  }
  [[nodiscard]] Gain gain(const Tradeoff& step) const {
    return {demanded(step.demand), reached(step.aim), step.design,
            climbed_grade(q, demand, step.design)};
  }
};

rules::Finding finding_of(const Question& q, const rules::Check& demand,
                          const Combination& design) {
  const Design whole = evaluate_design(q.setup, q.space, design);
  return demand.rule->check(
      {*q.setup.requirement, whole.parts, whole.chain, whole.metrics, whole.torque}, demand.item);
}

// How one demand holds back the best of an aim, if it does.
std::optional<Binding> binding(const Question& q, const rules::Check& demand, const Gains& gains,
                               const spec::MetricInfo& aim, double best) {
  const auto first = gains.first_below(best);
  if (!first) return std::nullopt;
  const rules::Finding finding = finding_of(q, demand, first->design);
  const Reading reading{q, demand, aim, finding.sense, rules::unit_info(demand.rule->unit)};
  Binding b;
  b.demand = demand;
  b.limit = finding.limit * reading.unit.factor + reading.unit.offset;
  b.unit = one_unit(*demand.rule, q.setup.requirement->units);
  b.first = reading.gain(*first);
  b.dropped = reading.gain(*gains.last());
  const double limit = finding.sense == rules::Sense::kAtLeast ? -finding.limit : finding.limit;
  const auto once = gains.within(limit + b.unit / reading.unit.factor);
  if (once && once->aim < best) b.once = reading.gain(*once);
  return b;
}

std::vector<End> ends(const Question& q, const Tally& tally) {
  std::vector<End> result;
  for (std::size_t a = 0; a < q.setup.objectives.size(); ++a) {
    const spec::MetricInfo& aim = *q.setup.objectives[a];
    const Nearest& best = *tally.ends[a];
    End& end = result.emplace_back();
    end.aim = &aim;
    end.value = aim.better == spec::Better::kLower ? best.value : -best.value;
    end.design = best.design;
    for (std::size_t d = 0; d < q.demands.size(); ++d) {
      const auto held = binding(q, q.demands[d], tally.gains[d][a], aim, best.value);
      if (held) end.binding.push_back(*held);
    }
  }
  return result;
}

}  // namespace

std::vector<rules::Check> demands_to_relax(const Setup& setup) {
  std::vector<rules::Check> demands;
  std::ranges::copy_if(setup.demand, std::back_inserter(demands), gives_way);
  return demands;
}

std::optional<Explanation> explain(const Setup& setup, const Space& space,
                                   const Compatible& compatible, int threads, Watch* watch) {
  const Question q = make_question(setup, space, compatible);
  const std::optional<Tally> tally = judge_all(q, threads, watch);
  if (!tally) return std::nullopt;
  Explanation e;
  e.combinations = space.combinations();
  e.unfit = compatible.rejected;
  e.compatible = compatible.combinations();
  e.fit_rules = fit_counts(setup, space, e.compatible);
  e.feasible = tally->feasible;
  e.rules = rule_counts(q, *tally);
  e.reach = reach(q, *tally);
  if (e.feasible > 0) {
    e.ends = ends(q, *tally);
    return e;
  }
  e.relaxations = relaxations(q, *tally);
  e.conflict = conflict(q, *tally);
  return e;
}

}  // namespace sprocketry::search
