#include "search/worker.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <tuple>

namespace sprocketry::search {
namespace {

Member make_member(const Setup& setup, const spec::Metrics& metrics, const Key& key) {
  Member member;
  member.key = key;
  for (std::size_t i = 0; i < setup.objectives.size(); ++i) {
    // Adding 0 turns -0 into 0, so that equal values are equal bits.
    member.objectives[i] = spec::cost_of(*setup.objectives[i], metrics) + 0.0;
  }
  return member;
}

bool has_all(const Setup& setup, const Member& member) {
  const auto first = member.objectives.begin();
  return std::none_of(first, first + static_cast<std::ptrdiff_t>(setup.objectives.size()),
                      [](double value) { return std::isnan(value); });
}

}  // namespace

std::vector<ChargerGroup> group_chargers(const Space& space, const parts::PackPart& pack,
                                         const std::vector<std::uint32_t>& chargers) {
  std::vector<ChargerGroup> groups;
  for (const std::uint32_t h : chargers) {
    const double mass = space.chargers[h].carried_mass;
    const auto same = std::ranges::find(groups, mass, &ChargerGroup::carried_mass);
    if (same != groups.end()) {
      same->chargers.push_back(h);
    } else {
      groups.push_back({mass, {h}, 0, 0});
    }
  }
  for (ChargerGroup& group : groups) {
    std::ranges::sort(group.chargers, {},
                      [&](std::uint32_t h) { return std::tuple(space.chargers[h].price, h); });
    group.least_price = space.chargers[group.chargers.front()].price;
    group.least_time = std::numeric_limits<double>::infinity();
    for (const std::uint32_t h : group.chargers) {
      const double time = charge_time(pack, space.chargers[h].part);
      // No charger at all makes it NaN, and it stays so.
      group.least_time = time >= group.least_time ? group.least_time : time;
    }
  }
  return groups;
}

void Findings::offer(const Member& member) {
  if (keep.front == nullptr) {
    archive.offer(member);
  } else if (!keep.front->dominated(
                 improved(member.objectives.data(), objectives, keep.share).data())) {
    near.push_back(member);
  }
}

Count Findings::settled() const {
  return std::accumulate(rejected.begin(), rejected.end(), evaluated + pruned);
}

void add_account(Findings& sum, const Findings& part) {
  sum.evaluated += part.evaluated;
  sum.pruned += part.pruned;
  sum.near.insert(sum.near.end(), part.near.begin(), part.near.end());
  for (std::size_t i = 0; i < part.rejected.size(); ++i) sum.rejected[i] += part.rejected[i];
}

void evaluate_drive(const Setup& setup, const Space& space, const Compatible& compatible,
                    const LevelWork& level, std::uint32_t drive, Evaluator& evaluator,
                    Findings& findings) {
  const DriveOption& option = compatible.drives[drive];
  if (const auto failed = evaluator.strength_fail(level.prepared, option)) {
    findings.rejected[*failed] += level.chargers;
    return;
  }
  for (const ChargerGroup& group : level.groups) {
    evaluator.take(level.prepared, option, group.carried_mass);
    if (const auto failed = evaluator.riding_fail(level.prepared, option)) {
      findings.rejected[*failed] += group.chargers.size();
      continue;
    }
    for (const std::uint32_t h : group.chargers) {
      if (const auto failed = evaluator.demands_fail(level.prepared, option, space.chargers[h])) {
        ++findings.rejected[*failed];
        continue;
      }
      ++findings.evaluated;
      findings.offer(make_member(setup, evaluator.metrics(), {level.index, h, drive}));
    }
  }
}

void evaluate_undominated(const Setup& setup, const Space& space, const Compatible& compatible,
                          const LevelWork& level, std::uint32_t drive, Evaluator& evaluator,
                          Shade& shade, Findings& findings) {
  const DriveOption& option = compatible.drives[drive];
  for (const ChargerGroup& group : level.groups) {
    evaluator.take(level.prepared, option, group.carried_mass);
    const Member best = make_member(
        setup, evaluator.objectives(level.prepared, option, group.least_price, group.least_time),
        {});
    if (has_all(setup, best) && shade.dominated(best.objectives.data())) {
      findings.pruned += group.chargers.size();
      continue;
    }
    auto failed = evaluator.strength_fail(level.prepared, option);
    if (!failed) failed = evaluator.riding_fail(level.prepared, option);
    if (failed) {
      findings.rejected[*failed] += group.chargers.size();
      continue;
    }
    std::optional<Member> offered;
    for (const std::uint32_t h : group.chargers) {
      const ChargerOption& charger = space.chargers[h];
      if (offered) {
        Member next =
            make_member(setup,
                        evaluator.objectives(level.prepared, option, charger.price,
                                             charge_time(*level.prepared.parts.pack, charger.part)),
                        {});
        next.objectives = improved(next.objectives.data(), setup.objectives.size(), shade.share());
        if (has_all(setup, next) && dominates(*offered, next, setup.objectives.size())) {
          ++findings.pruned;
          continue;
        }
      }
      if (const auto missed = evaluator.demands_fail(level.prepared, option, charger)) {
        ++findings.rejected[*missed];
        continue;
      }
      ++findings.evaluated;
      offered = make_member(setup, evaluator.metrics(), {level.index, h, drive});
      findings.offer(*offered);
    }
  }
}

}  // namespace sprocketry::search
