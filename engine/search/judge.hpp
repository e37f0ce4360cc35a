#pragma once

#include <cstdint>
#include <optional>
#include <unordered_map>
#include <vector>

#include "search/compatible.hpp"
#include "search/gains.hpp"
#include "search/watch.hpp"

namespace sprocketry::search {

// What `explain` asks of every compatible combination.
struct Question {
  const Setup& setup;
  const Space& space;
  const Compatible& compatible;
  std::vector<rules::Check> checks;   // all that are not decided by pairs, in published order
  std::vector<rules::Check> demands;  // of these, those that can give way on their own
  unsigned figures = 0;               // that checks and objectives read
  std::vector<double> voltages;       // V, the packs' nominal ones, ascending, each once
  std::vector<std::size_t> voltage_of_pack;  // index into `voltages`
};
// `setup`, `space` and `compatible` must outlive it.
Question make_question(const Setup& setup, const Space& space, const Compatible& compatible);

// Whether a check is a demand that can give way on its own; see demands_to_relax().
bool gives_way(const rules::Check& check);

// The value of a demand, SI, negated where more is better: less is always nearer. The value itself
// is compared, not its margin: a difference may round two values to one.
double nearness(const rules::Finding& finding);

// A design by the value of one demand or aim.
struct Nearest {
  double value = 0;  // less is better
  Combination design;
};
// Keeps the lesser value, of equal ones the first design by id.
void note_nearest(std::optional<Nearest>& best, const Nearest& next);

// What was found among the compatible combinations.
struct Tally {
  Count feasible = 0;
  std::vector<Count> rejects, alone;  // per rule of the table
  // Of the designs that pass all but demands: which demands they miss (bits in the order of
  // Question::demands), and the first such design.
  std::unordered_map<std::uint64_t, Combination> missed;
  // Per demand: the nearest design that misses it alone.
  std::vector<std::optional<Nearest>> nearest;
  // Per demand, then voltage: of the designs that pass all but demands the best in this demand.
  std::vector<std::vector<std::optional<Nearest>>> reach;
  // Per aim: the best feasible design.
  std::vector<std::optional<Nearest>> ends;
  // Per demand, then aim: the designs that miss this demand alone.
  std::vector<std::vector<Gains>> gains;

  explicit Tally(const Question& question);
};

// Judges every compatible combination by every check. The same for any number of threads (0: as
// many as there are cores). Nothing when `watch` (may be null) asked to stop; it is told how much
// is settled.
std::optional<Tally> judge_all(const Question& question, int threads, Watch* watch);

}  // namespace sprocketry::search
