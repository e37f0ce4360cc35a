#include <cmath>

#include "model/constants.hpp"
#include "report/charging.hpp"
#include "report/display.hpp"
#include "report/pack_days.hpp"
#include "report/sheet.hpp"

namespace sprocketry::report {
namespace {

std::string rpm(double speed) { return rounded(speed * 30.0 / model::kPi, 0); }

std::string charge_text(double share) { return rounded(100 * share, 0) + " %"; }

// "draws 15.4 A ..." per speed.
void speed_rows(Section& s, const search::Sheet& sheet, const spec::Requirement& r) {
  for (const search::AtSpeed& at : sheet.speeds) {
    const std::string speed = rules::speed_text(r, at.speed);
    if (std::isnan(at.draw.battery_current)) {
      s.rows.push_back({"steady " + speed + " on the flat", "this bike does not hold it"});
      continue;
    }
    s.rows.push_back({"steady " + speed + " on the flat",
                      rounded(at.draw.battery_current, 0) + " A from the pack, " +
                          rounded(at.draw.motor_current, 0) + " A in the motor, " +
                          rpm(at.draw.motor_speed) + " rpm, " + rounded(at.draw.pack_voltage, 1) +
                          " V"});
  }
}

// Where the controller holds the current back before full throttle has drawn it, no current can be
// told beforehand.
std::string full_throttle_text(const search::AtCharge& at, double hold_back) {
  const std::string volts = rounded(at.full_throttle_voltage, 1) + " V";
  const std::string current = rounded(at.full_throttle_current, 0) + " A";
  if (at.full_throttle_voltage >= hold_back) return current + " at " + volts;
  return "less than " + current + ": it holds back below " + rounded(hold_back, 1) + " V";
}

void charge_rows(Section& s, const search::Sheet& sheet, const spec::Requirement& r) {
  const double hold_back = sheet.design.settings.low_voltage * kRollBack;
  for (const search::AtCharge& at : sheet.charges) {
    const std::string charge = charge_text(at.state_of_charge);
    s.rows.push_back({"pack at rest, " + charge + " full", rounded(at.resting_voltage, 1) + " V"});
    s.rows.push_back({"full throttle, " + charge + " full", full_throttle_text(at, hold_back)});
    s.rows.push_back({"wheel off the ground, " + charge + " full",
                      rpm(at.free.motor_speed) + " rpm of the motor, wheel at " +
                          rules::speed_text(r, at.free.road_speed) + ", " +
                          rounded(at.free.battery_current, 1) + " A"});
  }
}

void metric_row(Section& s, const search::Sheet& sheet, const spec::Requirement& r,
                const char* name) {
  const spec::MetricInfo& info = *spec::find_metric(name);
  const Shown as = shown(info, r);
  s.rows.push_back({as.label, shown_value(as, info.value(sheet.design.metrics)) + ' ' + as.unit});
}

}  // namespace

Section expectation_section(const search::Sheet& sheet, const spec::Job& job) {
  const spec::Requirement& r = job.requirement;
  Section s;
  s.title = "What to expect";
  s.text = {
      "If a reading is off by more than 20 %, stop and look for the reason before you go on: "
      "a wrong setting, a rubbing brake, a tight chain, a weak cell, a wrong sprocket. Write "
      "your own readings beside these."};
  s.columns = {{"reading", false}, {"expected", false}, {"yours", false}};
  charge_rows(s, sheet, r);
  speed_rows(s, sheet, r);
  for (const char* name : {"pull_away", "top_speed", "sustained_speed", "range", "consumption"}) {
    metric_row(s, sheet, r, name);
  }
  for (auto& row : s.rows) row.emplace_back();
  s.remarks = {
      "Steady speeds, times and top speed with the pack " +
          charge_text(r.conditions.state_of_charge) + " full, the winding at " +
          rounded(r.conditions.winding_temperature - model::kZeroCelsius, 0) + " degC" +
          pack_state_text(r.conditions.pack, ", the cells ") +
          ", no wind but the stated headwind. The wheel off the ground without its brake "
          "dragging; at the tyre's rolling circumference.",
      "Computed, not measured: 10 to 20 % off is ordinary until the model is calibrated with your "
      "own bike."};
  return s;
}

Section pack_day_section(const search::Sheet& sheet, const spec::Job& job) {
  Section s;
  s.title = "In the cold, and when the pack is old";
  const PackDayTable t = pack_day_table(sheet.days, job);
  s.columns = t.columns;
  s.rows = t.rows;
  s.remarks = {pack_day_note()};
  const std::string charging = charging_text(sheet.design, job.requirement);
  if (!charging.empty()) s.remarks.push_back("Charging " + charging + ".");
  return s;
}

}  // namespace sprocketry::report
