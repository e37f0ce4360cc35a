#include "report/sheet.hpp"

namespace sprocketry::report {
namespace {

// Signs that Markdown takes for its own are kept as they are.
std::string plain(std::string_view text) {
  std::string result;
  for (std::size_t i = 0; i < text.size(); ++i) {
    // Inside a word "_" means nothing, and ids read better without a sign before it.
    const bool inside =
        text[i] == '_' && i > 0 && i + 1 < text.size() && text[i - 1] != ' ' && text[i + 1] != ' ';
    const bool special = std::string_view("\\`*_[]<>|#").find(text[i]) != std::string_view::npos;
    if (special && !inside) result += '\\';
    result += text[i];
  }
  return result;
}

void write_row(std::ostream& out, const std::vector<std::string>& cells) {
  out << '|';
  for (const std::string& cell : cells) out << ' ' << plain(cell) << (cell.empty() ? "|" : " |");
  out << '\n';
}

void write_table(std::ostream& out, const Section& s) {
  std::vector<std::string> headings;
  for (const Column& column : s.columns) {
    headings.push_back(column.unit.empty() ? column.heading
                                           : column.heading + " (" + column.unit + ")");
  }
  write_row(out, headings);
  out << '|';
  for (const Column& column : s.columns) out << (column.number ? "---:|" : "---|");
  out << '\n';
  for (const auto& row : s.rows) write_row(out, row);
  out << '\n';
}

void write_list(std::ostream& out, std::string_view bullet, const std::vector<std::string>& items) {
  for (const std::string& item : items) out << bullet << plain(item) << '\n';
  if (!items.empty()) out << '\n';
}

}  // namespace

void write_sheet_markdown(std::ostream& out, const search::Sheet& sheet, const spec::Job& job) {
  out << "# " << plain(sheet_title(sheet, job)) << "\n\n"
      << "Build sheet of " << plain(rules::design_id(sheet.design.parts)) << ".\n\n";
  for (const Section& s : sheet_sections(sheet, job)) {
    out << "## " << plain(s.title) << "\n\n";
    for (const std::string& text : s.text) out << plain(text) << "\n\n";
    if (!s.rows.empty()) write_table(out, s);
    write_list(out, "- [ ] ", s.steps);
    write_list(out, "- ", s.remarks);
  }
}

}  // namespace sprocketry::report
