#pragma once

#include <vector>

#include "search/design.hpp"

namespace sprocketry::search {

// A design with another front sprocket, all else as it is: the same rear sprocket and the same
// chain, not a link more or less.
struct Swap {
  Design design;
  Money price = 0;  // of the front sprocket, fabrication included
  bool present = false;
};

// A tooth count of the same family with which that chain does not end inside the adjuster's travel.
struct OutOfReach {
  int teeth = 0;
  double centre_distance = model::kNone;  // m; kNone: the chain does not go round
  int links = 0;                          // of the chain that would fit; 0: none does
};

// What a rider can change cheaply. Front sprockets come from the whole catalogue: all tooth counts
// of the design's own family, and those of other families that pass every fit rule that the present
// one passes, so that they sit on the same shaft under the same chain.
struct Swaps {
  Space space;  // what the designs point into
  Design present;
  std::vector<Swap> swaps;         // the present one among them, ascending in teeth, then family
  std::vector<OutOfReach> beyond;  // of the own family, ascending in teeth

  // Whether a front sprocket other than the present one meets every rule.
  [[nodiscard]] bool any_other_holds() const;
};

// The swaps of a combination of `space`, which was picked from the job. Both lists are empty when
// the design's own chain does not end inside the adjuster's travel.
Swaps find_swaps(const spec::Job& job, const Setup& setup, const Space& space,
                 const Combination& combination);

}  // namespace sprocketry::search
