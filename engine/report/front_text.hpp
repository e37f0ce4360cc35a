#pragma once

#include <ostream>

#include "report/front_json.hpp"
#include "report/text.hpp"

namespace sprocketry::report {

// The front for people: counts, a table of at most 24 designs unless `all`, one design in detail,
// what was assumed, the cautions. Where nothing meets every rule, says so and why.
void write_front_text(std::ostream& out, const Result& result, bool all, Colour colour);

}  // namespace sprocketry::report
