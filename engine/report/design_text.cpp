#include "report/design_text.hpp"

#include <cmath>
#include <span>

#include "model/constants.hpp"
#include "parts/values.hpp"
#include "report/cautions.hpp"
#include "report/chain_load.hpp"
#include "report/chain_run.hpp"
#include "report/charging.hpp"
#include "report/display.hpp"
#include "report/pack_days.hpp"
#include "report/room.hpp"
#include "report/sprockets.hpp"

namespace sprocketry::report {
namespace {

using search::Design;

std::string unit_text(double value, int decimals, std::string_view unit) {
  return rounded(value, decimals) + ' ' + std::string(unit);
}

void write_primary(std::ostream& out, const spec::Primary& p, const std::string& currency) {
  out << "  primary        ratio " << parts::number_text(p.ratio) << ", efficiency "
      << rounded(100 * p.efficiency, 1) << " %, " << rounded(p.mass, 1) << " kg, "
      << rounded(static_cast<double>(p.price) / static_cast<double>(parts::kMoneyUnit), 2) << ' '
      << currency << "; the front sprocket sits on its output shaft\n";
}

void write_gearing(std::ostream& out, const Design& d, const spec::Requirement& requirement) {
  const double pitch = d.parts.chain->model.pitch;
  if (requirement.bike.primary) write_primary(out, *requirement.bike.primary, requirement.currency);
  out << "  gearing        " << d.parts.front_teeth << " front, " << d.parts.rear_teeth
      << " rear: reduction " << rounded(d.chain.reduction, 2);
  if (requirement.bike.primary) {
    out << " by the chain, " << rounded(d.chain.total_reduction, 2) << " in all";
  }
  out << ", chain " << d.parts.chain->size << ' ';
  if (d.chain.fit) {
    out << d.chain.fit->links << " links, shaft to axle "
        << unit_text(d.chain.fit->centre_distance * 1000, 1, "mm") << '\n';
  } else {
    out << "does not end inside the adjuster's travel\n";
  }
  out << "  sprockets      outside diameter front "
      << unit_text(model::outside_diameter(pitch, d.parts.front_teeth) * 1000, 1, "mm") << ", rear "
      << unit_text(model::outside_diameter(pitch, d.parts.rear_teeth) * 1000, 1, "mm")
      << ", largest hub "
      << unit_text(model::largest_hub_diameter(pitch, d.parts.front_teeth) * 1000, 1, "mm") << '\n';
}

void write_parts(std::ostream& out, const Design& d) {
  const auto line = [&](std::string_view slot, const std::string& id) {
    out << "  " << slot << std::string(15 - slot.size(), ' ') << id << '\n';
  };
  line("motor", d.parts.motor->id);
  line("controller", d.parts.controller->id);
  line("pack", d.parts.pack->id);
  line("charger", d.parts.charger ? d.parts.charger->id : rules::kNoCharger);
  line("chain", d.parts.chain->id);
  line("front sprocket", d.parts.front->id + ", " + std::to_string(d.parts.front_teeth) + " teeth");
  line("rear sprocket", d.parts.rear->id + ", " + std::to_string(d.parts.rear_teeth) + " teeth");
  std::string extras;
  for (const parts::Extra* extra : d.extras) extras += (extras.empty() ? "" : ", ") + extra->id;
  if (!extras.empty()) line("extras", extras);
}

void write_electrical(std::ostream& out, const Design& d, const spec::Requirement& requirement) {
  const model::Pack& pack = d.parts.pack->model;
  out << "  voltage        nominal " << unit_text(pack.nominal_voltage, 1, "V")
      << ", full-charge voltage " << unit_text(pack.full_voltage, 1, "V") << ", "
      << unit_text(pack.nominal_voltage * pack.capacity / 3.6e6, 2, "kWh")
      << pack_state_text(requirement.conditions.pack, ", the cells ") << '\n';
  out << "  settings       battery current " << unit_text(d.settings.battery_current, 0, "A")
      << ", motor current " << unit_text(d.settings.motor_current, 0, "A (DC equivalent)")
      << ", low-voltage cut-off " << unit_text(d.settings.low_voltage, 1, "V")
      << (d.parts.controller->model.settable ? "" : "; this controller cannot be set") << '\n';
}

void write_power(std::ostream& out, const Design& d, const spec::Requirement& requirement) {
  out << "  power          at the motor's shaft " << unit_text(d.peak_power / 1000, 1, "kW")
      << " in a burst, " << unit_text(d.continuous_power / 1000, 1, "kW")
      << " with its continuous current\n";
  const std::string charging = charging_text(d, requirement);
  if (charging.empty()) return;
  constexpr std::string_view kName = "  charging       ";
  std::string text = wrapped(charging, std::string(kName.size(), ' '));
  out << text.replace(0, kName.size(), kName);
}

void write_estimates(std::ostream& out, const Design& d) {
  if (d.parts.motor->thermal_estimated) {
    out << "  note           the motor states no thermal data: its temperatures are estimated from "
           "its continuous rating\n";
  }
  if (d.parts.motor->field_weakening) {
    out << "  note           the motor can weaken its field: its top speed here is a lower bound\n";
  }
}

std::string outcome(const rules::Row& row) {
  if (row.unchecked) return "not checked";
  if (row.holds) return "holds";
  return row.kind == rules::Kind::kReject ? "REJECTS" : "caution";
}

void write_metrics(std::ostream& out, const Design& d, const spec::Job& job, Colour colour) {
  std::vector<std::vector<std::string>> rows;
  for (const spec::MetricInfo& info : spec::metric_table()) {
    if (info.json_key.empty()) continue;
    const Shown s = shown(info, job.requirement);
    rows.push_back(
        {s.label, shown_value(s, info.value(d.metrics)), s.unit, std::string(info.explanation)});
  }
  out << '\n'
      << table({{"figure", false}, {"value"}, {"", false}, {"meaning", false}}, rows, "  ", colour);
}

void write_cruises(std::ostream& out, const Design& d, const spec::Job& job, Colour colour) {
  if (d.metrics.listed_cruises == 0) return;
  const DisplayUnit distance = display_unit("km", job.requirement.units);
  std::vector<std::vector<std::string>> rows;
  for (const auto& c : std::span(d.metrics.performance.cruise.data(), d.metrics.listed_cruises)) {
    rows.push_back({rules::speed_text(job.requirement, c.speed), rounded(c.battery_current, 1),
                    rounded(c.motor_current, 1), rounded(c.motor_speed * 30 / model::kPi, 0),
                    rounded(c.range / 1000 * distance.factor, 0)});
  }
  out << '\n'
      << table({{"cruise"},
                {"battery", true, "A"},
                {"motor", true, "A"},
                {"motor", true, "rpm"},
                {"range", true, distance.symbol}},
               rows, "  ", colour);
}

std::string time_text(double time) {
  return std::isnan(time) ? "never reached" : unit_text(time, 1, "s");
}

void write_accelerations(std::ostream& out, const Design& d, const spec::Job& job) {
  const auto& list = d.metrics.performance.accelerations;
  if (!list.empty()) out << '\n';
  for (const auto& a : list) {
    out << "  acceleration from " << rules::speed_text(job.requirement, a.from) << " to "
        << rules::speed_text(job.requirement, a.to) << ": " << time_text(a.time) << '\n';
  }
}

void write_climbs(std::ostream& out, const Design& d, const spec::Job& job) {
  const auto& list = d.metrics.performance.climbs;
  if (!list.empty()) out << '\n';
  for (const auto& c : list) {
    out << "  climb of " << rounded(c.grade * 100, 1) << " % at "
        << rules::speed_text(job.requirement, c.speed) << ": force to spare "
        << unit_text(c.force_margin, 0, "N") << " (pack nearly empty "
        << unit_text(c.force_margin_low, 0, "N") << "), winding "
        << unit_text(c.winding - model::kZeroCelsius, 0, "degC") << " at the end\n";
  }
}

void write_rules(std::ostream& out, const std::vector<rules::Row>& list, const spec::Job& job,
                 Colour colour) {
  std::vector<std::vector<std::string>> rows;
  rows.reserve(list.size());
  for (const rules::Row& row : list) rows.push_back({outcome(row), row_text(row, job.requirement)});
  out << '\n' << table({{"outcome", false}, {"rule, value, limit", false}}, rows, "  ", colour);
}

void write_verdict(std::ostream& out, const Design& d) {
  const auto rejected = d.rejected_by();
  if (rejected.empty()) {
    out << meets_text(d);
  } else {
    out << "It is rejected by:";
    for (std::size_t i = 0; i < rejected.size(); ++i) out << (i ? "; " : " ") << rejected[i];
    out << ".\n";
  }
  if (d.outside_choose) out << "Caution: " << search::kNotInChoose << " of the requirement.\n";
}

void write_build(std::ostream& out, const Design& d, const spec::Requirement& requirement) {
  write_parts(out, d);
  write_electrical(out, d, requirement);
  write_power(out, d, requirement);
  write_gearing(out, d, requirement);
  write_chain_load(out, d);
  write_estimates(out, d);
}

// "half link, slack, ": the rules right after an unchecked one that lack the same field; before
// that one's own text.
std::string shared_names(std::vector<rules::Row>::const_iterator row,
                         std::vector<rules::Row>::const_iterator end) {
  std::string names;
  for (auto next = row + 1; row->unchecked && next != end; ++next) {
    if (!next->unchecked || next->missing != row->missing) break;
    names += std::string(next->rule) + ", ";
  }
  return names;
}

}  // namespace

std::string meets_text(const Design& d) {
  const auto cautions = std::ranges::count_if(d.rows, [](const rules::Row& row) {
    return row.kind == rules::Kind::kCaution && !row.unchecked && !row.holds;
  });
  std::string text = "It meets every rule and demand";
  if (cautions > 0) {
    text += "; " + grouped(static_cast<std::uint64_t>(cautions)) +
            (cautions == 1 ? " caution" : " cautions");
  }
  return text + ".\n";
}

void write_design_lines(std::ostream& out, const Design& d, const spec::Job& job) {
  write_build(out, d, job.requirement);
  const std::vector<rules::Row> rows = search::telling_rows(d);
  for (auto row = rows.begin(); row != rows.end(); ++row) {
    // Checks that lack the same field share a line.
    if (row->unchecked && row != rows.begin() && row[-1].unchecked &&
        row[-1].missing == row->missing) {
      continue;
    }
    const std::string_view word = row->unchecked ? "not checked  "
                                  : row->holds   ? "tight        "
                                                 : "caution      ";
    out << "  " << word << "  " << shared_names(row, rows.end()) << row_text(*row, job.requirement)
        << '\n';
  }
}

void write_design_text(std::ostream& out, const Design& d, const search::PackDays& days,
                       const spec::Job& job, RuleRows rows, Colour colour) {
  out << bold(rules::design_id(d.parts), colour) << '\n';
  write_verdict(out, d);
  write_build(out, d, job.requirement);
  write_chain_work(out, d, job.requirement);
  write_sprocket_work(out, d, job.requirement);
  write_room_text(out, d, job.requirement);
  write_metrics(out, d, job, colour);
  write_cruises(out, d, job, colour);
  write_accelerations(out, d, job);
  write_climbs(out, d, job);
  write_pack_days_text(out, days, job, colour);
  write_rules(out, shown_rows(d, rows), job, colour);
  out << '\n';
  write_cautions(out, job.requirement, colour);
}

}  // namespace sprocketry::report
