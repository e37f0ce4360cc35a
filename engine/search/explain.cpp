#include "search/explain.hpp"

#include <tbb/enumerable_thread_specific.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <tuple>
#include <unordered_map>

#include "search/evaluator.hpp"
#include "search/hitting_set.hpp"
#include "search/worker.hpp"
#include "search/workers.hpp"

namespace sprocketry::search {
namespace {

bool can_relax(const rules::Check& check) {
  return check.rule->name.starts_with("must ") &&
         (check.rule->reads & spec::figures::kPeakCurrent) == 0;
}

// Every check that is not decided by pairs, in published order.
std::vector<rules::Check> judged_checks(const Setup& setup) {
  std::vector<rules::Check> checks;
  for (const auto* stage : {&setup.strength, &setup.speed, &setup.heat, &setup.demand}) {
    checks.insert(checks.end(), stage->begin(), stage->end());
  }
  checks.push_back(setup.objective_exists);
  return checks;
}

auto order(const Combination& c) {
  return std::tuple(c.motor, c.controller, c.pack, c.charger, c.chain, c.front, c.rear);
}

// The best that one demand alone stands in the way of. The value itself is compared, not its
// margin: a difference may round two values to one.
struct Nearest {
  double value = 0;  // SI, negated where more is better
  Combination design;
};

struct Tally {
  Count feasible = 0;
  std::vector<Count> rejects, alone;  // per rule of the table
  // Of the designs that pass all but demands: which demands they miss, and the first such design.
  std::unordered_map<std::uint64_t, Combination> missed;
  std::vector<std::optional<Nearest>> nearest;  // per demand

