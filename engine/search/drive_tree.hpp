#pragma once

#include <cstdint>
#include <vector>

#include "search/compatible.hpp"

namespace sprocketry::search {

// Some drives of a motor that are alike: a contiguous part of a tree's order, with the limits
// between which all of them lie.
struct DriveNode {
  std::uint32_t first = 0;  // into DriveTree::order
  std::uint32_t last = 0;
  std::uint32_t left = 0;  // children; both 0 for a leaf
  std::uint32_t right = 0;
  double least_ratio = 0;  // 1/m
  double most_ratio = 0;
  double most_lever = 0;  // 1/m
  double least_mass = 0;  // kg of chain and sprockets
  double most_mass = 0;
  Money least_price = 0;

  [[nodiscard]] bool leaf() const { return left == 0; }
  [[nodiscard]] std::uint32_t size() const { return last - first; }
};

// A motor's drives in order of reduction, cut into blocks a few per cent wide and these into halves
// down to a handful of drives. Leaves hold their drives by ascending price.
struct DriveTree {
  std::vector<std::uint32_t> order;  // indices into Compatible::drives
  std::vector<DriveNode> nodes;
  std::vector<std::uint32_t> blocks;  // top nodes
};

// `drives` are indices into compatible.drives. The tree depends on nothing else.
DriveTree make_drive_tree(const Space& space, const std::vector<DriveOption>& drives,
                          const std::vector<std::uint32_t>& indices);

// Mass in kg of a drive's chain and sprockets.
double drive_mass(const Space& space, const DriveOption& drive);

}  // namespace sprocketry::search
