#pragma once

#include <ostream>
#include <string>

#include "report/json_writer.hpp"
#include "search/design.hpp"

namespace sprocketry::report {

// "chain" of a design: the fitted run, every link count inside the adjuster's travel, what to buy,
// and with a swing arm the slack to set (null without).
void write_chain(JsonWriter& json, const search::Design& design,
                 const spec::Requirement& requirement);

// The same for people, without what the line on the gearing says: link counts that fit, how to cut
// the chain, how to set it. Nothing when no chain fits.
void write_chain_work(std::ostream& out, const search::Design& design,
                      const spec::Requirement& requirement);

// How both sprockets come into one plane, in words; "" where a size that it needs is not stated.
std::string chain_line_text(const search::Design& design, const spec::Requirement& requirement);

}  // namespace sprocketry::report