  explicit Tally(std::size_t demands)
      : rejects(rules::rule_table().size()), alone(rejects.size()), nearest(demands) {}
};

void note_missed(Tally& tally, std::uint64_t mask, const Combination& design) {
  const auto [place, fresh] = tally.missed.try_emplace(mask, design);
  if (!fresh && order(design) < order(place->second)) place->second = design;
}

void note_nearest(std::optional<Nearest>& best, const Nearest& next) {
  const auto rank = [](const Nearest& n) { return std::tuple(n.value, order(n.design)); };
  if (!best || rank(next) < rank(*best)) best = next;
}

// Which thread saw what does not matter: sums and least elements are the same in any order.
void add(Tally& sum, const Tally& part) {
  sum.feasible += part.feasible;
  for (std::size_t i = 0; i < sum.rejects.size(); ++i) {
    sum.rejects[i] += part.rejects[i];
    sum.alone[i] += part.alone[i];
  }
  for (const auto& [mask, design] : part.missed) note_missed(sum, mask, design);
  for (std::size_t d = 0; d < sum.nearest.size(); ++d) {
    if (part.nearest[d]) note_nearest(sum.nearest[d], *part.nearest[d]);
  }
}

struct Question {
  const Setup& setup;
  const Space& space;
  const Compatible& compatible;
  std::vector<rules::Check> checks;
  unsigned figures = 0;  // that the checks read
  std::size_t demands = 0;
};

Question make_question(const Setup& setup, const Space& space, const Compatible& compatible) {
  Question q{setup, space, compatible, judged_checks(setup), setup.objective_figures, 0};
  for (const rules::Check& check : q.checks) {
    if (check.rule->stage != rules::Stage::kStrength) q.figures |= check.rule->reads;
    q.demands += can_relax(check) ? 1U : 0U;
  }
  return q;
}

void judge(const Question& q, const rules::Context& context, const Combination& design,
           Tally& tally) {
  std::size_t failed_rules = 0;
  std::size_t last_failed = kNoRule;
  bool other_fails = false;
  std::uint64_t missed = 0;
  double value = 0;  // of the demand that was missed last, as in Nearest
  std::size_t demand = 0;
  std::size_t missed_demand = 0;
  for (const rules::Check& check : q.checks) {
    const bool relaxes = can_relax(check);
    const std::size_t number = relaxes ? demand++ : 0;
    const rules::Finding finding = check.rule->check(context, check.item);
    if (finding.unchecked() || finding.holds()) continue;
    // A rule's items follow each other; it counts once.
    if (check.index != last_failed) {
      ++failed_rules;
      ++tally.rejects[check.index];
      last_failed = check.index;
    }
    if (relaxes) {
      missed |= std::uint64_t{1} << number;
      value = finding.sense == rules::Sense::kAtLeast ? -finding.value : finding.value;
      missed_demand = number;
    } else {
      other_fails = true;
    }
  }
  if (failed_rules == 0) ++tally.feasible;
  if (failed_rules == 1) ++tally.alone[last_failed];
  if (other_fails) return;
  note_missed(tally, missed, design);
  // A value that does not exist meets no demand, however small.
  const bool one_only = missed != 0 && (missed & (missed - 1)) == 0;
  if (one_only && std::isfinite(value)) {
    note_nearest(tally.nearest[missed_demand], {value, design});
  }
}

void judge_level(const Question& q, const LevelOption& level, Evaluator& evaluator, Tally& tally) {
  const PreparedLevel prepared =
      prepare_level(q.setup, q.space, level.motor, level.controller, level.pack);
  const auto groups = group_chargers(q.space, q.space.packs[level.pack].part,
                                     q.compatible.grid.chargers(level.pack));
  for (const std::uint32_t d : q.compatible.motor_drives[level.motor]) {
    const DriveOption& drive = q.compatible.drives[d];
    for (const ChargerGroup& group : groups) {
      evaluator.take(prepared, drive, group.carried_mass);
      for (const std::uint32_t h : group.chargers) {
        const spec::Metrics& metrics =
            evaluator.with_charger(prepared, drive, q.space.chargers[h], q.figures);
        const Combination design{level.motor, level.controller, level.pack, h,
                                 drive.chain, drive.front,      drive.rear};
        const rules::Selection parts =
            selection(q.space, design.motor, design.controller, design.pack, design.charger,
                      design.chain, design.front, design.rear);
        judge(q, {*q.setup.requirement, parts, drive.run, metrics, prepared.torque}, design, tally);
      }
    }
  }
}

Tally judge_all(const Question& q, int threads) {
  const std::vector<LevelOption> levels = list_levels(q.compatible, q.space);
  struct Lane {
    Evaluator evaluator;
    Tally tally;
  };
  tbb::enumerable_thread_specific<Lane> lanes([&] {
    return Lane{Evaluator(q.setup, q.space), Tally(q.demands)};
  });
  Workers threads_at_work(threads);
  threads_at_work.run([&] {
    tbb::parallel_for(std::size_t{0}, levels.size(), [&](std::size_t l) {
      Lane& lane = lanes.local();
      judge_level(q, levels[l], lane.evaluator, lane.tally);
    });
  });
  Tally sum(q.demands);
  for (const Lane& lane : lanes) add(sum, lane.tally);
  return sum;
}

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

std::vector<Relaxation> relaxations(const Question& q, const Tally& tally) {
  std::vector<Relaxation> result;
  const std::vector<rules::Check> demands = demands_to_relax(q.setup);
  for (std::size_t d = 0; d < demands.size(); ++d) {
    Relaxation& next = result.emplace_back();
    next.demand = demands[d];
    if (!tally.nearest[d]) continue;
    next.design = tally.nearest[d]->design;
    next.row = row_of(q, demands[d], *next.design);
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
  const std::vector<rules::Check> demands = demands_to_relax(q.setup);
  Conflict result;
  for (std::size_t d = 0; d < demands.size(); ++d) {
    const std::uint64_t bit = std::uint64_t{1} << d;
    if ((set & bit) == 0) continue;
    const Combination* witness = nullptr;
    for (const auto& [mask, design] : tally.missed) {
      if ((mask & set & ~bit) != 0) continue;
      if (witness == nullptr || order(design) < order(*witness)) witness = &design;
    }
    result.demands.push_back(demands[d]);
    result.without.push_back(*witness);
  }
  return result;
}

}  // namespace

std::vector<rules::Check> demands_to_relax(const Setup& setup) {
  std::vector<rules::Check> demands;
  std::ranges::copy_if(setup.demand, std::back_inserter(demands), can_relax);
  return demands;
}

Explanation explain(const Setup& setup, const Space& space, const Compatible& compatible,
                    int threads) {
  const Question q = make_question(setup, space, compatible);
  const Tally tally = judge_all(q, threads);
  Explanation e;
  e.combinations = space.combinations();
  e.unfit = compatible.rejected;
  e.compatible = compatible.combinations();
  e.feasible = tally.feasible;
  e.rules = rule_counts(q, tally);
  if (e.feasible > 0) return e;
  e.relaxations = relaxations(q, tally);
  e.conflict = conflict(q, tally);
  return e;
}

}  // namespace sprocketry::search
