#include "report/front_html.hpp"

#include <algorithm>
#include <cmath>

#include "report/cautions.hpp"
#include "report/front_text.hpp"
#include "report/text.hpp"

namespace sprocketry::report {
namespace {

constexpr std::string_view kStyle = R"(
:root{color-scheme:light dark;--ink:#1b1b1b;--paper:#fff;--line:#b9b9b9;--dot:#0b5394}
@media (prefers-color-scheme:dark){:root{--ink:#ececec;--paper:#161616;--line:#555;--dot:#8ab8f0}}
body{font:16px/1.45 system-ui,sans-serif;color:var(--ink);background:var(--paper);margin:1.5rem}
table{border-collapse:collapse;font-variant-numeric:tabular-nums}
th,td{border-bottom:1px solid var(--line);padding:.25rem .6rem;text-align:left;white-space:nowrap}
td.n,th.n{text-align:right}
.scroll{overflow-x:auto}
svg{max-width:100%;height:auto}
svg text{fill:var(--ink);font-size:13px}
svg line{stroke:var(--line)}
svg circle{fill:var(--dot);fill-opacity:.7}
)";

std::string escaped(std::string_view text) {
  std::string result;
  for (const char c : text) {
    switch (c) {
      case '&':
        result += "&amp;";
        break;
      case '<':
        result += "&lt;";
        break;
      case '>':
        result += "&gt;";
        break;
      case '"':
        result += "&quot;";
        break;
      default:
        result += c;
    }
  }
  return result;
}

std::string heading(const Shown& s) {
  return s.label + (s.unit.empty() ? "" : " [" + s.unit + "]");
}

// One objective of every member, in the units that are shown.
std::vector<double> values_of(const Result& r, std::size_t objective) {
  const spec::MetricInfo& info = *r.setup.objectives[objective];
  const double factor = shown(info, r.job.requirement).factor;
  const double sign = info.better == spec::Better::kLower ? 1.0 : -1.0;
  std::vector<double> values;
  for (const auto& member : r.front.objectives) values.push_back(sign * member[objective] * factor);
  return values;
}

// A linear scale from values to places on the page.
struct Axis {
  double low, high, from, to;

  Axis(const std::vector<double>& values, double page_from, double page_to)
      : low(*std::ranges::min_element(values)),
        high(*std::ranges::max_element(values)),
        from(page_from),
        to(page_to) {
    if (!(high > low)) high = low + 1;
  }
  [[nodiscard]] double at(double value) const {
    return from + (to - from) * (value - low) / (high - low);
  }
};

void write_picture(std::ostream& out, const Result& r) {
  const std::vector<double> x = values_of(r, 0);
  const std::vector<double> y = values_of(r, 1);
  const bool third = r.setup.objectives.size() > 2;
  const std::vector<double> size = values_of(r, third ? 2 : 1);
  const Axis across(x, 70, 690);
  const Axis up(y, 350, 20);
  const Axis radius(size, 3, 9);
  const Shown sx = shown(*r.setup.objectives[0], r.job.requirement);
  const Shown sy = shown(*r.setup.objectives[1], r.job.requirement);
  out << "<svg viewBox=\"0 0 720 410\" role=\"img\" aria-label=\"" << escaped(sy.label) << " over "
      << escaped(sx.label) << "\">\n"
      << "<line x1=\"60\" y1=\"360\" x2=\"700\" y2=\"360\"/><line x1=\"60\" y1=\"10\" x2=\"60\" "
         "y2=\"360\"/>\n";
  for (int i = 0; i <= 4; ++i) {
    const double vx = across.low + (across.high - across.low) * i / 4;
    const double vy = up.low + (up.high - up.low) * i / 4;
    out << "<text text-anchor=\"middle\" x=\"" << rounded(across.at(vx), 1) << "\" y=\"378\">"
        << rounded(vx, sx.decimals) << "</text><text text-anchor=\"end\" x=\"54\" y=\""
        << rounded(up.at(vy) + 4, 1) << "\">" << rounded(vy, sy.decimals) << "</text>\n";
  }
  out << "<text x=\"380\" y=\"402\" text-anchor=\"middle\">" << escaped(heading(sx))
      << "</text><text x=\"66\" y=\"14\">" << escaped(heading(sy)) << "</text>\n";
  for (std::size_t i = 0; i < x.size(); ++i) {
    out << "<circle cx=\"" << rounded(across.at(x[i]), 1) << "\" cy=\"" << rounded(up.at(y[i]), 1)
        << "\" r=\"" << rounded(radius.at(size[i]), 1) << "\"/>\n";
  }
  out << "</svg>\n";
  if (third) {
    out << "<p>The larger the dot, the more "
        << escaped(heading(shown(*r.setup.objectives[2], r.job.requirement))) << ".</p>\n";
  }
}

void write_table(std::ostream& out, const Result& r) {
  out << "<div class=\"scroll\"><table><thead><tr><th class=\"n\" scope=\"col\">#</th>";
  for (const spec::MetricInfo* info : r.setup.objectives) {
    out << "<th class=\"n\" scope=\"col\">" << escaped(heading(shown(*info, r.job.requirement)))
        << "</th>";
  }
  for (const char* part : {"gearing", "motor", "controller", "pack", "charger", "chain"}) {
    out << "<th scope=\"col\">" << part << "</th>";
  }
  out << "</tr></thead><tbody>\n";
  const auto designs = selections(r.space, r.front);
  for (std::size_t i = 0; i < designs.size(); ++i) {
    const rules::Selection& s = designs[i];
    out << "<tr><td class=\"n\">" << i + 1 << "</td>";
    for (std::size_t k = 0; k < r.setup.objectives.size(); ++k) {
      const spec::MetricInfo& info = *r.setup.objectives[k];
      const Shown unit = shown(info, r.job.requirement);
      const double sign = info.better == spec::Better::kLower ? 1.0 : -1.0;
      out << "<td class=\"n\">"
          << rounded(sign * r.front.objectives[i][k] * unit.factor, unit.decimals) << "</td>";
    }
    out << "<td>" << s.front_teeth << '/' << s.rear_teeth << "</td><td>" << s.motor->id
        << "</td><td>" << s.controller->id << "</td><td>" << s.pack->id << "</td><td>"
        << (s.charger ? s.charger->id : rules::kNoCharger) << "</td><td>" << s.chain->id
        << "</td></tr>\n";
  }
  out << "</tbody></table></div>\n";
}

}  // namespace

void write_front_html(std::ostream& out, const Result& r) {
  const std::string title =
      escaped(r.job.requirement.title.empty() ? "Result" : r.job.requirement.title);
  out << "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">"
         "<meta name=\"viewport\" content=\"width=device-width\"><title>"
      << title << "</title><style>" << kStyle << "</style></head><body>\n<h1>" << title
      << "</h1>\n";
  if (r.front.members.empty()) {
    out << "<p>No combination meets every rule and demand.</p>\n";
  } else {
    out << "<p>" << r.front.members.size() << " of " << grouped(r.front.account.combinations)
        << " combinations: none can be bettered in one aim without losing in another.</p>\n";
    write_picture(out, r);
    write_table(out, r);
  }
  out << "<h2>Before you build</h2><ul>\n";
  for (const std::string_view caution : cautions()) out << "<li>" << escaped(caution) << "</li>\n";
  out << "</ul></body></html>\n";
}

}  // namespace sprocketry::report
