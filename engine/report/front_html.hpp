#pragma once

#include <ostream>

#include "report/front_json.hpp"

namespace sprocketry::report {

// The front as one page that needs nothing else: a picture of the first two objectives, the third
// as the size of the dot, a table, the cautions. Readable in light and dark and on paper.
void write_front_html(std::ostream& out, const Result& result);

}  // namespace sprocketry::report
