#include "report/charging.hpp"

#include <cmath>

#include "report/display.hpp"
#include "report/text.hpp"

namespace sprocketry::report {
namespace {

constexpr double kKilowattHour = 3.6e6;
constexpr double kHundredKilometres = 1e5;

// The part of a charge at the full voltage, where its current falls.
std::string tail_text(const model::Charge& charge) {
  constexpr double kWorthSaying = 180;  // s
  if (charge.tail < kWorthSaying) return "";
  return ", " + rounded(charge.tail / 3600, 1) + " h of it the tail";
}

}  // namespace

void write_charging(JsonWriter& json, const search::Design& d) {
  json.key("charging");
  if (!d.charging) {
    json.null();
    return;
  }
  const search::Charging& c = *d.charging;
  json.begin_object(Layout::kLine);
  json.member("from_percent", 100 * c.from);
  json.member("to_percent", 100 * c.charge.state_of_charge);
  json.member("time_h", c.charge.time / 3600);
  json.member("tail_h", c.charge.tail / 3600);
  json.member("wall_energy_kwh", c.charge.wall_energy / kKilowattHour);
  json.member("wall_peak_kw", c.charge.wall_peak / 1000);
  json.member("wall_consumption_wh_km", c.wall_consumption / 3.6);
  json.member("cost_per_100_km", c.cost_per_distance * kHundredKilometres);
  json.end_object();
}

std::string charging_text(const search::Design& d, const spec::Requirement& r) {
  if (!d.charging) return {};
  const search::Charging& c = *d.charging;
  const DisplayUnit distance = display_unit("km", r.units);
  std::string text = "from " + rounded(100 * c.from, 0) + " to " +
                     rounded(100 * c.charge.state_of_charge, 0) + " % in " +
                     rounded(c.charge.time / 3600, 1) + " h" + tail_text(c.charge) + ", " +
                     rounded(c.charge.wall_energy / kKilowattHour, 2) + " kWh and at most " +
                     rounded(c.charge.wall_peak / 1000, 2) + " kW from the wall";
  if (std::isnan(c.wall_consumption)) return text;
  // What Peukert's law takes off at high currents is still in the cell, and counted as charged
  // back.
  text += d.parts.pack->model.cell.peukert_exponent > 1 ? ", at most " : ", ";
  text += rounded(c.wall_consumption / 3.6 / distance.factor, 0) + " Wh/" + distance.symbol;
  if (r.charging.energy_price) {
    const double cost = c.cost_per_distance * kHundredKilometres / distance.factor;
    text += ", " + rounded(cost, 2) + ' ' + r.currency + " per 100 " + distance.symbol;
  }
  return text;
}

}  // namespace sprocketry::report
