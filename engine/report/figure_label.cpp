#include "report/figure_label.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>

#include "report/text.hpp"
#include "search/lock.hpp"

namespace sprocketry::report {
namespace {

struct Ending {
  std::string_view ending;
  std::string_view unit;
  int decimals;
  int welcome;  // see welcome_direction()
};
// Longer endings first: "_km_h" before "_h".
constexpr std::array kEndings = {
    Ending{"_percent", "%", 1, 0}, Ending{"_wh_km", "Wh/km", 1, 1}, Ending{"_km_h", "km/h", 1, -1},
    Ending{"_rpm", "rpm", 0, 0},   Ending{"_km", "km", 1, -1},      Ending{"_mm", "mm", 1, 0},
    Ending{"_kg", "kg", 1, 1},     Ending{"_a", "A", 1, 1},         Ending{"_c", "degC", 1, 1},
    Ending{"_n", "N", 0, -1},      Ending{"_s", "s", 1, 1},         Ending{"_h", "h", 1, 1},
    Ending{"_v", "V", 1, 0},
};

const Ending* ending_of(std::string_view key) {
  const auto* const found =
      std::ranges::find_if(kEndings, [&](const Ending& one) { return key.ends_with(one.ending); });
  return found == kEndings.end() ? nullptr : &*found;
}

const spec::MetricInfo* metric_of(std::string_view key) {
  for (const spec::MetricInfo& info : spec::metric_table()) {
    if (!info.json_key.empty() && info.json_key == key) return &info;
  }
  return nullptr;
}

// A listed figure's place: "cruise_2_range_km" is item 2 of `cruise`, "range_km".
struct Listed {
  std::string_view list;
  std::size_t item = 0;  // from 0
  std::string_view figure;
};
std::optional<Listed> listed(std::string_view key) {
  for (const std::string_view list : {"cruise", "accelerations", "climbs"}) {
    if (!key.starts_with(list) || key.size() <= list.size() || key[list.size()] != '_') continue;
    const char* const begin = key.data() + list.size() + 1;
    std::size_t number = 0;
    const auto [end, error] = std::from_chars(begin, key.data() + key.size(), number);
    if (error != std::errc{} || number == 0 || end == key.data() + key.size()) return std::nullopt;
    return Listed{list, number - 1, key.substr(static_cast<std::size_t>(end + 1 - key.data()))};
  }
  return std::nullopt;
}

std::string item_text(const Listed& l, const spec::Requirement& r) {
  const auto speed = [&](double value) { return rules::speed_text(r, value); };
  if (l.list == "cruise" && l.item < r.cruise.size()) return "at " + speed(r.cruise[l.item]);
  if (l.list == "accelerations" && l.item < r.accelerations.size()) {
    const auto& change = r.accelerations[l.item];
    return speed(change.from) + " to " + speed(change.to);
  }
  if (l.list == "climbs" && l.item < r.must.climbs.size()) {
    const auto& climb = r.must.climbs[l.item];
    return "climb of " + rounded(climb.grade * 100, 1) + " % at " + speed(climb.speed);
  }
  return std::string(l.list) + ' ' + std::to_string(l.item + 1);
}

std::string words(std::string_view name) {
  std::string text(name);
  std::ranges::replace(text, '_', ' ');
  return text;
}

}  // namespace

Shown shown_figure(const std::string& key, const spec::Requirement& requirement) {
  if (const spec::MetricInfo* info = metric_of(key)) {
    Shown s = shown(*info, requirement);
    s.decimals = std::max(s.decimals, info->unit.empty() ? 0 : 1);
    return s;
  }
  if (key == search::kWallCost) {
    const DisplayUnit distance = display_unit("km", requirement.units);
    return {"cost per 100 " + distance.symbol, requirement.currency, 1.0 / distance.factor, 2};
  }
  Shown s;
  const Ending* ending = ending_of(key);
  const auto item = listed(key);
  std::string_view name = item ? item->figure : std::string_view(key);
  if (ending != nullptr) {
    name.remove_suffix(ending->ending.size());
    const DisplayUnit unit = display_unit(ending->unit, requirement.units);
    s.unit = unit.symbol;
    s.factor = unit.factor;
    s.decimals = ending->decimals;
  }
  s.label = item ? item_text(*item, requirement) + ": " + words(name) : words(name);
  if (key.ends_with("_rpm")) s.label += " speed";
  return s;
}

std::string shown_change(const Shown& shown, double a, double b) {
  // Of what is printed: rounding anew may fall on the other side of a half.
  const auto printed = [&](double value) {
    const std::string text = shown_value(shown, value);
    double number = model::kNone;
    std::from_chars(text.data(), text.data() + text.size(), number);
    return number;
  };
  const double change = printed(b) - printed(a);
  const std::string text = rounded(change, shown.decimals);
  return (change > 0 ? "+" : "") + text;
}

int welcome_direction(const std::string& key) {
  if (const spec::MetricInfo* info = metric_of(key)) {
    return info->better == spec::Better::kLower ? 1 : -1;
  }
  if (key.starts_with("wall_") || key.ends_with("_from_the_wall_h")) {
    return 1;
  }
  if (!listed(key)) return 0;
  const Ending* ending = ending_of(key);
  return ending == nullptr ? 0 : ending->welcome;
}

bool repeats_question(const std::string& key) {
  const auto item = listed(key);
  if (!item) return false;
  constexpr std::array<std::string_view, 4> kAsked = {"speed_km_h", "from_km_h", "to_km_h",
                                                      "grade_percent"};
  return std::ranges::find(kAsked, item->figure) != kAsked.end();
}

}  // namespace sprocketry::report
