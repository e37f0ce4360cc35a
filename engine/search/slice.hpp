#pragma once

#include "search/space.hpp"

namespace sprocketry::search {

// A limit against a slip of the hand: a slice costs some milliseconds however little is in it.
inline constexpr std::size_t kMostSlices = 100000;

// One of `of` parts of a space that share no combination and are together the whole of it.
struct Slice {
  std::size_t index = 1;  // 1 to `of`
  std::size_t of = 1;     // 1 to kMostSlices
};

// That part of a space, itself a space: of the slot with the most options (of several the first)
// every `of`-th one, beginning with the `index`-th. Where there are more slices than options, the
// slices that begin with the same option share its part among them, by the next slot likewise.
// Empty when every combination has a slice of its own already. The parts' counts of combinations
// add up to the whole's, and so do, where every combination is evaluated, those of each rule.
Space slice_of(const Space& space, const Slice& slice);

}  // namespace sprocketry::search
