#pragma once

#include <string>

#include "report/design_json.hpp"
#include "search/design.hpp"

namespace sprocketry::report {

// Lines of a list of designs, one design a line. All of these may be called from several threads at
// once, each on its own text.

// The header line of a CSV: part columns, one column per metric (lists numbered from 1:
// cruise_1_range_km), and rejected_by when `with_rejections`. With its line end.
std::string csv_header(const spec::Requirement& requirement, bool with_rejections);

// Appends one design's line of the CSV. A metric that does not exist, or no charger, is an empty
// field; the rules that reject are joined with ';'.
void append_csv(std::string& text, const search::Design& design, bool with_rejections);

// Appends one design as a line of JSON, with rejected_by.
void append_jsonl(std::string& text, const search::Design& design,
                  const spec::Requirement& requirement, RuleRows rows);

}  // namespace sprocketry::report
