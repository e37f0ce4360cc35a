#include "search/bounded.hpp"

#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <map>
#include <memory>
#include <tuple>

#include "search/best_case.hpp"
#include "search/shade.hpp"
#include "search/workers.hpp"

namespace sprocketry::search {
namespace {

// A motor with a pack and the least price of both with a controller and a charger.
struct Group {
  Money price = 0;
  std::uint32_t motor = 0;
  std::uint32_t pack = 0;
};

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

// Motors with the same drives share a tree.
struct Trees {
  std::vector<DriveTree> trees;
  std::vector<std::uint32_t> of_motor;
};

Trees make_trees(const Space& space, const Compatible& compatible) {
  Trees result;
  std::map<std::vector<std::uint32_t>, std::uint32_t> known;
  for (const auto& drives : compatible.motor_drives) {
    const auto [place, fresh] =
        known.try_emplace(drives, static_cast<std::uint32_t>(result.trees.size()));
    if (fresh) result.trees.push_back(make_drive_tree(space, compatible.drives, drives));
    result.of_motor.push_back(place->second);
  }
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

// One thread's room and the front it compares with.
class Searcher {
 public:
  Searcher(const Setup& setup, const Space& space, const Compatible& compatible, const Trees& trees,
           const SearchOptions& options, const Keep& keep)
      : setup_(&setup),
        space_(&space),
        compatible_(&compatible),
        trees_(&trees),
        options_(&options),
        evaluator_(setup, space),
        best_(setup),
        shade_(setup.objectives.size(), keep.front ? keep.share : 0.0) {}

  void run(const Group& group, const Archive& known, Findings& findings) {
    shade_.fall(known, findings.archive);
    findings_ = &findings;
    tree_ = &trees_->trees[trees_->of_motor[group.motor]];
    const std::vector<std::uint32_t> controllers =
        passing_controllers(*space_, compatible_->grid, group.motor, group.pack);
    const auto& chargers = compatible_->grid.chargers(group.pack);
    limits_ = charger_limits(*space_, chargers);
    level_.groups = group_chargers(*space_, space_->packs[group.pack].part, chargers);
    level_.chargers = chargers.size();
    std::vector<std::uint32_t> blocks = tree_->blocks;
    if (options_->bound_packs && controllers.size() > 1) {
      set_level_range(*setup_, *space_, group.motor, controllers, group.pack, range_);
      const Count each = Count{controllers.size()} * chargers.size();
      std::erase_if(blocks, [&](std::uint32_t block) { return settled(block, each); });
    }
    for (const std::uint32_t c : controllers) {
      if (blocks.empty() || stopped(options_->watch)) return;
      level_.prepared = prepare_level(*setup_, *space_, group.motor, c, group.pack);
      level_.index = compatible_->grid.index(group.motor, c, group.pack);
      set_level_range(*setup_, level_.prepared, range_);
      for (const std::uint32_t block : blocks) descend(block);
    }
  }

 private:
  // True when a node needs no closer look; then its combinations are counted, `each` per drive.
  bool settled(std::uint32_t index, Count each) {
    const DriveNode& node = tree_->nodes[index];
    best_.set(range_, node, limits_);
    if (const auto rule = best_.broken()) {
      findings_->rejected[*rule] += node.size() * each;
      return true;
    }
    if (!dominated(best_.values())) return false;
    findings_->pruned += node.size() * each;
    return true;
  }

  void descend(std::uint32_t index) {
    if (stopped(options_->watch)) return;
    const DriveNode& node = tree_->nodes[index];
    if (options_->bound_drives && settled(index, level_.chargers)) return;
    if (node.leaf()) {
      leaf(node);
      return;
    }
    descend(node.left);
    descend(node.right);
  }

  void leaf(const DriveNode& node) {
    for (std::uint32_t i = node.first; i < node.last; ++i) {
      const std::uint32_t drive = tree_->order[i];
      if (options_->bound_drives && options_->bound_prices && i > node.first) {
        // The node's best case at this drive's own price.
        const Money price =
            range_.least_price + compatible_->drives[drive].price + limits_.least_price;
        if (dominated(best_.values_at(price))) {
          findings_->pruned += level_.chargers;
          continue;
        }
      }
      evaluate_undominated(*setup_, *space_, *compatible_, level_, drive, evaluator_, shade_,
                           *findings_);
    }
  }

  bool dominated(const BestCase::Values& values) { return shade_.dominated(values.data()); }

  const Setup* setup_;
  const Space* space_;
  const Compatible* compatible_;
  const Trees* trees_;
  const SearchOptions* options_;
  Evaluator evaluator_;
  BestCase best_;
  Shade shade_;
  Findings* findings_ = nullptr;
  const DriveTree* tree_ = nullptr;
  BestCase::Chargers limits_;
  LevelWork level_;
  LevelRange range_;
};

// Tells the others what was found, and takes what they did.
void exchange_found(const std::vector<Findings>& found, const Exchange& exchange, Findings& all) {
  Archive fresh(all.objectives);
  for (const Findings& part : found) fresh.merge(part.archive);
  std::vector<Costs> costs;
  for (const Member& member : fresh.members()) costs.push_back(member.objectives);
  for (const Costs& others : exchange(costs)) all.archive.offer({others, kElsewhere});
}

}  // namespace

Findings search_bounded(const Setup& setup, const Space& space, const Compatible& compatible,
                        const SearchOptions& options, const Keep& keep) {
  // Constants of the program, not of the machine: the counts depend on them.
  constexpr std::size_t kPieces = 16;
  constexpr std::size_t kMostGroupsPerPiece = 64;
  const std::vector<Group> groups = make_groups(space, compatible);
  const Trees trees = make_trees(space, compatible);
  Findings all(setup, keep);
  Workers threads_at_work(options.threads);
  std::vector<std::unique_ptr<Searcher>> searchers;
  for (std::size_t i = 0; i < kPieces; ++i) {
    searchers.push_back(std::make_unique<Searcher>(setup, space, compatible, trees, options, keep));
  }
  std::size_t per_piece = 1;
  for (std::size_t first = 0; first < groups.size() && !stopped(options.watch);) {
    const std::size_t last = std::min(groups.size(), first + kPieces * per_piece);
    std::vector<Findings> found(kPieces, Findings(setup, keep));
    threads_at_work.run([&] {
      tbb::parallel_for(std::size_t{0}, kPieces, [&](std::size_t piece) {
        // Dealt out in turn, so that each piece has cheap and dear ones.
        for (std::size_t g = first + piece; g < last; g += kPieces) {
          if (stopped(options.watch)) return;
          const Count before = found[piece].settled();
          searchers[piece]->run(groups[g], keep.front ? *keep.front : all.archive, found[piece]);
          if (options.watch) {
            options.watch->settled += static_cast<double>(found[piece].settled() - before);
          }
        }
      });
    });
    for (const Findings& part : found) {
      all.archive.merge(part.archive);
      add_account(all, part);
    }
    if (options.exchange && keep.front == nullptr) exchange_found(found, options.exchange, all);
    if (options.watch) options.watch->front = all.archive.size();
    first = last;
    per_piece = std::min(2 * per_piece, kMostGroupsPerPiece);
  }
  return all;
}

}  // namespace sprocketry::search
