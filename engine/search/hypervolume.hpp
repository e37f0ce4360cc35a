#pragma once

#include <cstddef>
#include <vector>

namespace sprocketry::search {

// A point with every objective to be made small, all points of a set as long.
using Values = std::vector<double>;

// Volume of what at least one of the points dominates below the reference point: the union of the
// boxes from each point to the reference. Points that are not below it in every objective count
// nothing. (Zitzler and Thiele 1998; by exclusive volumes, While, Bradstreet and Barone, IEEE
// Trans. Evol. Comp. 16, 2012.)
double hypervolume(const std::vector<Values>& points, const Values& reference);

// What `point` adds to the hypervolume of `others`.
double exclusive_volume(const Values& point, const std::vector<Values>& others,
                        const Values& reference);

// Indices, ascending, of at most `most` of the points: `first` (indices, which count) and then one
// after the other the point that adds most to the hypervolume of those chosen, of several the
// first. Greedy choice leaves at least 1 - 1/e of the best possible, since additions only shrink as
// the set grows (Nemhauser, Wolsey and Fisher 1978); which also lets most candidates go unasked.
std::vector<std::size_t> widest(const std::vector<Values>& points, const Values& reference,
                                const std::vector<std::size_t>& first, std::size_t most);

}  // namespace sprocketry::search
