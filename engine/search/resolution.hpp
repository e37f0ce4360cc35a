#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "search/search.hpp"

namespace sprocketry::search {

// Indices, ascending, of members of a front so that each member of the whole front is matched: one
// that was kept is, in each of the first `count` objectives, no worse than it by more than the
// resolution. As every feasible combination is matched exactly by a member of the whole front, each
// is matched within the resolution by one that was kept. `objectives` are all to be made small and
// stand in lexicographic order, as Front::objectives do; the choice depends on nothing else.
//
// The first that is not matched yet takes, of those that match it, the one that is best in the
// other objectives, each in proportion to its resolution: in two objectives no smaller set exists,
// in more it is a good one.
std::vector<std::size_t> coarsened(
    const std::vector<std::array<double, kMostObjectives>>& objectives, std::size_t count,
    const Resolution& resolution);

// Keeps those members of the front only; Front::coarseness tells how many there were.
void coarsen(Front& front, std::size_t count, const Resolution& resolution);

}  // namespace sprocketry::search
