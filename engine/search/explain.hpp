#pragma once

#include <optional>
#include <vector>

#include "search/fit_counts.hpp"
#include "search/gains.hpp"
#include "search/watch.hpp"

namespace sprocketry::search {

// The least by which one demand must give way, the others and every rule held.
struct Relaxation {
  rules::Check demand;
  // What the demand would have to allow, and the first design in the order of ids that has it.
  // Nothing: no value of this demand alone lets anything through.
  std::optional<rules::Row> row;
  std::optional<Combination> design;
  // Of a climb, whose row is a force: the steepest grade (tan) that the design has the force for.
  std::optional<double> grade;
};

// A smallest set of demands that no combination holds together.
struct Conflict {
  std::vector<rules::Check> demands;  // empty: nothing passes the rules, whatever is demanded
  std::vector<Combination> without;   // per demand, a design that passes the rules and the others
};

// The best in one demand that packs of one nominal voltage give, every rule held and the other
// demands left aside.
struct VoltageReach {
  double voltage = 0;  // V, nominal
  rules::Row row;
  Combination design;
};
struct Reach {
  rules::Check demand;
  std::vector<VoltageReach> voltages;  // ascending; those with a design that passes the rules
};

// What an aim becomes when a demand gives way.
struct Gain {
  double demanded = 0;  // what the demand would have to allow, in the rule's output unit
  double reached = 0;   // the aim's value in its output unit
  Combination design;
  std::optional<double> grade;  // of a climb, as in Relaxation
};
// A demand that holds an aim back: without it, the others and every rule held, the aim is better.
struct Binding {
  rules::Check demand;
  double limit = 0;          // as it stands, in the rule's output unit
  double unit = 0;           // one unit of the requirement's own, in the rule's output unit
  Gain first;                // the least relaxation that buys anything
  std::optional<Gain> once;  // what one unit buys; nothing: no gain
  Gain dropped;              // the demand given up
};
// The best that is feasible in one aim.
struct End {
  const spec::MetricInfo* aim = nullptr;
  double value = 0;  // output unit
  Combination design;
  std::vector<Binding> binding;  // empty: parts and rules alone hold it
};

struct Explanation {
  Count combinations = 0;
  std::vector<Count> unfit;  // per rule of the table: rejected by pairs, under the first such rule
  std::vector<RuleCount> fit_rules;  // those on a few parts, among all combinations
  Count compatible = 0;              // that pass them; each was judged by every other rule
  Count feasible = 0;
  std::vector<RuleCount> rules;  // the others, among the compatible, in published order
  std::vector<Reach> reach;      // per demand that can give way
  // Empty when something is feasible: no demand needs to give way.
  std::vector<Relaxation> relaxations;
  std::optional<Conflict> conflict;
  std::vector<End> ends;  // per aim, in their order; empty when nothing is feasible
};

// Larger spaces are refused: every compatible combination is evaluated whole.
inline constexpr Count kMostExplained = 100'000'000;
// Demands (a list's entries each) are kept as bits of one number.
inline constexpr std::size_t kMostDemands = 64;

// The demands that can give way on their own. The ceiling of the battery current is none: the
// controller is set to it, so that another ceiling makes every design another one. Nor is the
// frame's plate.
std::vector<rules::Check> demands_to_relax(const Setup& setup);

// Judges every compatible combination by every rule. `compatible` holds at most kMostExplained
// combinations and the requirement at most kMostDemands demands. The answer is the same for any
// number of threads (0: as many as there are cores). Nothing when `watch` (may be null) asked for
// an end.
std::optional<Explanation> explain(const Setup& setup, const Space& space,
                                   const Compatible& compatible, int threads, Watch* watch);

}  // namespace sprocketry::search
