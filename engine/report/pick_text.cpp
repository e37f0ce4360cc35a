#include <cmath>

#include "report/cautions.hpp"
#include "report/design_text.hpp"
#include "report/display.hpp"
#include "report/pick_report.hpp"

namespace sprocketry::report {
namespace {

using search::Change;

std::string money(search::Money price, const spec::Requirement& requirement) {
  const double value = static_cast<double>(price) / static_cast<double>(parts::kMoneyUnit);
  const std::string sign = price > 0 ? "+" : "";
  const bool whole = value == std::round(value);
  return sign + rounded(value, whole ? 0 : 2) + ' ' + requirement.currency;
}

void write_verdict(std::ostream& out, const PickReport& report, const spec::Job& job) {
  const search::Design& d = *report.design;
  out << (d.rejected_by().empty() ? meets_text(d) : "It does not meet every rule and demand:\n");
  std::size_t unchecked = 0;
  for (const rules::Row& row : search::telling_rows(d)) {
    if (row.unchecked) {
      ++unchecked;
      continue;
    }
    const std::string_view word = row.holds                          ? "tight    "
                                  : row.kind == rules::Kind::kReject ? "rejects  "
                                                                     : "caution  ";
    out << wrapped(std::string(word) + row_text(row, job.requirement), "  ");
  }
  if (unchecked == 0) return;
  out << "  " << unchecked << (unchecked == 1 ? " check lacks" : " checks lack")
      << " a field: `evaluate` names each\n";
}

void write_bands(std::ostream& out, const PickReport& report, const spec::Job& job, Colour colour) {
  const DisplayUnit speed = display_unit("km/h", job.requirement.units);
  out << "\nFull throttle on the flat, and what holds it back from one speed to the next:\n";
  if (report.bands.empty()) {
    out << "  it cannot move\n";
    return;
  }
  const auto at = [&](const model::ThrottlePoint& p) {
    return rounded(p.speed * 3.6 * speed.factor, 1);
  };
  std::vector<std::vector<std::string>> rows;
  for (const model::ThrottleBand& band : report.bands) {
    rows.push_back({at(band.from), at(band.to), std::string(name_of(band.limit)),
                    rounded(band.from.force, 0), rounded(band.to.force, 0),
                    rounded(band.from.motor_current, 0), rounded(band.to.motor_current, 0),
                    rounded(band.from.battery_current, 0), rounded(band.to.battery_current, 0)});
  }
  out << table({{"from", true, speed.symbol},
                {"to", true, speed.symbol},
                {"held back by", false},
                {"pull", true, "N"},
                {"to", true, "N"},
                {"motor", true, "A"},
                {"to", true, "A"},
                {"battery", true, "A"},
                {"to", true, "A"}},
               rows, "  ", colour);
}

std::string change_text(const Change& change, const spec::Requirement& requirement) {
  return std::string(change.slot) + ' ' + change.from + " -> " + change.to + ' ' +
         money(change.price_change, requirement);
}

void write_repairs(std::ostream& out, const PickReport& report, const spec::Job& job) {
  if (report.design->rejected_by().empty()) return;
  if (report.repairs.empty()) {
    out << "\nNo change of a single part within `choose` makes it meet every rule and demand.\n";
    return;
  }
  out << "\nA change of one part that makes it meet every rule and demand, the cheapest first:\n";
  for (const std::size_t i : report.repairs) {
    out << "  " << change_text(report.changes[i], job.requirement) << '\n';
  }
}

// With as many decimals as tell the figure after a change from the one before it.
Shown shown_apart(const PickReport& report, std::size_t m, const spec::Requirement& requirement) {
  constexpr int kMostDecimals = 6;
  const search::Mover& mover = report.movers[m];
  Shown s = shown(*mover.metric, requirement);
  for (const auto& change : {mover.cheapest, mover.furthest}) {
    if (!change) continue;
    const double then = report.changes[*change].figures[m];
    while (s.decimals < kMostDecimals && shown_value(s, mover.now) == shown_value(s, then)) {
      ++s.decimals;
    }
  }
  return s;
}

void write_movers(std::ostream& out, const PickReport& report, const spec::Job& job,
                  Colour colour) {
  std::vector<std::vector<std::string>> rows;
  std::string still;
  for (std::size_t m = 0; m < report.movers.size(); ++m) {
    const search::Mover& mover = report.movers[m];
    const Shown s = shown_apart(report, m, job.requirement);
    if (!mover.cheapest) {
      const bool asked = !std::isnan(mover.now);
      if (asked) still += (still.empty() ? "" : ", ") + s.label;
      continue;
    }
    const auto line = [&](std::string_view word, std::size_t i) {
      const Change& change = report.changes[i];
      rows.push_back({word == "cheapest" ? s.label : "",
                      word == "cheapest" ? shown_value(s, mover.now) : "", std::string(word),
                      shown_value(s, change.figures[m]), s.unit,
                      change_text(change, job.requirement)});
    };
    line("cheapest", *mover.cheapest);
    if (*mover.furthest != *mover.cheapest) line("furthest", *mover.furthest);
  }
  out << "\nThe cheapest change of one part that betters a figure by 1 % or more, and the one "
         "that\n"
         "betters it most; every rule and demand holds after it:\n";
  if (!rows.empty()) {
    out << table({{"figure", false},
                  {"now"},
                  {"", false},
                  {"then"},
                  {"", false},
                  {"change and price of the whole", false}},
                 rows, "  ", colour);
  }
  if (!still.empty()) out << wrapped("no such change: " + still, "  ");
}

}  // namespace

std::string_view name_of(model::ThrottleLimit limit) {
  switch (limit) {
    case model::ThrottleLimit::kMotorCurrent:
      return "motor peak current";
    case model::ThrottleLimit::kControllerCurrent:
      return "controller motor current";
    case model::ThrottleLimit::kControllerDraw:
      return "controller battery current";
    case model::ThrottleLimit::kPackCurrent:
      return "pack current";
    case model::ThrottleLimit::kCeiling:
      return "battery current ceiling";
    case model::ThrottleLimit::kLowVoltage:
      return "low-voltage cut-off";
    case model::ThrottleLimit::kMatchedLoad:
      return "pack's greatest power";
    case model::ThrottleLimit::kFullDuty:
      return "full duty";
    case model::ThrottleLimit::kGrip:
      return "grip";
    case model::ThrottleLimit::kLiftOff:
      return "lift-off";
  }
  return "";
}

void write_pick_text(std::ostream& out, const PickReport& report, const spec::Job& job,
                     Colour colour) {
  out << bold(rules::design_id(report.design->parts), colour) << '\n';
  write_verdict(out, report, job);
  write_repairs(out, report, job);
  write_bands(out, report, job, colour);
  write_movers(out, report, job, colour);
  out << '\n';
  write_cautions(out, job.requirement, colour);
}

}  // namespace sprocketry::report
