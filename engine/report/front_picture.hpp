#pragma once

#include <ostream>
#include <string>
#include <string_view>

#include "report/front_json.hpp"

namespace sprocketry::report {

// Text with the characters that mean something in HTML replaced.
std::string escaped(std::string_view text);

// The front as a drawing (SVG inside a page): the second objective over the first, one dot for each
// member; a third objective gives the dot's colour and size in five classes, named in a legend
// (styles dot0 to dot4 of the page). The front must not be empty.
void write_front_picture(std::ostream& out, const Result& result);

}  // namespace sprocketry::report
