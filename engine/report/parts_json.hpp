#pragma once

#include <ostream>
#include <string_view>

#include "parts/catalogue.hpp"

namespace sprocketry::report {

// The catalogue as one JSON document: each kind a list, each part a line with the figures that the
// program computes with (stated or assumed), what it lacks null; then what was assumed.
void write_parts_json(std::ostream& out, const parts::Catalogue& catalogue,
                      std::string_view version);

}  // namespace sprocketry::report
