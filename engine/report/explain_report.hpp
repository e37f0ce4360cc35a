#pragma once

#include <ostream>

#include "report/text.hpp"
#include "search/explain.hpp"
#include "spec/load.hpp"

namespace sprocketry::report {

// The answer of the command `explain` for people, and as JSON (specs/schema/explain.schema.json).
void write_explain_text(std::ostream& out, const search::Explanation& explanation,
                        const search::Space& space, const spec::Job& job, Colour colour);
void write_explain_json(std::ostream& out, const search::Explanation& explanation,
                        const search::Space& space, const spec::Job& job);

}  // namespace sprocketry::report
