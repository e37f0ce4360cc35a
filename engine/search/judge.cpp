#include "search/judge.hpp"

#include <tbb/enumerable_thread_specific.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>

#include "search/evaluator.hpp"
#include "search/worker.hpp"
#include "search/workers.hpp"

namespace sprocketry::search {
namespace {

void note_missed(Tally& tally, std::uint64_t mask, const Combination& design) {
  const auto [place, fresh] = tally.missed.try_emplace(mask, design);
  if (!fresh && comes_first(design, place->second)) place->second = design;
}

void add(std::vector<std::optional<Nearest>>& sum,
         const std::vector<std::optional<Nearest>>& part) {
  for (std::size_t i = 0; i < sum.size(); ++i) {
    if (part[i]) note_nearest(sum[i], *part[i]);
  }
}

// Which thread saw what does not matter: sums and least elements are the same in any order.
void add(Tally& sum, const Tally& part) {
  sum.feasible += part.feasible;
  for (std::size_t i = 0; i < sum.rejects.size(); ++i) {
    sum.rejects[i] += part.rejects[i];
    sum.alone[i] += part.alone[i];
  }
  for (const auto& [mask, design] : part.missed) note_missed(sum, mask, design);
  add(sum.nearest, part.nearest);
  add(sum.ends, part.ends);
  for (std::size_t d = 0; d < sum.reach.size(); ++d) {
    add(sum.reach[d], part.reach[d]);
    for (std::size_t a = 0; a < sum.gains[d].size(); ++a) sum.gains[d][a].add(part.gains[d][a]);
  }
}

// One combination judged; `values` is the room of a thread, and stands only where no other rule
// than demands fails.
struct Verdict {
  std::size_t failed_rules = 0;
  std::size_t last_failed = kNoRule;
  bool other_fails = false;     // something that is no demand to relax
  std::uint64_t missed = 0;     // demands, as in Tally::missed
  std::size_t last_missed = 0;  // a demand's number
  std::vector<double> values;   // per demand as nearness(); NaN when unchecked
};

struct Lane {
  Evaluator evaluator;
  Tally tally;
  Verdict verdict;
};

void note_failure(const rules::Check& check, std::optional<std::size_t> demand, Lane& lane) {
  Verdict& v = lane.verdict;
  // A rule's items follow each other; it counts once.
  if (check.index != v.last_failed) {
    ++v.failed_rules;
    ++lane.tally.rejects[check.index];
    v.last_failed = check.index;
  }
  if (demand) {
    v.missed |= std::uint64_t{1} << *demand;
    v.last_missed = *demand;
  } else {
    v.other_fails = true;
  }
}

bool reads_range(const Question& q, const rules::Check& check) {
  const bool exists = check.rule == q.setup.objective_exists.rule;
  const unsigned figures = exists ? q.setup.objective_figures : check.rule->reads;
  return check.rule->stage != rules::Stage::kStrength && (figures & spec::figures::kRange) != 0;
}

// Judges by the checks that read the range, or by all others. Where a design fails already for
// more than demands, only its failures count, so bounds of the range serve.
void judge_part(const Question& q, const rules::Context& context, bool of_range, Lane& lane) {
  std::size_t demands = 0;
  for (const rules::Check& check : q.checks) {
    std::optional<std::size_t> demand;
    if (gives_way(check)) demand = demands++;
    if (reads_range(q, check) != of_range) continue;
    if (of_range && lane.verdict.other_fails) {
      if (const auto holds = lane.evaluator.settled_by_range_bounds(check, context)) {
        if (!*holds) note_failure(check, demand, lane);
        continue;
      }
    }
    if (of_range) lane.evaluator.ensure(q.figures);
    const rules::Finding finding = check.rule->check(context, check.item);
    if (demand) {
      lane.verdict.values[*demand] = finding.unchecked() ? model::kNone : nearness(finding);
    }
    if (!finding.unchecked() && !finding.holds()) note_failure(check, demand, lane);
  }
}

void judge(const Question& q, const rules::Context& context, Lane& lane) {
  Verdict& v = lane.verdict;
  v.failed_rules = 0;
  v.last_failed = kNoRule;
  v.other_fails = false;
  v.missed = 0;
  judge_part(q, context, false, lane);
  judge_part(q, context, true, lane);
}

// A value that does not exist meets no demand, however small.
void note(const Question& q, const spec::Metrics& metrics, const Combination& design,
          const Verdict& v, Tally& tally) {
  if (v.failed_rules == 0) ++tally.feasible;
  if (v.failed_rules == 1) ++tally.alone[v.last_failed];
  if (v.other_fails) return;
  note_missed(tally, v.missed, design);
  const std::size_t voltage = q.voltage_of_pack[design.pack];
  for (std::size_t d = 0; d < q.demands.size(); ++d) {
    if (std::isfinite(v.values[d])) note_nearest(tally.reach[d][voltage], {v.values[d], design});
  }
  const auto& aims = q.setup.objectives;
  if (v.missed == 0) {
    for (std::size_t a = 0; a < aims.size(); ++a) {
      note_nearest(tally.ends[a], {spec::cost_of(*aims[a], metrics), design});
    }
    return;
  }
  const double value = v.values[v.last_missed];
  const bool one_only = (v.missed & (v.missed - 1)) == 0;
  if (!one_only || !std::isfinite(value)) return;
  note_nearest(tally.nearest[v.last_missed], {value, design});
  for (std::size_t a = 0; a < aims.size(); ++a) {
    tally.gains[v.last_missed][a].add({value, spec::cost_of(*aims[a], metrics), design});
  }
}

void judge_drive(const Question& q, const LevelOption& level, const PreparedLevel& prepared,
                 const std::vector<ChargerGroup>& groups, const DriveOption& drive, Lane& lane) {
  for (const ChargerGroup& group : groups) {
    lane.evaluator.take(prepared, drive, group.carried_mass);
    for (const std::uint32_t h : group.chargers) {
      const unsigned figures = q.figures & ~spec::figures::kRange;
      const spec::Metrics& metrics =
          lane.evaluator.with_charger(prepared, drive, q.space.chargers[h], figures);
      const Combination design{level.motor, level.controller, level.pack, h,
                               drive.chain, drive.front,      drive.rear};
      const rules::Selection parts = selection(q.space, design);
      const rules::Context context{*q.setup.requirement, parts, drive.run, metrics,
                                   prepared.torque};
      judge(q, context, lane);
      note(q, metrics, design, lane.verdict, lane.tally);
    }
  }
}

void judge_level(const Question& q, const LevelOption& level, Watch* watch, Lane& lane) {
  const PreparedLevel prepared =
      prepare_level(q.setup, q.space, level.motor, level.controller, level.pack);
  const auto& chargers = q.compatible.grid.chargers(level.pack);
  const auto groups = group_chargers(q.setup, q.space, q.space.packs[level.pack].part, chargers);
  for (const std::uint32_t d : q.compatible.motor_drives[level.motor]) {
    if (stopped(watch)) return;
    judge_drive(q, level, prepared, groups, q.compatible.drives[d], lane);
  }
  if (watch == nullptr) return;
  const std::size_t drives = q.compatible.motor_drives[level.motor].size();
  watch->settled += static_cast<double>(chargers.size() * drives);
}

// Packs of one nominal voltage are one rider's "48 V pack".
void list_voltages(Question& q) {
  for (const PackOption& pack : q.space.packs)
    q.voltages.push_back(pack.part.model.nominal_voltage);
  std::ranges::sort(q.voltages);
  q.voltages.erase(std::unique(q.voltages.begin(), q.voltages.end()), q.voltages.end());
  for (const PackOption& pack : q.space.packs) {
    const auto at = std::ranges::lower_bound(q.voltages, pack.part.model.nominal_voltage);
    q.voltage_of_pack.push_back(static_cast<std::size_t>(at - q.voltages.begin()));
  }
}

}  // namespace

bool gives_way(const rules::Check& check) {
  return check.rule->name.starts_with("must ") &&
         (check.rule->reads & spec::figures::kPeakCurrent) == 0;
}

double nearness(const rules::Finding& finding) {
  return finding.sense == rules::Sense::kAtLeast ? -finding.value : finding.value;
}

void note_nearest(std::optional<Nearest>& best, const Nearest& next) {
  const bool better = !best || next.value < best->value ||
                      (next.value == best->value && comes_first(next.design, best->design));
  if (better) best = next;
}

Question make_question(const Setup& setup, const Space& space, const Compatible& compatible) {
  Question q{setup, space, compatible, {}, {}, setup.objective_figures, {}, {}};
  for (const auto* stage : {&setup.strength, &setup.speed, &setup.heat, &setup.demand}) {
    q.checks.insert(q.checks.end(), stage->begin(), stage->end());
  }
  q.checks.push_back(setup.objective_exists);
  for (const rules::Check& check : q.checks) {
    if (check.rule->stage != rules::Stage::kStrength) q.figures |= check.rule->reads;
    if (gives_way(check)) q.demands.push_back(check);
  }
  list_voltages(q);
  return q;
}

Tally::Tally(const Question& q)
    : rejects(rules::rule_table().size()),
      alone(rejects.size()),
      nearest(q.demands.size()),
      reach(q.demands.size(), std::vector<std::optional<Nearest>>(q.voltages.size())),
      ends(q.setup.objectives.size()),
      gains(q.demands.size(), std::vector<Gains>(q.setup.objectives.size())) {}

std::optional<Tally> judge_all(const Question& q, int threads, Watch* watch) {
  if (watch != nullptr) watch->compatible = static_cast<double>(q.compatible.combinations());
  const std::vector<LevelOption> levels = list_levels(q.compatible, q.space);
  tbb::enumerable_thread_specific<Lane> lanes([&] {
    Lane lane{Evaluator(q.setup, q.space), Tally(q), {}};
    lane.verdict.values.resize(q.demands.size());
    return lane;
  });
  Workers threads_at_work(threads);
  threads_at_work.run([&] {
    tbb::parallel_for(std::size_t{0}, levels.size(), [&](std::size_t l) {
      if (!stopped(watch)) judge_level(q, levels[l], watch, lanes.local());
    });
  });
  if (stopped(watch)) return std::nullopt;
  Tally sum(q);
  for (const Lane& lane : lanes) add(sum, lane.tally);
  return sum;
}

}  // namespace sprocketry::search
