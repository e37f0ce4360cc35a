#include "report/front_html.hpp"

#include <numeric>

#include "report/cautions.hpp"
#include "report/front_picture.hpp"
#include "report/front_sample.hpp"
#include "report/front_table.hpp"

namespace sprocketry::report {
namespace {

// Contrast of text is above 7 to 1 and of dots above 3 to 1 on both papers (WCAG 2.1, 1.4.6 and
// 1.4.11).
constexpr std::string_view kStyle = R"(
:root{color-scheme:light dark;--ink:#1b1b1b;--paper:#fff;--line:#8a8a8a;
--c0:#274b9f;--c1:#0f7285;--c2:#3f7d20;--c3:#a35f00;--c4:#b3261e}
@media (prefers-color-scheme:dark){:root{--ink:#ececec;--paper:#161616;--line:#808080;
--c0:#8fb2ff;--c1:#5cc8d6;--c2:#93d36f;--c3:#f0b429;--c4:#ff8a80}}
body{font:16px/1.45 system-ui,sans-serif;color:var(--ink);background:var(--paper);margin:1.5rem}
table{border-collapse:collapse;font-variant-numeric:tabular-nums}
caption{text-align:left;padding:.25rem 0}
th,td{border-bottom:1px solid var(--line);padding:.25rem .6rem;text-align:left;white-space:nowrap}
.n{text-align:right}
.scroll{overflow-x:auto}
svg{max-width:100%;height:auto}
svg text{fill:var(--ink);font-size:13px}
svg path{stroke:var(--line);fill:none}
circle{fill-opacity:.8}
.dot0{fill:var(--c0)}.dot1{fill:var(--c1)}.dot2{fill:var(--c2)}.dot3{fill:var(--c3)}.dot4{fill:var(--c4)}
.legend{display:flex;flex-wrap:wrap;gap:.2rem 1.2rem;list-style:none;padding:0}
)";

void write_heading(std::ostream& out, const Column& column) {
  out << "<th scope=\"col\"" << (column.number ? " class=\"n\"" : "") << '>'
      << escaped(column.heading);
  if (!column.unit.empty()) out << " [" << escaped(column.unit) << ']';
  out << "</th>";
}

void write_row(std::ostream& out, const std::vector<Column>& columns,
               const std::vector<std::string>& row) {
  out << "<tr><th scope=\"row\" class=\"n\">" << row.front() << "</th>";
  for (std::size_t c = 1; c < row.size(); ++c) {
    out << "<td" << (columns[c].number ? " class=\"n\"" : "") << '>' << escaped(row[c]) << "</td>";
  }
  out << "</tr>\n";
}

void write_table(std::ostream& out, const Result& r) {
  std::vector<std::size_t> all(r.front.members.size());
  std::iota(all.begin(), all.end(), std::size_t{0});
  const FrontTable shown = front_table(r, all);
  out << "<p>Number " << balanced(r) + 1 << " gives away least on all aims together.</p>\n"
      << "<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"The front\"><table>\n"
      << "<caption>The front, best " << escaped(shown.columns[1].heading) << " first."
      << (shown.shared.empty() ? "" : " All with " + shown.shared + '.')
      << "</caption>\n<thead><tr>";
  for (const Column& column : shown.columns) write_heading(out, column);
  out << "</tr></thead>\n<tbody>\n";
  for (const auto& row : shown.rows) write_row(out, shown.columns, row);
  out << "</tbody></table></div>\n";
}

}  // namespace

void write_front_html(std::ostream& out, const Result& r) {
  const std::string& name = r.job.requirement.title;
  const std::string title = escaped(name.empty() ? "Result" : name);
  out << "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">"
         "<meta name=\"viewport\" content=\"width=device-width\"><title>"
      << title << "</title><style>" << kStyle << "</style></head><body><main>\n<h1>" << title
      << "</h1>\n";
  if (r.front.members.empty()) {
    out << "<p>No combination meets every rule and demand.</p>\n";
  } else {
    out << "<p>" << grouped(r.front.members.size()) << " of "
        << grouped(r.front.account.combinations)
        << " combinations: none can be bettered in one aim without losing in another.</p>\n";
    write_front_picture(out, r);
    write_table(out, r);
  }
  out << "<h2>Before you build</h2>\n<ul>\n";
  for (const std::string& caution : cautions(r.job.requirement)) {
    out << "<li>" << escaped(caution) << "</li>\n";
  }
  out << "</ul>\n</main></body></html>\n";
}

}  // namespace sprocketry::report
