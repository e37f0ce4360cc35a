#include "report/front_picture.hpp"
#include "report/sheet.hpp"

namespace sprocketry::report {
namespace {

// Made for paper: black on white, no table row and no step broken over a page, a heading stays with
// what it heads.
constexpr std::string_view kStyle = R"(
*{box-sizing:border-box}
body{font:10.5pt/1.4 sans-serif;color:#000;background:#fff;margin:0 auto;max-width:190mm}
h1{font-size:17pt;margin:0 0 2mm}
h2{font-size:12.5pt;margin:6mm 0 2mm;border-bottom:.4mm solid #000;break-after:avoid}
p{margin:0 0 2mm}
table{border-collapse:collapse;width:100%;font-variant-numeric:tabular-nums}
th,td{border-bottom:.2mm solid #777;padding:.8mm 1.5mm;text-align:left;vertical-align:top;
overflow-wrap:anywhere}
thead th{border-bottom:.4mm solid #000}
tr,li{break-inside:avoid}
thead{display:table-header-group}
.n{text-align:right;white-space:nowrap}
.blank{min-width:28mm}
.key{white-space:nowrap}
ul{margin:2mm 0;padding-left:5mm}
li{margin:.8mm 0}
.steps{list-style:none;padding:0}
.steps li{padding-left:7mm;position:relative}
.steps li::before{content:"";position:absolute;left:0;top:.6mm;width:3.6mm;height:3.6mm;
border:.3mm solid #000}
@media screen{body{padding:10mm}}
)";

void write_cell(std::ostream& out, const Column& column, std::string_view tag,
                const std::string& text) {
  out << '<' << tag;
  if (column.number) out << " class=\"n\"";
  if (column.heading == "yours") out << " class=\"blank\"";
  if (column.heading == "key") out << " class=\"key\"";
  out << '>' << escaped(text) << "</" << tag << '>';
}

void write_table(std::ostream& out, const Section& s) {
  out << "<table><thead><tr>";
  for (const Column& column : s.columns) {
    write_cell(out, column, "th",
               column.unit.empty() ? column.heading : column.heading + " [" + column.unit + "]");
  }
  out << "</tr></thead><tbody>\n";
  for (const auto& row : s.rows) {
    out << "<tr>";
    for (std::size_t i = 0; i < row.size(); ++i) write_cell(out, s.columns[i], "td", row[i]);
    out << "</tr>\n";
  }
  out << "</tbody></table>\n";
}

void write_list(std::ostream& out, std::string_view kind, const std::vector<std::string>& items) {
  if (items.empty()) return;
  out << "<ul class=\"" << kind << "\">\n";
  for (const std::string& item : items) out << "<li>" << escaped(item) << "</li>\n";
  out << "</ul>\n";
}

}  // namespace

void write_sheet_html(std::ostream& out, const search::Sheet& sheet, const spec::Job& job,
                      Paper paper) {
  const std::string title = escaped(sheet_title(sheet, job));
  out << "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">"
         "<meta name=\"viewport\" content=\"width=device-width\"><title>"
      << title << "</title><style>@page{size:" << (paper == Paper::kA4 ? "A4" : "letter")
      << ";margin:14mm 12mm}" << kStyle << "</style></head><body><main>\n<h1>" << title
      << "</h1>\n<p>Build sheet of " << escaped(rules::design_id(sheet.design.parts)) << ".</p>\n";
  for (const Section& s : sheet_sections(sheet, job)) {
    out << "<section><h2>" << escaped(s.title) << "</h2>\n";
    for (const std::string& text : s.text) out << "<p>" << escaped(text) << "</p>\n";
    if (!s.rows.empty()) write_table(out, s);
    write_list(out, "steps", s.steps);
    write_list(out, "remarks", s.remarks);
    out << "</section>\n";
  }
  out << "</main></body></html>\n";
}

}  // namespace sprocketry::report
