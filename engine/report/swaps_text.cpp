#include "report/swaps_text.hpp"

#include <algorithm>
#include <array>
#include <span>

#include "report/cautions.hpp"
#include "report/display.hpp"

namespace sprocketry::report {
namespace {

using search::Design;
using search::Swap;
using search::Swaps;

constexpr std::array kFigures = {"top_speed", "pull_away", "sustained_speed", "range"};

std::string millimetres(double length) { return rounded(length * 1000.0, 1) + " mm"; }

std::string sprocket(const Design& d) {
  return d.parts.front->id + ':' + std::to_string(d.parts.front_teeth);
}

bool one_family(const Swaps& s) {
  return std::ranges::all_of(
      s.swaps, [&](const Swap& swap) { return swap.design.parts.front == s.present.parts.front; });
}

std::span<const model::CruiseResult> cruises(const Design& d) {
  return std::span(d.metrics.performance.cruise).first(d.metrics.listed_cruises);
}

std::vector<Column> columns(const Swaps& s, const spec::Requirement& requirement) {
  std::vector<Column> list = {{"", false}, {"front", true, "teeth"}};
  if (!one_family(s)) list.push_back({"sprocket", false});
  list.push_back({"ratio"});
  list.push_back({"axle at", true, "mm"});
  for (const char* name : kFigures) {
    const Shown as = shown(*spec::find_metric(name), requirement);
    list.push_back({as.label, true, as.unit});
  }
  for (const model::CruiseResult& c : cruises(s.present)) {
    list.push_back({"at " + rules::speed_text(requirement, c.speed), true, "A"});
  }
  for (const model::ClimbResult& c : s.present.metrics.performance.climbs) {
    list.push_back({rounded(c.grade * 100, 0) + " % at " + rules::speed_text(requirement, c.speed),
                    true, "N spare"});
  }
  list.push_back({"costs", true, requirement.currency});
  list.push_back({"breaks", false});
  return list;
}

std::string broken(const Design& d) {
  std::string text;
  for (const std::string_view rule : d.rejected_by()) {
    text += (text.empty() ? "" : "; ") + std::string(rule);
  }
  return text.empty() ? "nothing" : text;
}

std::vector<std::string> row(const Swap& swap, bool families, const spec::Requirement& r) {
  const Design& d = swap.design;
  std::vector<std::string> cells = {swap.present ? "now" : "", std::to_string(d.parts.front_teeth)};
  if (families) cells.push_back(d.parts.front->id);
  cells.push_back(rounded(d.chain.total_reduction, 2));
  cells.push_back(rounded(d.chain.fit->centre_distance * 1000.0, 1));
  for (const char* name : kFigures) {
    const spec::MetricInfo& info = *spec::find_metric(name);
    cells.push_back(shown_value(shown(info, r), info.value(d.metrics)));
  }
  for (const model::CruiseResult& c : cruises(d)) cells.push_back(rounded(c.battery_current, 1));
  for (const model::ClimbResult& c : d.metrics.performance.climbs) {
    cells.push_back(rounded(c.force_margin, 0));
  }
  cells.push_back(
      rounded(static_cast<double>(swap.price) / static_cast<double>(parts::kMoneyUnit), 2));
  cells.push_back(broken(d));
  return cells;
}

void write_rows(std::ostream& out, const Swap& swap, const spec::Requirement& requirement) {
  const Design& d = swap.design;
  const auto line = [&](std::string_view word, const std::string& text) {
    out << "  " << sprocket(d) << "  " << word << "  " << text << '\n';
  };
  if (d.outside_choose) line("caution", std::string(search::kNotInChoose));
  for (const rules::Row& rule : d.rows) {
    if (rule.unchecked || rule.holds) continue;
    line(rule.kind == rules::Kind::kReject ? "breaks " : "caution", row_text(rule, requirement));
  }
}

void write_beyond(std::ostream& out, const Swaps& s) {
  if (s.beyond.empty()) return;
  std::string text = "Tooth counts of " + s.present.parts.front->id + " that need another chain:";
  for (const search::OutOfReach& beyond : s.beyond) {
    text += (&beyond == s.beyond.data() ? " " : ", ") + std::to_string(beyond.teeth) + " (" +
            (beyond.links > 0 ? std::to_string(beyond.links) + " links" : "none fits") + ")";
  }
  out << '\n' << wrapped(text + '.', "");
}

}  // namespace

void write_swaps_text(std::ostream& out, const Swaps& s, const spec::Job& job, Colour colour) {
  const spec::Requirement& r = job.requirement;
  out << bold(rules::design_id(s.present.parts), colour) << '\n';
  if (!s.present.chain.fit) {
    out << "Its own chain does not end inside the adjuster's travel, so no sprocket can be swapped "
           "on it.\n\n";
    write_cautions(out, job.requirement, colour);
    return;
  }
  out << wrapped("Front sprockets that run with rear sprocket " + s.present.parts.rear->id + ':' +
                     std::to_string(s.present.parts.rear_teeth) + " and the same chain " +
                     s.present.parts.chain->id + " of " +
                     std::to_string(s.present.chain.fit->links) + " links, shaft to axle " +
                     millimetres(r.bike.min_centre_distance) + " to " +
                     millimetres(r.bike.max_centre_distance) + ':',
                 "")
      << '\n';
  std::vector<std::vector<std::string>> rows;
  for (const Swap& swap : s.swaps) rows.push_back(row(swap, !one_family(s), r));
  out << table(columns(s, r), rows, "  ", colour) << '\n';
  for (const Swap& swap : s.swaps) write_rows(out, swap, r);
  write_beyond(out, s);
  out << "\nA swap moves the axle: set the slack again, and the speedometer if the gearing drives "
         "it.\n\n";
  write_cautions(out, job.requirement, colour);
}

}  // namespace sprocketry::report
