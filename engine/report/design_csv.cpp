#include "report/design_csv.hpp"

#include <charconv>
#include <cmath>
#include <functional>
#include <sstream>

#include "model/constants.hpp"
#include "report/design_json.hpp"

namespace sprocketry::report {
namespace {

using Text = std::function<void(const std::string& name, double value)>;

// Every number of the metrics in the order of the columns. A job's designs all have the same.
void each_number(const spec::Metrics& m, const Text& visit) {
  for (const spec::MetricInfo& info : spec::metric_table()) {
    if (!info.json_key.empty()) visit(std::string(info.json_key), info.value(m));
  }
  for (std::size_t i = 0; i < m.listed_cruises; ++i) {
    const model::CruiseResult& c = m.performance.cruise[i];
    const std::string stem = "cruise_" + std::to_string(i + 1) + '_';
    visit(stem + "speed_km_h", c.speed * 3.6);
    visit(stem + "battery_current_a", c.battery_current);
    visit(stem + "motor_current_a", c.motor_current);
    visit(stem + "motor_rpm", c.motor_speed * 30.0 / model::kPi);
    visit(stem + "range_km", c.range / 1000.0);
  }
  for (std::size_t i = 0; i < m.performance.accelerations.size(); ++i) {
    const model::AccelerationResult& a = m.performance.accelerations[i];
    const std::string stem = "accelerations_" + std::to_string(i + 1) + '_';
    visit(stem + "from_km_h", a.from * 3.6);
    visit(stem + "to_km_h", a.to * 3.6);
    visit(stem + "time_s", a.time);
  }
  for (std::size_t i = 0; i < m.performance.climbs.size(); ++i) {
    const model::ClimbResult& c = m.performance.climbs[i];
    const std::string stem = "climbs_" + std::to_string(i + 1) + '_';
    visit(stem + "grade_percent", c.grade * 100.0);
    visit(stem + "speed_km_h", c.speed * 3.6);
    visit(stem + "force_margin_n", c.force_margin);
    visit(stem + "force_margin_low_n", c.force_margin_low);
    visit(stem + "winding_c", c.winding - 273.15);
  }
}

void append_number(std::string& text, double value) {
  if (!std::isfinite(value)) return;
  char buffer[32];
  const auto end = std::to_chars(std::begin(buffer), std::end(buffer), value + 0.0);
  text.append(std::begin(buffer), end.ptr);
}

// Metrics without values, for the names of the columns.
spec::Metrics shape(const spec::Requirement& requirement) {
  spec::Metrics m;
  m.listed_cruises = requirement.cruise.size();
  m.performance.cruise.resize(requirement.cruise.size());
  m.performance.accelerations.resize(requirement.accelerations.size());
  m.performance.climbs.resize(requirement.must.climbs.size());
  return m;
}

}  // namespace

std::string csv_header(const spec::Requirement& requirement, bool with_rejections) {
  std::string text =
      "motor,controller,pack,charger,chain,front_sprocket,front_teeth,rear_sprocket,rear_teeth";
  each_number(shape(requirement), [&](const std::string& name, double) { text += ',' + name; });
  if (with_rejections) text += ",rejected_by";
  return text + '\n';
}

void append_csv(std::string& text, const search::Design& design, bool with_rejections) {
  const rules::Selection& s = design.parts;
  // Ids and rule names hold no comma and no quote.
  text += s.motor->id + ',' + s.controller->id + ',' + s.pack->id + ',' +
          (s.charger ? s.charger->id : "") + ',' + s.chain->id + ',' + s.front->id + ',' +
          std::to_string(s.front_teeth) + ',' + s.rear->id + ',' + std::to_string(s.rear_teeth);
  each_number(design.metrics, [&](const std::string&, double value) {
    text += ',';
    append_number(text, value);
  });
  if (with_rejections) {
    text += ',';
    bool first = true;
    for (const std::string_view name : design.rejected_by()) {
      if (!first) text += ';';
      text += name;
      first = false;
    }
  }
  text += '\n';
}

void append_jsonl(std::string& text, const search::Design& design,
                  const spec::Requirement& requirement) {
  std::ostringstream line;
  {
    JsonWriter json(line, Indent::kCompact);
    json.begin_object();
    write_design_members(json, design, requirement, RuleRows::kTelling, true);
    json.end_object();
    json.end_line();
  }
  text += line.str();
}

}  // namespace sprocketry::report
