#pragma once

#include <cstddef>
#include <vector>

#include "search/dominance_tree.hpp"
#include "search/lanes.hpp"

namespace sprocketry::search {

// A growing set of points asked as a DominanceTree is: the latest ones in blocks, the others in
// trees, each several times as large as the next. Points that others of the set dominate are let go
// now and then; what they dominate those others do too, so no answer changes.
class DominanceForest {
 public:
  explicit DominanceForest(std::size_t objectives) : latest_(objectives) {}

  void add(const double* point);

  // The points, one after the other, in place of all that was added.
  void assign(const std::vector<double>& values);

  // True when some point is nowhere above the given one; an equal one counts.
  [[nodiscard]] bool covers(const double* point) const;

  // True when some point is nowhere above the given one and somewhere below it.
  [[nodiscard]] bool dominates(const double* point) const { return dominating(point) != nullptr; }

  // Eight points, one of them such a one, as DominanceTree::dominating() gives them, or null. They
  // stay until the set changes.
  [[nodiscard]] const double* dominating(const double* point) const;

 private:
  void plant();

  Blocks latest_;
  std::vector<DominanceTree> trees_;  // the largest first
};

}  // namespace sprocketry::search
