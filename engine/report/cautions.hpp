#pragma once

#include <ostream>
#include <span>
#include <string_view>

#include "report/text.hpp"

namespace sprocketry::report {

// What can hurt a person who builds what the program computes; printed with every result.
std::span<const std::string_view> cautions();

// The same as a list under a heading.
void write_cautions(std::ostream& out, Colour colour);

}  // namespace sprocketry::report
