#pragma once

#include <ostream>

#include "report/front_json.hpp"

namespace sprocketry::report {

// The front as one page that needs nothing else, no script and no other file: a picture of the
// first two objectives, coloured by the third, every member as a table in the front's order, the
// cautions. Readable in light and dark, on paper, and read aloud.
void write_front_html(std::ostream& out, const Result& result);

}  // namespace sprocketry::report
