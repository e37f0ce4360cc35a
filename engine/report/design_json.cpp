#include "report/design_json.hpp"

#include <algorithm>

#include "report/chain_run.hpp"
#include "report/charging.hpp"
#include "report/part_ids.hpp"
#include "report/room.hpp"
#include "report/sprockets.hpp"
#include "rules/rule.hpp"
#include "spec/metric_lists.hpp"

namespace sprocketry::report {
namespace {

using search::Design;

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
  spec::each_list(metrics, [&](const char* name, const auto& items, const auto& figures) {
    json.key(name);
    json.begin_list();
    for (const auto& item : items) {
      json.begin_object(Layout::kLine);
      for (const auto& figure : figures) json.member(figure.key, figure.value(item));
      json.end_object();
    }
    json.end_list();
  });
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

// The whole way from motor to wheel; the chain's own share stands under "chain".
void write_gearing(JsonWriter& json, const Design& design, const spec::Requirement& requirement) {
  const auto& primary = requirement.bike.primary;
  json.key("gearing");
  json.begin_object(Layout::kLine);
  json.member("primary_ratio", primary ? primary->ratio : model::kNone);
  json.member("primary_efficiency", primary ? primary->efficiency : model::kNone);
  json.member("chain_reduction", design.chain.reduction);
  json.member("reduction", design.chain.total_reduction);
  json.member("efficiency", design.chain.total_efficiency);
  json.end_object();
}

void write_settings(JsonWriter& json, const Design& design) {
  json.key("settings");
  json.begin_object(Layout::kLine);
  json.member("battery_current_a", design.settings.battery_current);
  json.member("motor_current_a", design.settings.motor_current);
  json.member("low_voltage_v", design.settings.low_voltage);
  json.end_object();
  json.key("power");
  json.begin_object(Layout::kLine);
  json.member("peak_kw", design.peak_power / 1000);
  json.member("continuous_kw", design.continuous_power / 1000);
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
  if (!row.reason.empty()) json.member("reason", row.reason);
  json.member("source", row.source);
  json.end_object();
}

}  // namespace

std::vector<rules::Row> shown_rows(const Design& design, RuleRows rows) {
  std::vector<rules::Row> shown = search::telling_rows(design);
  if (rows == RuleRows::kTelling) return shown;
  std::erase_if(shown, [](const rules::Row& row) { return row.rule != search::kNotInChoose; });
  shown.insert(shown.end(), design.rows.begin(), design.rows.end());
  return shown;
}

void write_design_members(JsonWriter& json, const Design& design,
                          const spec::Requirement& requirement, RuleRows rows,
                          bool with_rejections) {
  json.member("id", rules::design_id(design.parts));
  write_parts(json, design.parts);
  write_metrics(json, design.metrics);
  write_gearing(json, design, requirement);
  write_chain(json, design, requirement);
  write_sprockets(json, design, requirement);
  write_room(json, design, requirement);
  write_settings(json, design);
  write_charging(json, design);
  json.key("rules");
  json.begin_list();
  for (const rules::Row& row : shown_rows(design, rows)) {
    write_row(json, row, requirement.currency);
  }
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
  PartsInUse in_use;
  for (const rules::Selection& s : designs) in_use.add(part_ids(s), s.pack->cell_id);
  std::vector<parts::Default> used = job.requirement.defaults;
  std::ranges::copy_if(job.catalogue.defaults, std::back_inserter(used),
                       [&](const parts::Default& entry) { return in_use.has_default(entry.key); });
  return used;
}

void write_evaluation(std::ostream& out, const Design& design, const search::PackDays& days,
                      const spec::Job& job, RuleRows rows) {
  JsonWriter json(out);
  json.begin_object();
  json.key("design");
  json.begin_object();
  write_design_members(json, design, job.requirement, rows, true);
  json.end_object();
  write_pack_days(json, days);
  write_defaults(json, defaults_in_use(job, std::span(&design.parts, 1)));
  json.end_object();
  json.end_line();
}

}  // namespace sprocketry::report
