#pragma once

#include <array>
#include <functional>
#include <optional>
#include <vector>

#include "search/archive.hpp"
#include "search/compatible.hpp"
#include "search/design.hpp"
#include "search/watch.hpp"

namespace sprocketry::search {

// combinations = rejected + evaluated + pruned + unsettled.
struct Account {
  Count combinations = 0;
  std::vector<Count> rejected;  // per rule of the table
  Count evaluated = 0;
  Count pruned = 0;
  Count unsettled = 0;   // a search that was stopped did not get to them
  Count compatible = 0;  // those that pass the pairwise rules, whatever became of them
};

// How far a value may be worse and still count as matched, per objective in its output unit, >= 0.
using Resolution = std::array<double, kMostObjectives>;

struct Nearness {
  double share = 0;            // 0 to 0.5
  std::vector<bool> on_front;  // per member; the others are only near it
  std::size_t beyond = 0;      // how many of these others there are
};

struct Coarseness {
  Resolution resolution{};
  std::size_t whole = 0;  // members of the whole front
};

// Where confidence is an objective: what it was computed from (see confidence.hpp).
struct Sampling {
  std::size_t samples = 0;
  std::size_t refused = 0;      // points that were passed over because they cannot be
  std::size_t inputs = 0;       // that are uncertain
  std::size_t evaluations = 0;  // designs times samples that were computed
};

// The exact Pareto front: every combination that passes all rules and that no other dominates,
// equal ones all kept, in the order of the objectives (best first), then of the parts' ids.
struct Front {
  std::vector<Combination> members;
  // Per member, higher-is-better objectives negated.
  std::vector<std::array<double, kMostObjectives>> objectives;
  Account account;
  // Where only some of the whole front's members were kept (see resolution.hpp).
  std::optional<Coarseness> coarseness;
  // Where members within a share of the front were kept beside it.
  std::optional<Nearness> near;
  std::optional<Sampling> sampling;
  bool exact = true;  // false for the best so far of a search that was stopped
};

// The parts of every member, in the front's order.
std::vector<rules::Selection> selections(const Space& space, const Front& front);

// When to leave out what cannot be on the front.
enum class Pruning {
  kAuto,   // in spaces of more compatible combinations than are evaluated in an instant
  kNever,  // every combination that passes the pairwise rules is evaluated
  kAlways,
};

// Processes that search a slice each may tell each other what they have found, so that each leaves
// out what any of them knows to be beaten. Called by the bounded search after every round, with the
// objectives (as in Front) of what was found since the last call; returns what the others found
// meanwhile. What the others beat is then missing from the front. How many rounds there are depends
// on the space and on what was returned, not on timing; who is done early must go on answering the
// others until all are done.
using Costs = std::array<double, kMostObjectives>;
using Exchange = std::function<std::vector<Costs>(const std::vector<Costs>& found)>;

// The three kinds of bounds and the order of work can be switched off; the front stays the same
// (see bounded.hpp).
struct SearchOptions {
  int threads = 0;  // 0: all
  Pruning pruning = Pruning::kAuto;
  bool bound_packs = true;   // motor and pack with all controllers at once
  bool bound_drives = true;  // blocks of drives
  bool bound_prices = true;  // single drives by their own price
  bool coarse_first = true;  // what is far from the front is found out before what is near it
  double near = 0;           // 0 to 0.5: also what lies within this share of the front
  Watch* watch = nullptr;    // who may stop it; it must outlive the search
  Exchange exchange = {};    // with others that search the rest of the space
};

// Searches a space. The front and the account do not depend on the number of threads. With `near`
// the members are all combinations that no other dominates once they are made better by that share
// of its size in every objective: the front and what lies within reach of it. When the
// watch stops it, which takes it a few milliseconds, the front is that of what was evaluated until
// then. Throws std::logic_error when the account does not add up, which is a defect.
Front search(const Setup& setup, const Space& space, const SearchOptions& options);
Front search(const Setup& setup, const Space& space, int threads);

// Every combination that passes all rules, dominated or not, as the members of a front that nothing
// was pruned from. Not exact when `watch` (may be null) asked for an end.
Front all_feasible(const Setup& setup, const Space& space, int threads, Watch* watch);

}  // namespace sprocketry::search
