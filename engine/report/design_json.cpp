#include "report/design_json.hpp"

#include <algorithm>
#include <set>

#include "model/constants.hpp"
#include "rules/rule.hpp"

namespace sprocketry::report {
namespace {

using search::Design;

double km_h(double speed) { return speed * 3.6; }
double celsius(double temperature) { return temperature - 273.15; }

void write_parts(JsonWriter& json, const rules::Selection& s) {
  json.key("parts");
  json.begin_object(Layout::kLine);
  json.member("motor", s.motor->id);
  json.member("controller", s.controller->id);
  json.member("pack", s.pack->id);
  json.key("charger");
  if (s.charger) {
    json.value(s.charger->id);
  } else {
    json.null();
  }
  json.member("chain", s.chain->id);
  json.member("front_sprocket", s.front->id);
  json.member("front_teeth", s.front_teeth);
  json.member("rear_sprocket", s.rear->id);
  json.member("rear_teeth", s.rear_teeth);
  json.end_object();
}

void write_lists(JsonWriter& json, const spec::Metrics& metrics) {
  json.key("cruise");
  json.begin_list();
  for (const auto& c : std::span(metrics.performance.cruise.data(), metrics.listed_cruises)) {
    json.begin_object(Layout::kLine);
    json.member("speed_km_h", km_h(c.speed));
    json.member("battery_current_a", c.battery_current);
    json.member("motor_current_a", c.motor_current);
    json.member("motor_rpm", c.motor_speed * 30.0 / model::kPi);
    json.member("range_km", c.range / 1000.0);
    json.end_object();
  }
  json.end_list();
  json.key("accelerations");
  json.begin_list();
  for (const auto& a : metrics.performance.accelerations) {
    json.begin_object(Layout::kLine);
    json.member("from_km_h", km_h(a.from));
    json.member("to_km_h", km_h(a.to));
    json.member("time_s", a.time);
    json.end_object();
  }
  json.end_list();
  json.key("climbs");
  json.begin_list();
  for (const auto& c : metrics.performance.climbs) {
    json.begin_object(Layout::kLine);
    json.member("grade_percent", c.grade * 100.0);
    json.member("speed_km_h", km_h(c.speed));
    json.member("force_margin_n", c.force_margin);
    json.member("force_margin_low_n", c.force_margin_low);
    json.member("winding_c", celsius(c.winding));
    json.end_object();
  }
  json.end_list();
}

void write_metrics(JsonWriter& json, const spec::Metrics& metrics) {
  json.key("metrics");
  json.begin_object();
  for (const spec::MetricInfo& info : spec::metric_table()) {
    if (!info.json_key.empty()) json.member(info.json_key, info.value(metrics));
  }
  write_lists(json, metrics);
  json.end_object();
}

void write_chain(JsonWriter& json, const rules::ChainRun& run) {
  json.key("chain");
  json.begin_object(Layout::kLine);
  json.key("links");
  if (run.fit) {
    json.value(run.fit->links);
  } else {
    json.null();
  }
  json.member("centre_distance_mm", run.fit ? run.fit->centre_distance * 1000.0 : model::kNone);
  json.member("wrap_deg", run.wrap * 180.0 / model::kPi);
  json.member("efficiency", run.efficiency);
  json.end_object();
}

void write_settings(JsonWriter& json, const Design& design) {
  json.key("settings");
  json.begin_object(Layout::kLine);
  json.member("battery_current_a", design.settings.battery_current);
  json.member("motor_current_a", design.settings.motor_current);
  json.member("low_voltage_v", design.settings.low_voltage);
  json.end_object();
  json.key("extras");
  json.begin_list(Layout::kLine);
  for (const parts::Extra* extra : design.extras) json.value(extra->id);
  json.end_list();
}

void write_row(JsonWriter& json, const rules::Row& row, const std::string& currency) {
  const bool money = row.unit_kind == rules::Unit::kMoney;
  json.begin_object(Layout::kLine);
  json.member("rule", row.rule);
  if (!row.about.empty()) json.member("about", row.about);
  json.member("value", row.value);
  json.member("limit", row.limit);
  json.member("unit", money ? std::string_view(currency) : row.unit);
  json.member("margin", row.margin);
  json.member("kind", row.unchecked                      ? "unchecked"
                      : row.kind == rules::Kind::kReject ? "reject"
                                                         : "caution");
  if (row.unchecked) json.member("missing", row.missing);
  json.member("source", row.source);
  json.end_object();
}

}  // namespace

void write_design_members(JsonWriter& json, const Design& design,
                          const spec::Requirement& requirement, RuleRows rows,
                          bool with_rejections) {
  json.member("id", rules::design_id(design.parts));
  write_parts(json, design.parts);
  write_metrics(json, design.metrics);
  write_chain(json, design.chain);
  write_settings(json, design);
  json.key("rules");
  json.begin_list();
  std::vector<rules::Row> shown = search::telling_rows(design);
  if (rows == RuleRows::kAll) {
    std::erase_if(shown, [](const rules::Row& row) { return row.rule != search::kNotInChoose; });
    shown.insert(shown.end(), design.rows.begin(), design.rows.end());
  }
  for (const rules::Row& row : shown) write_row(json, row, requirement.currency);
  json.end_list();
  if (!with_rejections) return;
  json.key("rejected_by");
  json.begin_list(Layout::kLine);
  for (const std::string_view name : design.rejected_by()) json.value(name);
  json.end_list();
}

void write_defaults(JsonWriter& json, std::span<const parts::Default> defaults) {
  json.key("defaults");
  json.begin_list();
  for (const parts::Default& entry : defaults) {
    json.begin_object(Layout::kLine);
    json.member("key", entry.key);
    json.member("value", entry.value);
    json.member("source", entry.source);
    json.end_object();
  }
  json.end_list();
}

std::vector<parts::Default> defaults_in_use(const spec::Job& job,
                                            std::span<const rules::Selection> designs) {
  std::set<std::string, std::less<>> prefixes;
  for (const rules::Selection& s : designs) {
    prefixes.insert("motors." + s.motor->id + '.');
    prefixes.insert("controllers." + s.controller->id + '.');
    prefixes.insert("cells." + s.pack->cell_id + '.');
    if (s.charger) prefixes.insert("chargers." + s.charger->id + '.');
    prefixes.insert("chains." + s.chain->id + '.');
    prefixes.insert("front_sprockets." + s.front->id + '.');
    prefixes.insert("rear_sprockets." + s.rear->id + '.');
  }
  std::vector<parts::Default> used = job.requirement.defaults;
  std::ranges::copy_if(
      job.catalogue.defaults, std::back_inserter(used), [&](const parts::Default& entry) {
        return std::ranges::any_of(
            prefixes, [&](const std::string& prefix) { return entry.key.starts_with(prefix); });
      });
  return used;
}

void write_evaluation(std::ostream& out, const Design& design, const spec::Job& job,
                      RuleRows rows) {
  JsonWriter json(out);
  json.begin_object();
  json.key("design");
  json.begin_object();
  write_design_members(json, design, job.requirement, rows, true);
  json.end_object();
  write_defaults(json, defaults_in_use(job, std::span(&design.parts, 1)));
  json.end_object();
  json.end_line();
}

}  // namespace sprocketry::report
