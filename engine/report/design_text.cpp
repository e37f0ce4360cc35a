#include "report/design_text.hpp"

#include <algorithm>

#include "model/constants.hpp"
#include "report/cautions.hpp"

namespace sprocketry::report {
namespace {

using search::Design;

std::string unit_text(double value, int decimals, std::string_view unit) {
  return rounded(value, decimals) + ' ' + std::string(unit);
}

void write_chain_line(std::ostream& out, const Design& d) {
  const double pitch = d.parts.chain->model.pitch;
  out << "  gearing        " << d.parts.front_teeth << " front, " << d.parts.rear_teeth
      << " rear: reduction " << rounded(d.chain.reduction, 2) << ", chain " << d.parts.chain->size
      << ' ';
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

void write_electrical(std::ostream& out, const Design& d) {
  const model::Pack& pack = d.parts.pack->model;
  out << "  pack           nominal " << unit_text(pack.nominal_voltage, 1, "V")
      << ", full-charge voltage " << unit_text(pack.full_voltage, 1, "V") << ", "
      << unit_text(pack.nominal_voltage * pack.capacity / 3.6e6, 2, "kWh") << '\n';
  out << "  settings       battery current " << unit_text(d.settings.battery_current, 0, "A")
      << ", motor current " << unit_text(d.settings.motor_current, 0, "A (DC equivalent)")
      << ", low-voltage cut-off " << unit_text(d.settings.low_voltage, 1, "V")
      << (d.parts.controller->model.settable ? "" : "; this controller cannot be set") << '\n';
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

std::string row_kind(const rules::Row& row) {
  if (row.unchecked) return "not checked";
  if (row.holds) return "holds";
  return row.kind == rules::Kind::kReject ? "REJECTS" : "caution";
}

void write_metrics(std::ostream& out, const Design& d, const spec::Job& job, Colour colour) {
  std::vector<std::vector<std::string>> rows;
  for (const spec::MetricInfo& info : spec::metric_table()) {
    if (info.json_key.empty()) continue;
    const Shown s = shown(info, job.requirement);
    rows.push_back({s.label, rounded(info.value(d.metrics) * s.factor, s.decimals), s.unit,
                    std::string(info.explanation)});
  }
  out << '\n'
      << table({{"figure", false}, {"value", true}, {"", false}, {"meaning", false}}, rows, "  ",
               colour);
}

void write_cruises(std::ostream& out, const Design& d, const spec::Job& job, Colour colour) {
  const auto& p = d.metrics.performance;
  if (d.metrics.listed_cruises > 0) {
    std::vector<std::vector<std::string>> rows;
    for (std::size_t i = 0; i < d.metrics.listed_cruises; ++i) {
      const auto& c = p.cruise[i];
      rows.push_back({rules::speed_text(job.requirement, c.speed), rounded(c.battery_current, 1),
                      rounded(c.motor_current, 1), rounded(c.motor_speed * 30 / model::kPi, 0),
                      rounded(c.range / 1000, 1)});
    }
    out << '\n'
        << table({{"cruise", true},
                  {"battery [A]", true},
                  {"motor [A]", true},
                  {"motor [rpm]", true},
                  {"range [km]", true}},
                 rows, "  ", colour);
  }
  for (const auto& a : p.accelerations) {
    out << "  " << rules::speed_text(job.requirement, a.from) << " to "
        << rules::speed_text(job.requirement, a.to) << ": " << rounded(a.time, 1) << " s\n";
  }
  for (const auto& c : p.climbs) {
    out << "  climb of " << rounded(c.grade * 100, 1) << " % at "
        << rules::speed_text(job.requirement, c.speed) << ": " << rounded(c.force_margin, 0)
        << " N to spare (" << rounded(c.force_margin_low, 0) << " N with the pack nearly empty), "
        << "winding " << rounded(c.winding - model::kZeroCelsius, 0) << " degC at the end\n";
  }
}

}  // namespace

void write_design_lines(std::ostream& out, const Design& d, const spec::Job& job) {
  write_parts(out, d);
  write_electrical(out, d);
  write_chain_line(out, d);
  write_estimates(out, d);
  for (const rules::Row& row : search::telling_rows(d)) {
    const std::string_view word = row.unchecked ? "not checked  "
                                  : !row.holds  ? "caution      "
                                                : "tight        ";
    out << "  " << word << "  " << row_text(row, job.requirement) << '\n';
  }
}

void write_design_text(std::ostream& out, const Design& d, const spec::Job& job, Colour colour) {
  const auto rejected = d.rejected_by();
  out << bold(rules::design_id(d.parts), colour) << '\n';
  if (rejected.empty()) {
    out << "It meets every rule and demand.\n";
  } else {
    out << "It is rejected by:";
    for (std::size_t i = 0; i < rejected.size(); ++i) out << (i ? "; " : " ") << rejected[i];
    out << ".\n";
  }
  if (d.outside_choose) out << "Caution: " << search::kNotInChoose << " of the requirement.\n";
  write_parts(out, d);
  write_electrical(out, d);
  write_chain_line(out, d);
  write_estimates(out, d);
  write_metrics(out, d, job, colour);
  write_cruises(out, d, job, colour);
  std::vector<std::vector<std::string>> rows;
  for (const rules::Row& row : d.rows) {
    rows.push_back({row_kind(row), row_text(row, job.requirement)});
  }
  out << '\n' << table({{"outcome", false}, {"rule, value, limit", false}}, rows, "  ", colour);
  out << '\n' << bold("Before you build", colour) << '\n';
  for (const std::string_view caution : cautions()) {
    std::string text = wrapped(caution, "    ");
    text[2] = '-';
    out << text;
  }
}

}  // namespace sprocketry::report
