#include "report/design_json.hpp"
#include "report/json_writer.hpp"
#include "report/pick_report.hpp"

namespace sprocketry::report {
namespace {

constexpr double kKilometresPerHour = 3.6;  // per m/s

void write_point(JsonWriter& json, std::string_view name, const model::ThrottlePoint& point) {
  json.key(name);
  json.begin_object(Layout::kLine);
  json.member("speed_km_h", point.speed * kKilometresPerHour);
  json.member("force_n", point.force);
  json.member("motor_current_a", point.motor_current);
  json.member("battery_current_a", point.battery_current);
  json.end_object();
}

void write_bands(JsonWriter& json, const std::vector<model::ThrottleBand>& bands) {
  json.key("full_throttle");
  json.begin_list();
  for (const model::ThrottleBand& band : bands) {
    json.begin_object();
    json.member("limited_by", name_of(band.limit));
    write_point(json, "from", band.from);
    write_point(json, "to", band.to);
    json.end_object();
  }
  json.end_list();
}

void write_change_members(JsonWriter& json, const search::Change& change) {
  json.member("slot", change.slot);
  json.member("from", change.from);
  json.member("to", change.to);
  json.member("price_change",
              static_cast<double>(change.price_change) / static_cast<double>(parts::kMoneyUnit));
  json.member("design", change.design);
}

// The change that moves a figure, with what the figure becomes; null: none does.
void write_move(JsonWriter& json, std::string_view name, const PickReport& report,
                const std::optional<std::size_t>& index, std::size_t metric) {
  json.key(name);
  if (!index) {
    json.null();
    return;
  }
  const search::Change& change = report.changes[*index];
  json.begin_object(Layout::kLine);
  write_change_members(json, change);
  json.member("value", change.figures[metric]);
  json.end_object();
}

void write_movers(JsonWriter& json, const PickReport& report) {
  json.key("single_changes");
  json.begin_list();
  for (std::size_t m = 0; m < report.movers.size(); ++m) {
    const search::Mover& mover = report.movers[m];
    json.begin_object();
    json.member("figure", mover.metric->name);
    json.member("unit", mover.metric->unit);
    json.member("now", mover.now);
    write_move(json, "cheapest", report, mover.cheapest, m);
    write_move(json, "furthest", report, mover.furthest, m);
    json.end_object();
  }
  json.end_list();
}

void write_repairs(JsonWriter& json, const PickReport& report) {
  json.key("repairs");
  json.begin_list();
  for (const std::size_t i : report.repairs) {
    json.begin_object(Layout::kLine);
    write_change_members(json, report.changes[i]);
    json.end_object();
  }
  json.end_list();
}

}  // namespace

void write_pick_json(std::ostream& out, const PickReport& report, const spec::Job& job) {
  JsonWriter json(out);
  json.begin_object();
  json.key("design");
  json.begin_object();
  write_design_members(json, *report.design, job.requirement, RuleRows::kTelling, true);
  json.end_object();
  write_bands(json, report.bands);
  write_movers(json, report);
  write_repairs(json, report);
  const rules::Selection selections[] = {report.design->parts};
  write_defaults(json, defaults_in_use(job, selections));
  json.end_object();
  json.end_line();
}

}  // namespace sprocketry::report
