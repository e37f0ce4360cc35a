#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace sprocketry::search {

// The places, below `count`, of the points that no other dominates: nowhere worse, somewhere
// better, all objectives to be made small. Points that are equal are all kept. `columns` holds one
// array of `count` numbers per objective, one to six; no NaN; count below 2^32. In order of the
// objectives, equal points in order of their places. `pieces` of them are taken side by side on the
// threads of the caller's arena, and the front of their fronts after; the answer is the same.
std::vector<std::uint32_t> front_of(std::span<const double* const> columns, std::size_t count,
                                    std::size_t pieces = 1);

}  // namespace sprocketry::search
