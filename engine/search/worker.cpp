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

std::vector<ChargerGroup> group_chargers(const Setup& setup, const Space& space,
                                         const parts::PackPart& pack,
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
      const double time = charge_time(setup, pack, space.chargers[h].part);
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

namespace {

// Whether a member dominates these figures, and so whatever is nowhere better.
bool is_dominated(const Setup& setup, Shade& shade, const spec::Metrics& metrics) {
  const Member member = make_member(setup, metrics, {});
  return has_all(setup, member) && shade.dominated(member.objectives.data());
}

// One drive of a level with the chargers of a group, which share all but price and charge time.
class GroupOfChargers {
 public:
  GroupOfChargers(const Setup& setup, const Space& space, const LevelWork& level,
                  const DriveOption& option, std::uint32_t drive, Evaluator& evaluator,
                  Shade& shade, Findings& findings)
      : setup_(&setup),
        space_(&space),
        level_(&level),
        option_(&option),
        drive_(drive),
        evaluator_(&evaluator),
        shade_(&shade),
        findings_(&findings) {}

  void run(const ChargerGroup& group) {
    const PreparedLevel& prepared = level_->prepared;
    evaluator_->take(prepared, *option_, group.carried_mass);
    const spec::Metrics* best =
        evaluator_->hoped_objectives(prepared, *option_, group.least_price, group.least_time);
    hoped_ = best != nullptr;
    if (!hoped_) {
      best = &evaluator_->objectives(prepared, *option_, group.least_price, group.least_time);
    }
    if (is_dominated(*setup_, *shade_, *best)) {
      findings_->pruned += group.chargers.size();
      return;
    }
    auto failed = evaluator_->strength_fail(prepared, *option_);
    if (!failed) failed = evaluator_->riding_fail(prepared, *option_);
    if (failed) {
      findings_->rejected[*failed] += group.chargers.size();
      return;
    }
    offered_.reset();
    for (const std::uint32_t charger : group.chargers) run(charger);
  }

 private:
  void run(std::uint32_t charger) {
    const ChargerOption& option = space_->chargers[charger];
    if (offered_ && is_beaten_by_offered(option)) {
      ++findings_->pruned;
      return;
    }
    if (const auto missed = evaluator_->demands_fail(level_->prepared, *option_, option)) {
      ++findings_->rejected[*missed];
      return;
    }
    // What was only hoped to be better than the members is now known.
    if (hoped_ && is_dominated(*setup_, *shade_, evaluator_->metrics())) {
      ++findings_->pruned;
      return;
    }
    ++findings_->evaluated;
    offered_ = make_member(*setup_, evaluator_->metrics(), {level_->index, charger, drive_});
    findings_->offer(*offered_);
  }

  // Whether the member of a cheaper charger dominates this one.
  bool is_beaten_by_offered(const ChargerOption& option) {
    const PreparedLevel& prepared = level_->prepared;
    Member next =
        make_member(*setup_,
                    evaluator_->objectives(prepared, *option_, option.price,
                                           charge_time(*setup_, *prepared.parts.pack, option.part)),
                    {});
    const std::size_t count = setup_->objectives.size();
    next.objectives = improved(next.objectives.data(), count, shade_->share());
    return has_all(*setup_, next) && dominates(*offered_, next, count);
  }

  const Setup* setup_;
  const Space* space_;
  const LevelWork* level_;
  const DriveOption* option_;
  std::uint32_t drive_;
  Evaluator* evaluator_;
  Shade* shade_;
  Findings* findings_;
  bool hoped_ = false;  // the group's range was bounded only
  std::optional<Member> offered_;
};

}  // namespace

void evaluate_undominated(const Setup& setup, const Space& space, const Compatible& compatible,
                          const LevelWork& level, std::uint32_t drive, Evaluator& evaluator,
                          Shade& shade, Findings& findings) {
  const DriveOption& option = compatible.drives[drive];
  GroupOfChargers chargers(setup, space, level, option, drive, evaluator, shade, findings);
  for (const ChargerGroup& group : level.groups) chargers.run(group);
}

}  // namespace sprocketry::search
