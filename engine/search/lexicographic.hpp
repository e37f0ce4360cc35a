#pragma once

#include <cstdint>
#include <vector>

#include "search/points.hpp"

namespace sprocketry::search {

// The points' indices by first objective, then second and so on; equal points by index.
std::vector<std::uint32_t> lexicographic_order(const Points& points);

}  // namespace sprocketry::search
