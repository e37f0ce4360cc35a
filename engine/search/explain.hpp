#pragma once

#include <optional>
#include <vector>

#include "search/compatible.hpp"
#include "search/design.hpp"

namespace sprocketry::search {

// What one rule does among the combinations whose parts fit each other.
struct RuleCount {
  const rules::Rule* rule = nullptr;
  Count rejects = 0;  // whatever other rules say
  Count alone = 0;    // of these, those that no other rule rejects
};

// The least by which one demand must give way, the others and every rule held.
struct Relaxation {
  rules::Check demand;
  // What the demand would have to allow, and the first design in the order of ids that has it.
  // Nothing: no value of this demand alone lets anything through.
  std::optional<rules::Row> row;
  std::optional<Combination> design;
};

// A smallest set of demands that no combination holds together.
struct Conflict {
  std::vector<rules::Check> demands;  // empty: nothing passes the rules, whatever is demanded
  std::vector<Combination> without;   // per demand, a design that passes the rules and the others
};

struct Explanation {
  Count combinations = 0;
  std::vector<Count> unfit;  // per rule of the table: rejected by pairs, under the first such rule
  Count compatible = 0;      // the rest; all of them were judged by every other rule
  Count feasible = 0;
  std::vector<RuleCount> rules;  // those that are no pairwise rules, in published order
  // Empty when something is feasible: no demand needs to give way.
  std::vector<Relaxation> relaxations;
  std::optional<Conflict> conflict;
};

// Larger spaces are refused: every compatible combination is evaluated whole.
inline constexpr Count kMostExplained = 3'000'000;
// Demands (a list's entries each) are kept as bits of one number.
inline constexpr std::size_t kMostDemands = 64;

// The demands that can give way on their own. The ceiling of the battery current is none: the
// controller is set to it, so that another ceiling makes every design another one. Nor is the
// frame's plate.
std::vector<rules::Check> demands_to_relax(const Setup& setup);

// Judges every compatible combination by every rule. `compatible` holds at most kMostExplained
// combinations and the requirement at most kMostDemands demands. The answer is the same for any
// number of threads (0: as many as there are cores).
Explanation explain(const Setup& setup, const Space& space, const Compatible& compatible,
                    int threads);

}  // namespace sprocketry::search
