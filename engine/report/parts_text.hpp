#pragma once

#include <ostream>

#include "parts/catalogue.hpp"
#include "report/text.hpp"

namespace sprocketry::report {

// The catalogue for people: one table per kind with the figures that matter.
void write_parts_text(std::ostream& out, const parts::Catalogue& catalogue, Colour colour);

}  // namespace sprocketry::report
