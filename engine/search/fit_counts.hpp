#pragma once

#include <vector>

#include "search/compatible.hpp"

namespace sprocketry::search {

// What one rule does among some combinations.
struct RuleCount {
  const rules::Rule* rule = nullptr;
  Count rejects = 0;  // whatever other rules say
  Count alone = 0;    // of these, those that no other rule rejects
};

// The rules on a few parts among all combinations of a space, in published order; of "alone" the
// other rules are those on a few parts too. `compatible` is how many combinations pass them all.
std::vector<RuleCount> fit_counts(const Setup& setup, const Space& space, Count compatible);

}  // namespace sprocketry::search
