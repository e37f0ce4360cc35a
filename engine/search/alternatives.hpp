#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "search/search.hpp"

namespace sprocketry::search {

// A design that does without a part, with what it gives away: `loss` is the largest share by which
// one of its objectives is worse than the design's that it stands in for (0 when none is), `worst`
// that objective's number.
struct Alternative {
  Design design;
  double loss = 0;
  std::size_t worst = 0;
};

// The nearest designs without one part of a design.
struct Without {
  std::string_view slot;  // "motor"
  std::string id;         // the part; of a pack its cell, of a sprocket its family
  std::size_t front = 0;  // members of the front without it
  std::vector<Alternative> nearest;
  std::shared_ptr<const Space> space;  // what the designs point into
};

// For each part of a combination of `space` the `most` nearest combinations without it, by loss,
// then by the objectives. The nearest are proved: of all that meet every rule one of least loss is
// on the front of the space without the part, since what dominates another loses no more than it.
// Chargers that are none are left out.
std::vector<Without> find_alternatives(const Setup& setup, const Space& space,
                                       const Combination& combination, std::size_t most,
                                       int threads);

}  // namespace sprocketry::search
