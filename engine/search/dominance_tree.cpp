#include "search/dominance_tree.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <cstdint>
#include <limits>
#include <span>

#include "search/points.hpp"

namespace sprocketry::search {
namespace {

// Neighbours together: halves by one objective after the other. The left part is a power of two of
// blocks, so that eight blocks in a row are the parts of one cut.
template <std::size_t D>
void order(std::span<std::array<double, D>> points, std::size_t objective) {
  if (points.size() <= kLanes) return;
  const std::size_t blocks = (points.size() + kLanes - 1) / kLanes;
  const std::size_t left = kLanes * (std::bit_ceil(blocks) / 2);
  std::ranges::nth_element(points, points.begin() + static_cast<std::ptrdiff_t>(left), {},
                           [=](const auto& point) { return point[objective]; });
  const std::size_t next = (objective + 1) % D;
  order<D>(points.first(left), next);
  order<D>(points.subspan(left), next);
}

template <std::size_t D>
Blocks ordered(const std::vector<double>& values) {
  std::vector<std::array<double, D>> points(values.size() / D);
  for (std::size_t i = 0; i < points.size(); ++i) {
    std::copy_n(values.begin() + static_cast<std::ptrdiff_t>(i * D), D, points[i].begin());
  }
  order<D>(points, 0);
  Blocks blocks(D);
  for (const auto& point : points) blocks.add(point.data());
  return blocks;
}

Blocks ordered(std::size_t objectives, const std::vector<double>& values) {
  switch (objectives) {
    case 1:
      return ordered<1>(values);
    case 2:
      return ordered<2>(values);
    case 3:
      return ordered<3>(values);
    case 4:
      return ordered<4>(values);
    case 5:
      return ordered<5>(values);
    default:
      return ordered<6>(values);
  }
}

Blocks corners(const Blocks& below) {
  Blocks above(below.objectives());
  Point corner{};
  for (std::size_t first = 0; first < below.points(); first += kLanes) {
    const std::size_t last = std::min(below.points(), first + kLanes);
    for (std::size_t i = 0; i < below.objectives(); ++i) {
      corner[i] = below.at(first, i);
      for (std::size_t p = first + 1; p < last; ++p)
        corner[i] = std::min(corner[i], below.at(p, i));
    }
    above.add(corner.data());
  }
  return above;
}

// A few of the points, far from each other, and the first eight so too; none of few.
Blocks spread(const Blocks& points) {
  constexpr std::size_t kPivots = 32;
  Blocks pivots(points.objectives());
  if (points.points() < kPivots * kLanes) return pivots;
  Point pivot{};
  for (std::size_t i = 0; i < kPivots; ++i) {
    const std::size_t part = i * kLanes % kPivots + i * kLanes / kPivots;
    const std::size_t point = (2 * part + 1) * points.points() / (2 * kPivots);
    for (std::size_t j = 0; j < points.objectives(); ++j) pivot[j] = points.at(point, j);
    pivots.add(pivot.data());
  }
  return pivots;
}

}  // namespace

DominanceTree::DominanceTree(std::size_t objectives, const std::vector<double>& values) {
  if (values.empty()) return;
  levels_.push_back(ordered(objectives, values));
  pivots_ = spread(levels_[0]);
  while (levels_.back().points() > kLanes) levels_.push_back(corners(levels_.back()));
}

std::vector<double> DominanceTree::values() const {
  std::vector<double> values;
  if (levels_.empty()) return values;
  const Blocks& leaves = levels_.front();
  values.reserve(leaves.points() * leaves.objectives());
  for (std::size_t p = 0; p < leaves.points(); ++p) {
    for (std::size_t i = 0; i < leaves.objectives(); ++i) values.push_back(leaves.at(p, i));
  }
  return values;
}

template <typename AtLeaf>
const double* DominanceTree::find(const double* point, AtLeaf at_leaf) const {
  if (levels_.empty()) return nullptr;
  for (std::size_t b = 0; b < pivots_.blocks(); ++b) {
    if (at_leaf(pivots_, b)) return pivots_.rows(b);
  }
  struct Node {
    std::size_t first = 0;  // of the eight blocks one level down
    unsigned open = 0;      // those still to enter
  };
  // 2^32 points make eleven levels.
  std::array<Node, 12> path;
  std::size_t level = levels_.size() - 1;
  if (level == 0) return at_leaf(levels_[0], 0) ? levels_[0].rows(0) : nullptr;
  path[level] = {0, lanes::at_most(levels_[level].rows(0), levels_[level].objectives(), point)};
  while (true) {
    Node& node = path[level];
    if (node.open == 0) {
      if (++level == levels_.size()) return nullptr;
      continue;
    }
    const std::size_t block = node.first + static_cast<std::size_t>(std::countr_zero(node.open));
    node.open &= node.open - 1;
    if (level == 1) {
      if (block < levels_[0].blocks() && at_leaf(levels_[0], block)) return levels_[0].rows(block);
      continue;
    }
    if (block >= levels_[level - 1].blocks()) continue;
    --level;
    path[level] = {block * kLanes,
                   lanes::at_most(levels_[level].rows(block), levels_[level].objectives(), point)};
  }
}

bool DominanceTree::covers(const double* point) const {
  const auto* found = find(point, [&](const Blocks& leaves, std::size_t block) {
    return lanes::at_most(leaves.rows(block), leaves.objectives(), point) != 0;
  });
  return found != nullptr;
}

const double* DominanceTree::dominating(const double* point) const {
  return find(point, [&](const Blocks& leaves, std::size_t block) {
    return lanes::dominate(leaves.rows(block), leaves.objectives(), point);
  });
}

}  // namespace sprocketry::search
