#include "search/drive_tree.hpp"

#include <algorithm>
#include <limits>
#include <tuple>

namespace sprocketry::search {
namespace {

constexpr double kBlockWidth = 1.06;
constexpr std::uint32_t kLeafDrives = 8;
// Sums in another order differ in the last digits; a bound stands back from them.
constexpr double kSlack = 1e-9;

class Builder {
 public:
  Builder(const Space& space, const std::vector<DriveOption>& drives, DriveTree& tree)
      : space_(&space), drives_(&drives), tree_(&tree) {}

  std::uint32_t build(std::uint32_t first, std::uint32_t last) {
    const auto index = static_cast<std::uint32_t>(tree_->nodes.size());
    tree_->nodes.push_back(limits(first, last));
    if (last - first <= kLeafDrives) {
      std::sort(at(first), at(last), [&](std::uint32_t a, std::uint32_t b) {
        return std::tuple((*drives_)[a].price, a) < std::tuple((*drives_)[b].price, b);
      });
      return index;
    }
    const std::uint32_t middle = first + (last - first) / 2;
    const std::uint32_t left = build(first, middle);
    const std::uint32_t right = build(middle, last);
    tree_->nodes[index].left = left;
    tree_->nodes[index].right = right;
    return index;
  }

 private:
  std::vector<std::uint32_t>::iterator at(std::uint32_t place) {
    return tree_->order.begin() + static_cast<std::ptrdiff_t>(place);
  }

  DriveNode limits(std::uint32_t first, std::uint32_t last) {
    constexpr double kFar = std::numeric_limits<double>::infinity();
    DriveNode node;
    node.first = first;
    node.last = last;
    node.least_ratio = node.least_mass = kFar;
    node.least_price = std::numeric_limits<Money>::max();
    for (std::uint32_t i = first; i < last; ++i) {
      const DriveOption& drive = (*drives_)[tree_->order[i]];
      const double mass = drive_mass(*space_, drive);
      node.least_ratio = std::min(node.least_ratio, drive.gearing.ratio);
      node.most_ratio = std::max(node.most_ratio, drive.gearing.ratio);
      node.most_lever = std::max(node.most_lever, drive.gearing.lever);
      node.least_mass = std::min(node.least_mass, mass);
      node.most_mass = std::max(node.most_mass, mass);
      node.least_price = std::min(node.least_price, drive.price);
    }
    node.least_ratio *= 1.0 - kSlack;
    node.most_ratio *= 1.0 + kSlack;
    node.most_lever *= 1.0 + kSlack;
    return node;
  }

  const Space* space_;
  const std::vector<DriveOption>* drives_;
  DriveTree* tree_;
};

}  // namespace

double drive_mass(const Space& space, const DriveOption& drive) {
  return drive.chain_mass + space.fronts[drive.front].mass + space.rears[drive.rear].mass;
}

DriveTree make_drive_tree(const Space& space, const std::vector<DriveOption>& drives,
                          const std::vector<std::uint32_t>& indices) {
  DriveTree tree;
  tree.order = indices;
  const auto key = [&](std::uint32_t d) {
    return std::tuple(drives[d].gearing.ratio, drives[d].gearing.lever, drives[d].price, d);
  };
  std::ranges::sort(tree.order, {}, key);
  Builder builder(space, drives, tree);
  const auto count = static_cast<std::uint32_t>(tree.order.size());
  for (std::uint32_t first = 0; first < count;) {
    const double widest = drives[tree.order[first]].gearing.ratio * kBlockWidth;
    std::uint32_t last = first + 1;
    while (last < count && drives[tree.order[last]].gearing.ratio <= widest) ++last;
    tree.blocks.push_back(builder.build(first, last));
    first = last;
  }
  return tree;
}

}  // namespace sprocketry::search
