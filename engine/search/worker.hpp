#pragma once

#include <vector>

#include "search/archive.hpp"
#include "search/evaluator.hpp"
#include "search/shade.hpp"
#include "search/watch.hpp"

namespace sprocketry::search {

// A pack's chargers that weigh the same on the bike and so share all physics.
struct ChargerGroup {
  double carried_mass = 0;              // kg
  std::vector<std::uint32_t> chargers;  // by ascending price
  // What none of them betters: the least price and the shortest charging (s; NaN when one of them
  // is no charger at all, which has none).
  Money least_price = 0;
  double least_time = 0;
};
std::vector<ChargerGroup> group_chargers(const Setup& setup, const Space& space,
                                         const parts::PackPart& pack,
                                         const std::vector<std::uint32_t>& chargers);

// What a search keeps of all that passes every rule: the front, or, once that is known, what lies
// within a share of it: what no member of the front dominates when it is improved by the share.
struct Keep {
  const Archive* front = nullptr;  // null: the front is what is looked for
  double share = 0;
};

// What a thread or a piece of work has found, with its account.
struct Findings {
  Archive archive;
  std::vector<Member> near;     // with a front to be near to
  std::vector<Count> rejected;  // per rule of the table
  Count evaluated = 0;
  Count pruned = 0;
  Keep keep;
  std::size_t objectives;

  Findings(const Setup& setup, const Keep& kept)
      : archive(setup.objectives.size()),
        rejected(rules::rule_table().size()),
        keep(kept),
        objectives(setup.objectives.size()) {}

  // Keeps a member that passed every rule, if it is one to keep.
  void offer(const Member& member);

  // How many combinations are accounted for.
  [[nodiscard]] Count settled() const;
};
// True when somebody watches and wants an end.
inline bool stopped(const Watch* watch) { return watch != nullptr && watch->stopped(); }

void add_account(Findings& sum, const Findings& part);

// A level with the chargers that fit it.
struct LevelWork {
  PreparedLevel prepared;
  std::uint64_t index = 0;  // of the grid
  std::vector<ChargerGroup> groups;
  Count chargers = 0;
};

// Evaluates a level with one drive (an index into compatible.drives) and all of the level's
// chargers, rule by rule, and offers what passes to the findings.
void evaluate_drive(const Setup& setup, const Space& space, const Compatible& compatible,
                    const LevelWork& level, std::uint32_t drive, Evaluator& evaluator,
                    Findings& findings);

// The same where what is known to be dominated need not be evaluated: the objectives come first,
// and what a member in the shade dominates is counted as pruned, whatever rules it breaks. So is a
// charger whose twin, equal but for the price, was offered before.
void evaluate_undominated(const Setup& setup, const Space& space, const Compatible& compatible,
                          const LevelWork& level, std::uint32_t drive, Evaluator& evaluator,
                          Shade& shade, Findings& findings);

}  // namespace sprocketry::search
