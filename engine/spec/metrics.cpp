#include "spec/metrics.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace sprocketry::spec {
namespace {

// Output units. Each conversion is one rounded operation, so that dominance, which compares these
// very doubles, sees what is printed.
double km_h(double speed) { return speed * 3.6; }
double km(double distance) { return distance / 1000.0; }
double percent(double share) { return share * 100.0; }
double celsius(double temperature) { return temperature - 273.15; }
double hours(double time) { return time / 3600.0; }

template <typename Items, typename Value>
double worst(const Items& items, Better better, Value value) {
  double result = model::kNone;
  for (const auto& item : items) {
    const double v = value(item);
    if (std::isnan(v)) return model::kNone;
    const bool worse = better == Better::kLower ? v > result : v < result;
    if (std::isnan(result) || worse) result = v;
  }
  return result;
}

double cruise_current(const Metrics& m) {
  const std::span listed(m.performance.cruise.data(), m.listed_cruises);
  return worst(listed, Better::kLower, [](const auto& c) { return c.battery_current; });
}

double climb_margin(const Metrics& m) {
  return worst(m.performance.climbs, Better::kHigher, [](const auto& c) { return c.force_margin; });
}

double climb_winding(const Metrics& m) {
  return worst(m.performance.climbs, Better::kLower,
               [](const auto& c) { return celsius(c.winding); });
}

constexpr std::array kTable = {
    MetricInfo{"pull_away", "pull_away_s", "s", "0-{pull_away_to}",
               "time from rest at full throttle on the flat", Better::kLower, figures::kPullAway,
               true, [](const Metrics& m) { return m.performance.pull_away; }},
    MetricInfo{"range", "range_km", "km", "range",
               "distance on the ride over the pack's usable window", Better::kHigher,
               figures::kRange, true, [](const Metrics& m) { return km(m.performance.range); }},
    MetricInfo{"price", "price", "", "price",
               "all chosen parts that are not owned, extras and fabrication", Better::kLower, 0,
               true,
               [](const Metrics& m) {
                 return static_cast<double>(m.price) / static_cast<double>(parts::kMoneyUnit);
               }},
    MetricInfo{"top_speed", "top_speed_km_h", "km/h", "top speed",
               "highest speed on the flat in a short burst", Better::kHigher, figures::kTopSpeed,
               true, [](const Metrics& m) { return km_h(m.performance.top_speed); }},
    MetricInfo{"top_speed_low", "top_speed_low_km_h", "km/h", "top speed, low",
               "the same with the pack nearly empty", Better::kHigher, figures::kRest, false,
               [](const Metrics& m) { return km_h(m.performance.top_speed_low); }},
    MetricInfo{"sustained_speed", "sustained_speed_km_h", "km/h", "sustained",
               "highest speed that it can hold for ever without overheating or overloading a part",
               Better::kHigher, figures::kSustained, true,
               [](const Metrics& m) { return km_h(m.performance.sustained_speed); }},
    MetricInfo{"start_grade", "start_grade_percent", "%", "hill start",
               "steepest grade on which it still gains 0.5 m/s2 from rest", Better::kHigher,
               figures::kStartGrade, true,
               [](const Metrics& m) { return percent(m.performance.start_grade); }},
    MetricInfo{"consumption", "consumption_wh_km", "Wh/km", "consumption",
               "energy drawn from the pack per distance on the ride", Better::kLower,
               figures::kRide, true,
               [](const Metrics& m) { return m.performance.consumption / 3.6; }},
    MetricInfo{"mass", "mass_kg", "kg", "bike mass",
               "the bike ready to ride, without rider and load", Better::kLower, 0, true,
               [](const Metrics& m) { return m.mass; }},
    MetricInfo{"winding_ride", "winding_ride_c", "degC", "winding",
               "temperature that the motor's winding settles at on the ride", Better::kLower,
               figures::kRide, true,
               [](const Metrics& m) { return celsius(m.performance.winding_ride); }},
    MetricInfo{"battery_current_peak", "battery_current_peak_a", "A", "peak battery current",
               "largest current from the pack at full throttle from rest to top speed",
               Better::kLower, figures::kPeakCurrent, false,
               [](const Metrics& m) { return m.performance.battery_current_peak; }},
    MetricInfo{"charge_time", "charge_time_h", "h", "charging",
               "usable charge over the charger's current, or over what the outlet feeds",
               Better::kLower, 0, true, [](const Metrics& m) { return hours(m.charge_time); }},
    MetricInfo{"keeps_up", "keeps_up_percent", "%", "keeps up",
               "share of the ride's time in which the bike can follow it", Better::kHigher,
               figures::kRide, false,
               [](const Metrics& m) { return percent(m.performance.keeps_up); }},
    MetricInfo{"cruise_current", "", "A", "cruise current",
               "battery current at the hardest of the cruise speeds", Better::kLower,
               figures::kCruise, true, cruise_current},
    MetricInfo{"climb_margin", "", "N", "climb margin",
               "wheel force left over on the hardest of the climbs", Better::kHigher,
               figures::kRide, true, climb_margin},
    MetricInfo{"climb_winding", "", "degC", "winding after the climb",
               "winding temperature at the end of the hottest climb", Better::kLower,
               figures::kRide, true, climb_winding},
};

}  // namespace

std::span<const MetricInfo> metric_table() { return kTable; }

double cost_of(const MetricInfo& metric, const Metrics& metrics) {
  const double value = metric.value(metrics);
  return metric.better == Better::kLower ? value : -value;
}

const MetricInfo& confidence_metric() {
  static constexpr MetricInfo kConfidence = {
      "confidence",
      "",
      "%",
      "confidence",
      "share of the samples of all uncertain inputs in which every rule and demand holds",
      Better::kHigher,
      0,
      true,
      [](const Metrics&) { return model::kNone; }};
  return kConfidence;
}

const MetricInfo* find_metric(std::string_view name) {
  const auto found = std::ranges::find(kTable, name, &MetricInfo::name);
  return found == kTable.end() ? nullptr : &*found;
}

}  // namespace sprocketry::spec
