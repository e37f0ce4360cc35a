#pragma once

#include <ostream>

#include "report/front_json.hpp"
#include "report/text.hpp"

namespace sprocketry::report {

// Members of a front to show when there are more than `most`: the best in each objective, then
// evenly over the front's order. Indices, ascending.
std::vector<std::size_t> spread(const Result& result, std::size_t most);

// The member that gives away least: the least sum of distances from the best of each objective,
// each in proportion to the objective's span over the front. Index; the front must not be empty.
std::size_t balanced(const Result& result);

// The front for people. At most 24 designs unless `all`.
void write_front_text(std::ostream& out, const Result& result, bool all, Colour colour);

}  // namespace sprocketry::report
