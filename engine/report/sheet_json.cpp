#include "model/constants.hpp"
#include "report/cautions.hpp"
#include "report/sheet.hpp"

namespace sprocketry::report {
namespace {

constexpr double kSquareMillimetre = 1e6;  // per m2
constexpr double kKilometrePerHour = 3.6;  // per m/s
constexpr double kRpm = 30.0 / model::kPi;

double money(parts::Money amount) {
  return static_cast<double>(amount) / static_cast<double>(parts::kMoneyUnit);
}

void write_order(JsonWriter& json, const search::Sheet& sheet) {
  json.key("order");
  json.begin_list();
  for (const search::OrderLine& line : sheet.order) {
    json.begin_object(Layout::kLine);
    json.member("item", line.item);
    json.member("id", line.id);
    json.member("quantity", line.quantity);
    json.member("unit", line.unit);
    json.member("each", money(line.each));
    json.member("sum", money(line.sum));
    json.member("owned", line.owned);
    json.end_object();
  }
  json.end_list();
  json.member("order_price", money(sheet.price));
}

void write_cable(JsonWriter& json, const char* name, const model::Cable* cable, double drop) {
  json.key(name);
  if (cable == nullptr) return json.null();
  json.begin_object(Layout::kLine);
  json.member("size", cable->name);
  json.member("area_mm2", cable->area * kSquareMillimetre);
  json.member("ampacity_a", cable->ampacity);
  json.member("drop_v_per_m", drop);
  json.end_object();
}

void write_precharge(JsonWriter& json, const std::optional<model::Precharge>& precharge) {
  json.key("precharge");
  if (!precharge) return json.null();
  json.begin_object(Layout::kLine);
  json.member("resistance_ohm", precharge->resistance);
  json.member("time_s", precharge->time);
  json.member("peak_current_a", precharge->peak_current);
  json.member("peak_power_w", precharge->peak_power);
  json.member("energy_j", precharge->energy);
  json.member("left_v", precharge->left);
  json.end_object();
}

void write_wiring(JsonWriter& json, const search::Sheet& sheet) {
  const search::Wiring& w = sheet.wiring;
  const search::Design& d = sheet.design;
  json.key("wiring");
  json.begin_object();
  json.member("full_voltage_v", w.full_voltage);
  json.member("battery_current_a", w.battery_current);
  json.member("short_circuit_a", w.short_circuit);
  json.member("fuse_a", w.fuse);
  write_cable(json, "battery_cable", w.battery_cable, w.battery_drop);
  json.member("motor_lead_current_a", w.motor_current);
  json.member("motor_lead_peak_a", w.motor_peak);
  json.member("motor_lead_peak_s",
              std::isfinite(w.motor_peak_duration) ? w.motor_peak_duration : model::kNone);
  write_cable(json, "motor_cable", w.motor_cable, w.motor_drop);
  json.member("cable_source", model::kCableSource);
  write_precharge(json, w.precharge);
  json.member("largest_motor_rpm", d.parts.motor->model.max_speed * kRpm);
  json.member("charger_voltage_v", w.full_voltage);
  json.member("charger_current_a", d.parts.charger ? d.parts.charger->current : model::kNone);
  json.end_object();
}

void write_expectation(JsonWriter& json, const search::Sheet& sheet) {
  json.key("expect");
  json.begin_object();
  json.key("charges");
  json.begin_list();
  for (const search::AtCharge& at : sheet.charges) {
    json.begin_object(Layout::kLine);
    json.member("state_of_charge_percent", 100 * at.state_of_charge);
    json.member("resting_voltage_v", at.resting_voltage);
    json.member("full_throttle_voltage_v", at.full_throttle_voltage);
    json.member("full_throttle_current_a", at.full_throttle_current);
    json.member("stand_motor_rpm", at.free.motor_speed * kRpm);
    json.member("stand_speed_km_h", at.free.road_speed * kKilometrePerHour);
    json.member("stand_current_a", at.free.battery_current);
    json.end_object();
  }
  json.end_list();
  json.key("speeds");
  json.begin_list();
  for (const search::AtSpeed& at : sheet.speeds) {
    json.begin_object(Layout::kLine);
    json.member("speed_km_h", at.speed * kKilometrePerHour);
    json.member("battery_current_a", at.draw.battery_current);
    json.member("motor_current_a", at.draw.motor_current);
    json.member("motor_rpm", at.draw.motor_speed * kRpm);
    json.member("pack_voltage_v", at.draw.pack_voltage);
    json.end_object();
  }
  json.end_list();
  json.end_object();
}

void write_steps(JsonWriter& json, const search::Sheet& sheet, const spec::Job& job) {
  json.key("steps");
  json.begin_list();
  for (const Section& s : sheet_sections(sheet, job)) {
    if (s.steps.empty()) continue;
    json.begin_object();
    json.member("title", s.title);
    json.key("do");
    json.begin_list();
    for (const std::string& step : s.steps) json.value(step);
    json.end_list();
    json.end_object();
  }
  json.end_list();
}

}  // namespace

void write_sheet_json(std::ostream& out, const search::Sheet& sheet, const spec::Job& job,
                      RuleRows rows) {
  JsonWriter json(out);
  json.begin_object();
  json.member("title", sheet_title(sheet, job));
  json.key("design");
  json.begin_object();
  write_design_members(json, sheet.design, job.requirement, rows, true);
  json.end_object();
  write_order(json, sheet);
  write_wiring(json, sheet);
  write_expectation(json, sheet);
  write_pack_days(json, sheet.days);
  write_steps(json, sheet, job);
  json.key("cautions");
  json.begin_list();
  for (const std::string& caution : cautions(job.requirement)) json.value(caution);
  json.end_list();
  write_defaults(json, defaults_in_use(job, std::span(&sheet.design.parts, 1)));
  json.end_object();
  json.end_line();
}

}  // namespace sprocketry::report
