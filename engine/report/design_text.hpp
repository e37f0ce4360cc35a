#pragma once

#include <ostream>

#include "report/design_json.hpp"
#include "report/pack_days.hpp"
#include "report/text.hpp"
#include "search/design.hpp"

namespace sprocketry::report {

// The few lines that matter of one design: parts, full-charge voltage, settings, chain, what is out
// of limits, not checked or tight.
void write_design_lines(std::ostream& out, const search::Design& design, const spec::Job& job);

// "It meets every rule and demand; 2 cautions." of a design that no rule rejects, as a line.
std::string meets_text(const search::Design& design);

// One design whole: every figure with its meaning, every rule (or the telling ones) with its
// margin, the cautions.
void write_design_text(std::ostream& out, const search::Design& design,
                       const search::PackDays& days, const spec::Job& job, RuleRows rows,
                       Colour colour);

}  // namespace sprocketry::report
