#include "search/worker.hpp"

#include <algorithm>

namespace sprocketry::search {
namespace {

Member make_member(const Setup& setup, const spec::Metrics& metrics, const Key& key) {
  Member member;
  member.key = key;
  for (std::size_t i = 0; i < setup.objectives.size(); ++i) {
    const double value = setup.objectives[i]->value(metrics);
    // Adding 0 turns -0 into 0, so that equal values are equal bits.
    member.objectives[i] =
        (setup.objectives[i]->better == spec::Better::kLower ? value : -value) + 0.0;
  }
  return member;
}

}  // namespace

std::vector<ChargerGroup> group_chargers(const Space& space,
                                         const std::vector<std::uint32_t>& chargers) {
  std::vector<ChargerGroup> groups;
  for (const std::uint32_t h : chargers) {
    const double mass = space.chargers[h].carried_mass;
    const auto same = std::ranges::find(groups, mass, &ChargerGroup::carried_mass);
    if (same != groups.end()) {
      same->chargers.push_back(h);
    } else {
      groups.push_back({mass, {h}});
    }
  }
  return groups;
}

void add_account(Findings& sum, const Findings& part) {
  sum.evaluated += part.evaluated;
  sum.pruned += part.pruned;
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
    if (const auto failed = evaluator.riding_fail(level.prepared, option, group.carried_mass)) {
      findings.rejected[*failed] += group.chargers.size();
      continue;
    }
    for (const std::uint32_t h : group.chargers) {
      if (const auto failed = evaluator.demands_fail(level.prepared, option, space.chargers[h])) {
        ++findings.rejected[*failed];
        continue;
      }
      ++findings.evaluated;
      findings.archive.offer(make_member(setup, evaluator.metrics(), {level.index, h, drive}));
    }
  }
}

}  // namespace sprocketry::search
