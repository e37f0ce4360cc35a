#include "search/group_search.hpp"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <limits>
#include <tuple>
#include <utility>

namespace sprocketry::search {
namespace {

template <typename Options>
Money least_price(const Options& options) {
  Money least = std::numeric_limits<Money>::max();
  for (const auto& option : options) least = std::min(least, option.price);
  return least;
}

std::vector<std::uint32_t> passing_controllers(const Space& space, const LevelGrid& grid,
                                               std::size_t motor, std::size_t pack) {
  std::vector<std::uint32_t> result;
  for (std::size_t c = 0; c < space.controllers.size(); ++c) {
    if (grid.passes(motor, c, pack)) result.push_back(static_cast<std::uint32_t>(c));
  }
  std::ranges::sort(result, {},
                    [&](std::uint32_t c) { return std::tuple(space.controllers[c].price, c); });
  return result;
}

BestCase::Chargers charger_limits(const Space& space, const std::vector<std::uint32_t>& chargers) {
  BestCase::Chargers limits;
  bool first = true;
  for (const std::uint32_t h : chargers) {
    const ChargerOption& option = space.chargers[h];
    if (option.part == nullptr) limits.none = true;
    const double current = option.part == nullptr ? 0.0 : option.part->current;
    limits.least_price = first ? option.price : std::min(limits.least_price, option.price);
    limits.least_carried =
        first ? option.carried_mass : std::min(limits.least_carried, option.carried_mass);
    limits.most_carried = std::max(limits.most_carried, option.carried_mass);
    limits.most_current = std::max(limits.most_current, current);
    first = false;
  }
  return limits;
}

}  // namespace

std::vector<Group> make_groups(const Space& space, const Compatible& compatible) {
  const Money controller = least_price(space.controllers);
  std::vector<Group> groups;
  for (std::size_t p = 0; p < space.packs.size(); ++p) {
    const auto& chargers = compatible.grid.chargers(p);
    if (chargers.empty()) continue;
    Money charger = std::numeric_limits<Money>::max();
    for (const std::uint32_t h : chargers) charger = std::min(charger, space.chargers[h].price);
    for (std::size_t m = 0; m < space.motors.size(); ++m) {
      if (compatible.motor_drives[m].empty()) continue;
      bool any = false;
      for (std::size_t c = 0; c < space.controllers.size() && !any; ++c) {
        any = compatible.grid.passes(m, c, p);
      }
      if (!any) continue;
      groups.push_back({space.motors[m].price + space.packs[p].price + controller + charger,
                        static_cast<std::uint32_t>(m), static_cast<std::uint32_t>(p)});
    }
  }
  std::ranges::sort(groups, {},
                    [](const Group& g) { return std::tuple(g.price, g.motor, g.pack); });
  return groups;
}

std::vector<DriveTree> make_trees(const Space& space, const Compatible& compatible) {
  std::vector<DriveTree> trees(compatible.motor_drives.lists.size());
  tbb::parallel_for(std::size_t{0}, trees.size(), [&](std::size_t i) {
    trees[i] = make_drive_tree(space, compatible.drives, compatible.motor_drives.lists[i]);
  });
  return trees;
}

bool GroupRest::settled() const {
  return begun && blocks.empty() &&
         std::ranges::all_of(levels, [](const OfController& level) { return level.parts.empty(); });
}

bool GroupRest::waits(std::size_t pass) const {
  const auto later = [&](const PutOff& part) { return part.pass > pass; };
  return begun && std::ranges::all_of(blocks, later) &&
         std::ranges::all_of(levels, [&](const OfController& level) {
           return std::ranges::all_of(level.parts, later);
         });
}

GroupSearch::GroupSearch(const Setup& setup, const Space& space, const Compatible& compatible,
                         const std::vector<DriveTree>& trees, const SearchOptions& options,
                         const Keep& keep)
    : setup_(&setup),
      space_(&space),
      compatible_(&compatible),
      trees_(&trees),
      options_(&options),
      evaluator_(setup, space),
      best_(setup),
      pass_shade_(setup.objectives.size(), 0.0),
      shade_(setup.objectives.size(), keep.front ? keep.share : 0.0) {}

void GroupSearch::run(const Group& group, GroupRest& rest, const Archive& known, std::size_t pass,
                      Findings& findings) {
  if (rest.waits(pass)) return;
  shade_.fall(known, findings.archive);
  pass_ = pass;
  pass_shade_.fall(known, findings.archive);
  pass_shade_.set_share(kPasses[pass] > 0 ? -kPasses[pass] : shade_.share());
  findings_ = &findings;
  tree_ = &(*trees_)[compatible_->motor_drives.of_motor[group.motor]];
  const auto& chargers = compatible_->grid.chargers(group.pack);
  limits_ = charger_limits(*space_, chargers);
  level_.groups = group_chargers(*setup_, *space_, space_->packs[group.pack].part, chargers);
  level_.chargers = chargers.size();
  std::vector<std::uint32_t> blocks;
  if (rest.begun) {
    const Count each = Count{rest.levels.size()} * level_.chargers;
    std::erase_if(rest.blocks, [&](PutOff& part) {
      const auto [fate, until] = weigh(part);
      part.pass = until;
      if (fate == Fate::kOpen) blocks.push_back(part.node);
      if (fate == Fate::kSettled) findings_->pruned += tree_->nodes[part.node].size() * each;
      return fate != Fate::kPutOff;
    });
  } else {
    blocks = begin(group, rest);
  }
  for (GroupRest::OfController& level : rest.levels) {
    if (stopped(options_->watch)) return;
    run_level(group, level, blocks);
  }
}

// The blocks to look at with each controller.
std::vector<std::uint32_t> GroupSearch::begin(const Group& group, GroupRest& rest) {
  rest.begun = true;
  const std::vector<std::uint32_t> controllers =
      passing_controllers(*space_, compatible_->grid, group.motor, group.pack);
  for (const std::uint32_t c : controllers) rest.levels.push_back({c, {}});
  if (!options_->bound_packs || controllers.size() <= 1) return tree_->blocks;
  set_level_range(*setup_, *space_, group.motor, controllers, group.pack, range_);
  std::vector<std::uint32_t> open;
  for (const std::uint32_t block : tree_->blocks) {
    const auto [fate, until] = look(block, Count{controllers.size()} * level_.chargers);
    if (fate == Fate::kOpen) open.push_back(block);
    if (fate == Fate::kPutOff) {
      rest.blocks.push_back({block, tree_->nodes[block].first, until, best_.values()});
    }
  }
  return open;
}

void GroupSearch::run_level(const Group& group, GroupRest::OfController& level,
                            const std::vector<std::uint32_t>& blocks) {
  bool prepared = false;
  const auto prepare = [&] {
    if (std::exchange(prepared, true)) return;
    level_.prepared = prepare_level(*setup_, *space_, group.motor, level.controller, group.pack);
    level_.index = compatible_->grid.index(group.motor, level.controller, group.pack);
    set_level_range(*setup_, level_.prepared, range_);
  };
  for (PutOff& part : std::exchange(level.parts, {})) {
    const auto [fate, until] = weigh(part);
    part.pass = until;
    if (fate == Fate::kPutOff) level.parts.push_back(part);
    if (fate == Fate::kSettled) {
      findings_->pruned += (tree_->nodes[part.node].last - part.first) * level_.chargers;
    }
    if (fate != Fate::kOpen) continue;
    prepare();
    best_.set(range_, tree_->nodes[part.node], limits_);
    (void)best_.broken();
    open(part.node, part.first, level);
  }
  if (!blocks.empty()) prepare();
  for (const std::uint32_t block : blocks) descend(block, level);
}

// Bounds a node; what is settled is counted, `each` per drive.
GroupSearch::Weighed GroupSearch::look(std::uint32_t index, Count each) {
  const DriveNode& node = tree_->nodes[index];
  best_.set(range_, node, limits_);
  if (const auto rule = best_.broken()) {
    findings_->rejected[*rule] += node.size() * each;
    return {Fate::kSettled, 0};
  }
  const Weighed weighed = weigh(best_.values());
  if (weighed.fate == Fate::kSettled) findings_->pruned += node.size() * each;
  return weighed;
}

// What no member dominates even when it is made worse, none dominates as it is. So one question
// decides; a member that dominates it as it is may be among those who did not answer, and is found
// in a later pass.
GroupSearch::Weighed GroupSearch::weigh(const BestCase::Values& values) {
  const double* found = pass_shade_.dominating(values.data());
  if (found == nullptr) return {Fate::kOpen, 0};
  const std::size_t objectives = setup_->objectives.size();
  if (kPasses[pass_] == 0 || lanes::dominate(found, objectives, values.data())) {
    return {Fate::kSettled, 0};
  }
  const double share = least_share(found, values.data(), objectives);
  std::size_t next = pass_ + 1;
  while (next + 1 < kPasses.size() && share < kPasses[next]) ++next;
  return {Fate::kPutOff, static_cast<std::uint32_t>(next)};
}

GroupSearch::Weighed GroupSearch::weigh(const PutOff& part) {
  if (pass_ < part.pass) return {Fate::kPutOff, part.pass};
  return weigh(part.values);
}

void GroupSearch::descend(std::uint32_t index, GroupRest::OfController& level) {
  if (stopped(options_->watch)) return;
  const std::uint32_t first = tree_->nodes[index].first;
  if (options_->bound_drives) {
    const auto [fate, until] = look(index, level_.chargers);
    if (fate == Fate::kPutOff) level.parts.push_back({index, first, until, best_.values()});
    if (fate != Fate::kOpen) return;
  }
  open(index, first, level);
}

void GroupSearch::open(std::uint32_t index, std::uint32_t first, GroupRest::OfController& level) {
  const DriveNode& node = tree_->nodes[index];
  if (node.leaf()) {
    leaf(index, first, level);
    return;
  }
  descend(node.left, level);
  descend(node.right, level);
}

void GroupSearch::leaf(std::uint32_t index, std::uint32_t first, GroupRest::OfController& level) {
  const DriveNode& node = tree_->nodes[index];
  for (std::uint32_t i = first; i < node.last; ++i) {
    const std::uint32_t drive = tree_->order[i];
    if (options_->bound_drives && options_->bound_prices && i > first) {
      // The node's best case at this drive's own price, which no later drive of the leaf undercuts.
      const BestCase::Values values = best_.values_at(
          range_.least_price + compatible_->drives[drive].price + limits_.least_price);
      const auto [fate, until] = weigh(values);
      if (fate == Fate::kPutOff) level.parts.push_back({index, i, until, values});
      if (fate == Fate::kSettled) findings_->pruned += (node.last - i) * level_.chargers;
      if (fate != Fate::kOpen) return;
    }
    evaluate_undominated(*setup_, *space_, *compatible_, level_, drive, evaluator_, shade_,
                         *findings_);
  }
}

}  // namespace sprocketry::search
