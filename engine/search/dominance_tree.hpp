#pragma once

#include <cstddef>
#include <vector>

#include "search/lanes.hpp"

namespace sprocketry::search {

// A fixed set of points, asked whether one of them is at or below a given point in every objective.
// Blocks of eight neighbours; above each level the blocks' lowest corners, again eight to a block.
// What lies at or below a point lies in blocks whose corner does, so only those are entered.
class DominanceTree {
 public:
  DominanceTree() = default;

  // `values` holds the points one after the other, `objectives` numbers each; no NaN.
  DominanceTree(std::size_t objectives, const std::vector<double>& values);

  [[nodiscard]] std::size_t points() const {
    return levels_.empty() ? 0 : levels_.front().points();
  }

  // The points, one after the other.
  [[nodiscard]] std::vector<double> values() const;

  // True when some point is nowhere above the given one; an equal one counts.
  [[nodiscard]] bool covers(const double* point) const;

  // True when some point is nowhere above the given one and somewhere below it.
  [[nodiscard]] bool dominates(const double* point) const { return dominating(point) != nullptr; }

  // Eight points, one of them such a one, as rows of eight per objective (see lanes.hpp), or null.
  // They stay where they are as long as the tree.
  [[nodiscard]] const double* dominating(const double* point) const;

 private:
  template <typename AtLeaf>
  [[nodiscard]] const double* find(const double* point, AtLeaf at_leaf) const;

  Blocks pivots_;               // some of the points, spread, that are asked first
  std::vector<Blocks> levels_;  // the points, then corners up to a single block
};

}  // namespace sprocketry::search
