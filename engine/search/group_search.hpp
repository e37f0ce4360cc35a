#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "search/best_case.hpp"
#include "search/search.hpp"
#include "search/shade.hpp"
#include "search/worker.hpp"

namespace sprocketry::search {

// A motor with a pack and the least price of both with a controller and a charger.
struct Group {
  Money price = 0;
  std::uint32_t motor = 0;
  std::uint32_t pack = 0;
};
// All that have a compatible combination, in ascending order of that price.
std::vector<Group> make_groups(const Space& space, const Compatible& compatible);

// One for each list of compatible.motor_drives.
std::vector<DriveTree> make_trees(const Space& space, const Compatible& compatible);

// By how much worse a best case is let be, pass after pass, and still be put off when a member
// dominates it then; with nothing in the last pass nothing is put off. Each is about a third of the
// one before: with the last steps left out half as many are evaluated again, with more of them all
// parts are weighed once more for nothing (measured).
inline constexpr std::array kPasses = {0.1, 0.03, 0.01, 0.003, 0.001, 0.0};

// A node of drives that was put off: its best case, from which of its drives on it stands for, and
// before which pass the member that put it off would do so again.
struct PutOff {
  std::uint32_t node = 0;
  std::uint32_t first = 0;  // into DriveTree::order
  std::uint32_t pass = 0;
  BestCase::Values values{};
};

// What of a group has not been settled yet. Nothing of a group that has not been begun is.
struct GroupRest {
  struct OfController {
    std::uint32_t controller = 0;
    std::vector<PutOff> parts;
  };
  bool begun = false;
  std::vector<PutOff> blocks;        // with every controller
  std::vector<OfController> levels;  // by ascending price

  [[nodiscard]] bool settled() const;
  // True when nothing of it is taken up before a later pass.
  [[nodiscard]] bool waits(std::size_t pass) const;
};

// Bounds and evaluates group after group: one thread's room.
class GroupSearch {
 public:
  GroupSearch(const Setup& setup, const Space& space, const Compatible& compatible,
              const std::vector<DriveTree>& trees, const SearchOptions& options, const Keep& keep);

  // Takes up what is left of a group in a pass of kPasses. A node is settled when its best case
  // breaks a rule or a member, of the known front or of the findings, dominates it. It is put off
  // when one would dominate it were it worse by the pass's share (of its size in every objective).
  // What remains is looked at more closely, down to single combinations, and what passes is offered
  // to the findings. After the last pass the group is settled, unless the watch stopped it.
  void run(const Group& group, GroupRest& rest, const Archive& known, std::size_t pass,
           Findings& findings);

 private:
  enum class Fate { kSettled, kPutOff, kOpen };
  struct Weighed {
    Fate fate = Fate::kOpen;
    std::uint32_t pass = 0;  // of what is put off
  };

  std::vector<std::uint32_t> begin(const Group& group, GroupRest& rest);
  void run_level(const Group& group, GroupRest::OfController& level,
                 const std::vector<std::uint32_t>& blocks);
  Weighed look(std::uint32_t node, Count each);
  Weighed weigh(const BestCase::Values& values);
  Weighed weigh(const PutOff& part);
  void descend(std::uint32_t node, GroupRest::OfController& level);
  void open(std::uint32_t node, std::uint32_t first, GroupRest::OfController& level);
  void leaf(std::uint32_t node, std::uint32_t first, GroupRest::OfController& level);

  const Setup* setup_;
  const Space* space_;
  const Compatible* compatible_;
  const std::vector<DriveTree>* trees_;
  const SearchOptions* options_;
  Evaluator evaluator_;
  BestCase best_;
  std::size_t pass_ = 0;
  Shade pass_shade_;  // with the pass's share
  Shade shade_;
  Findings* findings_ = nullptr;
  const DriveTree* tree_ = nullptr;
  BestCase::Chargers limits_;
  LevelWork level_;
  LevelRange range_;
};

}  // namespace sprocketry::search
