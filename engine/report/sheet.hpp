#pragma once

#include <ostream>
#include <string>
#include <vector>

#include "report/design_json.hpp"
#include "report/text.hpp"
#include "search/sheet.hpp"

namespace sprocketry::report {

// A part of a sheet: text, a table, steps to tick off and remarks, in this order; each may be
// missing.
struct Section {
  std::string title;
  std::vector<std::string> text;
  std::vector<Column> columns;
  std::vector<std::vector<std::string>> rows;
  std::vector<std::string> steps;
  std::vector<std::string> remarks;
};

// How far above the cut-off a controller begins to hold the current back. Common practice, no
// source.
inline constexpr double kRollBack = 1.05;

// What a builder reads, section by section; the same for every form.
std::vector<Section> sheet_sections(const search::Sheet& sheet, const spec::Job& job);

// Sections of the parts of it.
Section order_section(const search::Sheet& sheet, const spec::Job& job);
std::vector<Section> drive_sections(const search::Sheet& sheet, const spec::Job& job);
std::vector<Section> electrical_sections(const search::Sheet& sheet, const spec::Job& job);
Section expectation_section(const search::Sheet& sheet, const spec::Job& job);
Section pack_day_section(const search::Sheet& sheet, const spec::Job& job);

// Title of the sheet: the requirement's, or the design's id.
std::string sheet_title(const search::Sheet& sheet, const spec::Job& job);

// The paper of a page that is made to be printed.
enum class Paper { kA4, kLetter };

void write_sheet_markdown(std::ostream& out, const search::Sheet& sheet, const spec::Job& job);
void write_sheet_html(std::ostream& out, const search::Sheet& sheet, const spec::Job& job,
                      Paper paper);
// {"design": {...}, "order": [...], "wiring": {...}, "expect": {...}, "cautions": [...]}.
void write_sheet_json(std::ostream& out, const search::Sheet& sheet, const spec::Job& job,
                      RuleRows rows);

}  // namespace sprocketry::report
