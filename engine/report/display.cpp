#include "report/display.hpp"

#include <algorithm>
#include <cmath>

#include "report/text.hpp"
#include "units/units.hpp"

namespace sprocketry::report {
namespace {

using units::Dimension;

int decimals_for(std::string_view unit) {
  for (const std::string_view fine : {"s", "h", "km/h", "mph", "Wh/km", "Wh/mi"}) {
    if (unit == fine) return 1;
  }
  return 0;
}

DisplayUnit unit_of(rules::Unit unit, const spec::Requirement& requirement) {
  if (unit == rules::Unit::kMoney) return {requirement.currency, 1.0};
  return display_unit(rules::unit_info(unit).symbol, requirement.units);
}

// As many decimals as show the margin with two digits, none beyond the second.
int decimals_for_margin(double margin) {
  const double size = std::abs(margin);
  if (!(size > 0) || size < 1) return 2;
  return size < 10 ? 1 : 0;
}

// Without zeros at the end that say nothing.
std::string plain(double value, int decimals) {
  std::string text = rounded(value, decimals);
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

constexpr int kMostDecimals = 6;

// So many decimals, at least, as show that two values differ.
int decimals_apart(double value, double other, int decimals) {
  while (value != other && decimals < kMostDecimals &&
         plain(value, decimals) == plain(other, decimals)) {
    ++decimals;
  }
  return decimals;
}

std::string with_unit(const std::string& number, const std::string& symbol) {
  return symbol.empty() ? number : number + " " + symbol;
}

// Both in the unit that is shown. More than the usual two decimals only where these would show both
// alike.
std::string told_apart(double value, double other, const std::string& symbol) {
  const int decimals = decimals_apart(value, other, decimals_for_margin(value - other));
  return with_unit(plain(value, decimals), symbol);
}

std::string margin_text(const rules::Row& row, const DisplayUnit& unit, int decimals) {
  const std::string blank = unit.symbol.empty() ? "" : " ";
  const std::string side = row.holds ? " inside" : " outside";
  const double size = std::abs(row.margin * unit.factor);
  const std::string text = plain(size, decimals);
  if (text != "0") return text + blank + unit.symbol + side;
  return "less than 0.01" + blank + unit.symbol + side;
}

std::string reason_text(const rules::Row& row) {
  return row.reason.empty() ? "" : " (" + row.reason + ")";
}

// What follows the name of the thing that a check lacks.
std::string_view lack_text(rules::Lack lack) {
  switch (lack) {
    case rules::Lack::kField:
      return " is not given";
    case rules::Lack::kSpeed:
      return " is never reached";
    case rules::Lack::kReason:
      break;
  }
  return "";
}

}  // namespace

DisplayUnit display_unit(std::string_view symbol, const spec::DisplayUnits& units) {
  const double miles = units::in_unit(1000.0, Dimension::kLength, "mi");  // in a kilometre
  if (symbol == "km/h" && units.speed == "mph") return {"mph", miles};
  if (symbol == "km" && units.distance == "mi") return {"mi", miles};
  if (symbol == "Wh/km" && units.distance == "mi") return {"Wh/mi", 1.0 / miles};
  if (symbol == "kg" && units.mass == "lb") {
    return {"lb", units::in_unit(1.0, Dimension::kMass, "lb")};
  }
  return {std::string(symbol), 1.0};
}

Shown shown(const spec::MetricInfo& info, const spec::Requirement& requirement) {
  Shown s;
  s.label = info.label;
  constexpr std::string_view kTarget = "{pull_away_to}";
  if (const std::size_t at = s.label.find(kTarget); at != std::string::npos) {
    s.label.replace(at, kTarget.size(), rules::speed_text(requirement, requirement.pull_away_to));
  }
  const DisplayUnit unit = info.name == "price" ? DisplayUnit{requirement.currency, 1.0}
                                                : display_unit(info.unit, requirement.units);
  s.unit = unit.symbol;
  s.factor = unit.factor;
  s.decimals = decimals_for(s.unit);
  return s;
}

std::string shown_value(const Shown& shown, double value) {
  return rounded(value * shown.factor, shown.decimals);
}

std::string beside(double value, double other, const Shown& shown) {
  if (std::isnan(value)) return "never";
  return told_apart(value * shown.factor, other * shown.factor, shown.unit);
}

std::string beside(double value, double other, rules::Unit unit,
                   const spec::Requirement& requirement) {
  const DisplayUnit as = unit_of(unit, requirement);
  return told_apart(value * as.factor, other * as.factor, as.symbol);
}

std::string giving_way(double value, double limit, rules::Unit unit,
                       const spec::Requirement& requirement) {
  const DisplayUnit as = unit_of(unit, requirement);
  const double exact = value * as.factor;
  const double asked = limit * as.factor;
  const int decimals = decimals_apart(exact, asked, decimals_for_margin(exact - asked));
  const double scale = std::pow(10.0, decimals);
  // A decimal number in binary may lie a hair beside itself.
  const double slack = 1e-12 * std::abs(exact) * scale;
  const double steps =
      exact < asked ? std::floor(exact * scale + slack) : std::ceil(exact * scale - slack);
  return with_unit(plain(steps / scale, decimals), as.symbol);
}

void Figures::add(double value) {
  const double next = value * shown_.factor;
  for (const double other : values_) decimals_ = decimals_apart(next, other, decimals_);
  values_.push_back(next);
}

std::string Figures::text(double value) const {
  if (std::isnan(value)) return "never";
  return with_unit(rounded(value * shown_.factor, decimals_), shown_.unit);
}

std::string row_text(const rules::Row& row, const spec::Requirement& requirement) {
  std::string text(row.rule);
  if (!row.about.empty()) text += " (" + row.about + ")";
  if (row.unchecked) {
    return text + ": " + row.missing + std::string(lack_text(row.lack));
  }
  const bool yes_or_no = row.unit_kind == rules::Unit::kNone && row.limit == 1.0;
  if (yes_or_no) return text + (row.holds ? ": yes" : ": no") + reason_text(row);
  if (std::isnan(row.limit)) return text;
  const DisplayUnit unit = unit_of(row.unit_kind, requirement);
  const std::string symbol = unit.symbol.empty() ? "" : " " + unit.symbol;
  const double limit = row.limit * unit.factor;
  if (std::isnan(row.value)) return text + ": never reached, limit " + plain(limit, 2) + symbol;
  const int decimals = decimals_for_margin(row.margin * unit.factor);
  text += ": " + plain(row.value * unit.factor, decimals) + symbol + ", limit " +
          plain(limit, decimals) + symbol;
  const bool equal = row.holds && row.margin <= 0;
  if (equal || !std::isfinite(row.margin)) return text;
  return text + ", " + margin_text(row, unit, decimals) + reason_text(row);
}

}  // namespace sprocketry::report
