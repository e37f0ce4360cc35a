#pragma once

#include <string>
#include <vector>

#include "report/front_json.hpp"

namespace sprocketry::report {

// The member that gives away least: the least sum of distances from the best of each objective,
// each in proportion to the objective's span over the front; of several the first. Index; the front
// must not be empty.
std::size_t balanced(const Result& result);

// Members to show of a front that may have more than `most` (at least 10, which is more than the
// objectives, the two ends and the balanced one): all of them, or exactly `most`, among them both
// ends of the front's order, the best in each objective and the balanced one; the others greedily,
// each time the one that adds most to the hypervolume of those chosen, objectives in proportion to
// their span and the reference a tenth of it beyond the worst. Indices, ascending.
std::vector<std::size_t> spread(const Result& result, std::size_t most);

// What each of these members stands out by: "best range", "knee" for the balanced one; "" mostly.
std::vector<std::string> standing_out(const Result& result,
                                      const std::vector<std::size_t>& members);

}  // namespace sprocketry::report
