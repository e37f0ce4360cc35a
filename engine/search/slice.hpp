#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "search/design.hpp"
#include "search/space.hpp"

namespace sprocketry::search {

// A limit against a slip of the hand: a slice costs some milliseconds however little is in it.
inline constexpr std::size_t kMostSlices = 100000;

// One of `of` parts of a space that share no combination and are together the whole of it.
struct Slice {
  std::size_t index = 1;  // 1 to `of`
  std::size_t of = 1;     // 1 to kMostSlices
};

// Of each slot, in the order of Combination, the numbers of the whole space's options that a slice
// has, ascending: of the slot with the most options (of several the first) every `of`-th one,
// beginning with the `index`-th. Where there are more slices than options, the slices that begin
// with the same option share its part among them, by the next slot likewise. A slot has none when
// every combination has a slice of its own already.
using SliceOptions = std::array<std::vector<std::uint32_t>, 7>;
SliceOptions slice_options(const Space& space, const Slice& slice);

// The slice as a space. The slices' counts of combinations add up to the whole's, and so do, where
// every combination is evaluated, those of each rule.
Space slice_of(const Space& space, const SliceOptions& options);
Space slice_of(const Space& space, const Slice& slice);

// A combination of the slice as one of the whole space.
Combination in_whole(const SliceOptions& options, const Combination& combination);

}  // namespace sprocketry::search
