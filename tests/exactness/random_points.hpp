#pragma once

#include <cstddef>
#include <cstdint>

#include "support/plain_front.hpp"

namespace sprocketry::test {

// A point set of a shape that the seed picks: uniform, rounded so that most values tie, all equal,
// twins, some objectives the same throughout, ranges of hundreds of decades, zeros of both signs,
// infinities, all on the front, a shell. The same seed gives the same set everywhere.
PointList random_points(std::uint64_t seed, std::size_t objectives, std::size_t count);

inline constexpr std::uint64_t kShapes = 10;  // seeds that differ by this give the same shape

}  // namespace sprocketry::test
