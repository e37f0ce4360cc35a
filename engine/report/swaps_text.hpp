#pragma once

#include <ostream>

#include "report/text.hpp"
#include "search/swaps.hpp"
#include "spec/load.hpp"

namespace sprocketry::report {

// The swaps of a design for people: one line for each front sprocket with what it gives and what it
// breaks, the present one marked; then each broken rule and caution, the tooth counts that need
// another chain, the cautions.
void write_swaps_text(std::ostream& out, const search::Swaps& swaps, const spec::Job& job,
                      Colour colour);

}  // namespace sprocketry::report
