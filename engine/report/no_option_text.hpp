#pragma once

#include <ostream>

#include "search/no_option.hpp"

namespace sprocketry::report {

// What a person reads in place of an answer when the space of the job has a slot that nothing can
// fill: which, why, and what to write.
void write_no_option(std::ostream& out, const spec::Job& job, const search::Space& space);

}  // namespace sprocketry::report
