#include "rules/rule.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "model/constants.hpp"
#include "rules/checks.hpp"
#include "units/units.hpp"

namespace sprocketry::rules {
namespace {

constexpr double kRpmPerRadian = 60.0 / (2.0 * model::kPi);

// In the order of the enumeration.
constexpr std::array kUnits = {
    UnitInfo{"", 1, 0},
    UnitInfo{"V", 1, 0},
    UnitInfo{"A", 1, 0},
    UnitInfo{"mm", 1000, 0},
    UnitInfo{"%", 100, 0},
    UnitInfo{"deg", 180.0 / model::kPi, 0},
    UnitInfo{"s", 1, 0},
    UnitInfo{"km/h", 3.6, 0},
    UnitInfo{"m/s", 1, 0},
    UnitInfo{"rpm", kRpmPerRadian, 0},
    UnitInfo{"degC", 1, -273.15},
    UnitInfo{"N", 1, 0},
    UnitInfo{"kg", 1, 0},
    UnitInfo{"km", 1e-3, 0},
    UnitInfo{"h", 1.0 / 3600.0, 0},
    UnitInfo{"l", 1000, 0},
    UnitInfo{"", 1.0 / static_cast<double>(parts::kMoneyUnit), 0},
    UnitInfo{"kW", 1e-3, 0},
    UnitInfo{"MPa", 1e-6, 0},
    UnitInfo{"N m", 1, 0},
    UnitInfo{"W/kg", 1, 0},
};

std::vector<Rule> joined() {
  std::vector<Rule> rules;
  for (const auto part :
       {electrical_rules(), room_rules(), fit_rules(), adjustment_rules(), chain_line_rules(),
        strength_rules(), hub_rules(), riding_rules(), demand_rules()}) {
    rules.insert(rules.end(), part.begin(), part.end());
  }
  return rules;
}

}  // namespace

const UnitInfo& unit_info(Unit unit) { return kUnits[static_cast<std::size_t>(unit)]; }

double Finding::margin() const {
  switch (sense) {
    case Sense::kAtMost:
      return limit - value;
    case Sense::kAtLeast:
      return value - limit;
    case Sense::kEqual:
      break;
  }
  return -std::abs(value - limit);
}

bool Finding::holds() const {
  // Equal means the same part number's size; conversions between inch and millimetre round.
  constexpr double kSame = 1e-6;
  if (sense == Sense::kEqual) return std::abs(value - limit) <= kSame;
  return margin() >= 0;
}

std::span<const Rule> rule_table() {
  static const std::vector<Rule> kTable = joined();
  return kTable;
}

std::vector<Check> active_checks(const spec::Requirement& requirement) {
  std::vector<Check> checks;
  const auto table = rule_table();
  for (std::size_t index = 0; index < table.size(); ++index) {
    const std::size_t items = table[index].items(requirement);
    for (std::size_t item = 0; item < items; ++item) checks.push_back({&table[index], index, item});
  }
  return checks;
}

Row make_row(const Check& check, const Context& context) {
  const Rule& rule = *check.rule;
  const Finding finding = rule.check(context, check.item);
  const UnitInfo& unit = unit_info(rule.unit);
  Row row;
  row.rule = rule.name;
  if (rule.about) row.about = rule.about(context.requirement, check.item);
  row.unit = unit.symbol;
  row.unit_kind = rule.unit;
  row.kind = rule.kind;
  row.source = rule.source;
  row.unchecked = finding.unchecked();
  if (row.unchecked) {
    row.missing = finding.missing;
    row.lack = finding.lack;
    return row;
  }
  row.value = finding.value * unit.factor + unit.offset;
  row.limit = finding.limit * unit.factor + unit.offset;
  row.margin = finding.margin() * unit.factor;
  row.holds = finding.holds();
  if (!row.holds && rule.reason) row.reason = rule.reason(context, check.item);
  return row;
}

namespace {

// With one decimal where it has any: a default in the other system would show a dozen digits.
std::string short_text(double value) {
  char buffer[32];
  const auto end =
      std::to_chars(std::begin(buffer), std::end(buffer), std::round(value * 10.0) / 10.0);
  return {std::begin(buffer), end.ptr};
}

}  // namespace

std::string speed_text(const spec::Requirement& requirement, double speed) {
  const auto& symbol = requirement.units.speed;
  return short_text(units::in_unit(speed, units::Dimension::kSpeed, symbol)) + ' ' +
         std::string(symbol);
}

std::string climb_text(const spec::Requirement& requirement, std::size_t item) {
  const auto& climbs = requirement.must.climbs;
  const spec::Climb& climb = climbs[item];
  std::string text = speed_text(requirement, climb.speed);
  if (std::ranges::count(climbs, climb.speed, &spec::Climb::speed) == 1) return text;
  return text + ", " + short_text(100.0 * climb.grade) + " %, " + short_text(climb.duration) + " s";
}

}  // namespace sprocketry::rules
