#pragma once

#include <ostream>
#include <vector>

#include "report/design_json.hpp"
#include "report/text.hpp"
#include "search/alternatives.hpp"

namespace sprocketry::report {

// The nearest designs without each part of a design, for people and as JSON.
void write_alternatives_text(std::ostream& out, const search::Design& design,
                             const std::vector<search::Without>& list, const search::Setup& setup,
                             const spec::Job& job, Colour colour);
void write_alternatives_json(std::ostream& out, const search::Design& design,
                             const std::vector<search::Without>& list, const search::Setup& setup,
                             const spec::Job& job, RuleRows rows);

}  // namespace sprocketry::report
