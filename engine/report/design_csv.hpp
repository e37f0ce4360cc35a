#pragma once

#include <string>

#include "search/design.hpp"

namespace sprocketry::report {

// The header line of a table of designs: part columns, one column per metric (lists numbered from
// 1: cruise_1_range_km), and rejected_by when `with_rejections`. With its line end.
std::string csv_header(const spec::Requirement& requirement, bool with_rejections);

// Appends one design's line. A metric that does not exist is an empty field.
void append_csv(std::string& text, const search::Design& design, bool with_rejections);

// Appends one design as a line of JSON, with rejected_by.
void append_jsonl(std::string& text, const search::Design& design,
                  const spec::Requirement& requirement);

}  // namespace sprocketry::report
