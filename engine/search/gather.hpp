#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "search/search.hpp"
#include "search/slice.hpp"

namespace sprocketry::search {

// A slice's front as words that another process of this program on a like machine can read.
using Words = std::vector<std::uint64_t>;
Words words_of(const Front& front, const SliceOptions& options);

// The front of the whole space, in its option numbers, from those of all its slices, each found
// with the same `near` (0 to 0.5). It is the one that one search of the whole finds; so is the
// account, but for how it is split where what cannot be on the front was left out. Throws
// std::invalid_argument when words are not those of a front, which is a defect.
Front gathered(const Setup& setup, std::span<const Words> slices, double near);

}  // namespace sprocketry::search
