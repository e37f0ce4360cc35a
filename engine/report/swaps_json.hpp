#pragma once

#include <ostream>

#include "report/design_json.hpp"
#include "search/swaps.hpp"

namespace sprocketry::report {

// The swaps of a design as one JSON document: the present design, every swap as a design with
// `present` and `sprocket_price`, and the tooth counts that its chain does not reach.
void write_swaps_json(std::ostream& out, const search::Swaps& swaps, const spec::Job& job,
                      RuleRows rows);

}  // namespace sprocketry::report
