#include "search/hitting_set.hpp"

#include <algorithm>
#include <bit>
#include <optional>
#include <tuple>

namespace sprocketry::search {
namespace {

// A mask that contains another is hit by whatever hits that one.
std::vector<std::uint64_t> least_masks(std::vector<std::uint64_t> masks) {
  std::ranges::sort(masks, {},
                    [](std::uint64_t mask) { return std::tuple(std::popcount(mask), mask); });
  std::vector<std::uint64_t> least;
  for (const std::uint64_t mask : masks) {
    const auto within = [&](std::uint64_t other) { return (other & ~mask) == 0; };
    if (std::ranges::none_of(least, within)) least.push_back(mask);
  }
  return least;
}

// Any hitting set has a bit of the first mask that `chosen` misses, so trying each of its bits
// tries every set of that size.
std::optional<std::uint64_t> extend(const std::vector<std::uint64_t>& masks, std::uint64_t chosen,
                                    int more) {
  const auto missed =
      std::ranges::find_if(masks, [&](std::uint64_t mask) { return (mask & chosen) == 0; });
  if (missed == masks.end()) return chosen;
  if (more == 0) return std::nullopt;
  for (std::uint64_t rest = *missed; rest != 0; rest &= rest - 1) {
    if (auto found = extend(masks, chosen | (rest & (~rest + 1)), more - 1)) return found;
  }
  return std::nullopt;
}

}  // namespace

std::uint64_t smallest_hitting_set(std::vector<std::uint64_t> masks) {
  masks = least_masks(std::move(masks));
  // Every smaller size was exhausted before the next is tried.
  for (int size = 0;; ++size) {
    if (const auto found = extend(masks, 0, size)) return *found;
  }
}

}  // namespace sprocketry::search
