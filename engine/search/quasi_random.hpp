#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace sprocketry::search {

// Dimensions for which direction numbers are known (Boost.Random's table, of Joe and Kuo 2010).
inline constexpr std::size_t kMostDimensions = 3667;

// The first `count` points of Sobol's sequence in so many dimensions, one column each, every
// coordinate inside (0, 1). Each dimension is shifted by a word of its own that `seed` determines
// (the bits are exchanged, which keeps how evenly the points lie). The points of a shorter sequence
// are the first of a longer one, and the columns of fewer dimensions the first of more. Throws
// std::invalid_argument beyond kMostDimensions.
std::vector<std::vector<double>> quasi_random(std::size_t count, std::size_t dimensions,
                                              std::uint64_t seed);

}  // namespace sprocketry::search
