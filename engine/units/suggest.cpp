#include "units/suggest.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <numeric>
#include <string>

#include "units/table.hpp"

namespace sprocketry::units {
namespace {

constexpr std::size_t kLongestWord = 24;  // bytes; longer words resemble nothing

struct Habit {
  Dimension dimension;
  std::string_view written;  // plain spelling, see plain()
  std::string_view symbol;
};

using enum Dimension;

// What people write elsewhere and the table does not take, because one quantity should look one way
// in every file.
constexpr Habit kHabits[] = {
    {kLength, "inch", "in"},
    {kLength, "inches", "in"},
    {kLength, "\"", "in"},
    {kLength, "''", "in"},
    {kLength, "foot", "ft"},
    {kLength, "feet", "ft"},
    {kLength, "'", "ft"},
    {kLength, "mile", "mi"},
    {kLength, "miles", "mi"},
    {kLength, "meter", "m"},
    {kLength, "metre", "m"},
    {kLength, "meters", "m"},
    {kLength, "metres", "m"},
    {kLength, "kms", "km"},
    {kArea, "sqm", "m2"},
    {kArea, "sqft", "ft2"},
    {kArea, "sqin", "in2"},
    {kMass, "lbs", "lb"},
    {kMass, "lbm", "lb"},
    {kMass, "pound", "lb"},
    {kMass, "pounds", "lb"},
    {kMass, "kgs", "kg"},
    {kMass, "kilo", "kg"},
    {kMass, "kilos", "kg"},
    {kMass, "gram", "g"},
    {kMass, "grams", "g"},
    {kTime, "sec", "s"},
    {kTime, "secs", "s"},
    {kTime, "second", "s"},
    {kTime, "seconds", "s"},
    {kTime, "m", "min"},
    {kTime, "mins", "min"},
    {kTime, "minute", "min"},
    {kTime, "minutes", "min"},
    {kTime, "hr", "h"},
    {kTime, "hrs", "h"},
    {kTime, "hour", "h"},
    {kTime, "hours", "h"},
    {kSpeed, "kph", "km/h"},
    {kSpeed, "kmph", "km/h"},
    {kSpeed, "kmhr", "km/h"},
    {kSpeed, "mih", "mph"},
    {kSpeed, "mps", "m/s"},
    {kRotationalSpeed, "1min", "rpm"},
    {kRotationalSpeed, "min1", "rpm"},
    {kRotationalSpeed, "rmin", "rpm"},
    {kRotationalSpeed, "umin", "rpm"},
    {kRotationalSpeed, "revmin", "rpm"},
    {kSpeedConstant, "kv", "rpm/V"},
    {kSpeedConstant, "rpm", "rpm/V"},
    {kCurrent, "amp", "A"},
    {kCurrent, "amps", "A"},
    {kMotorCurrent, "amp", "A"},
    {kMotorCurrent, "amps", "A"},
    {kMotorCurrent, "apeak", "A_pk"},
    {kVoltage, "volt", "V"},
    {kVoltage, "volts", "V"},
    {kResistance, "ohms", "ohm"},
    {kCharge, "a", "Ah"},
    {kEnergy, "w", "Wh"},
    {kEnergy, "kw", "kWh"},
    {kPower, "watt", "W"},
    {kPower, "watts", "W"},
    {kPower, "bhp", "hp"},
    {kPower, "cv", "PS"},
    {kPower, "ch", "PS"},
    {kForce, "lb", "lbf"},
    {kForce, "lbs", "lbf"},
    {kTorque, "ftlb", "lb-ft"},
    {kTorque, "ftlbs", "lb-ft"},
    {kTorque, "lbsft", "lb-ft"},
    {kTorque, "ftlbf", "lb-ft"},
    {kPressure, "lbfin2", "psi"},
    {kTemperature, "c", "degC"},
    {kTemperature, "deg", "degC"},
    {kTemperature, "celsius", "degC"},
    {kTemperature, "f", "degF"},
    {kTemperature, "fahrenheit", "degF"},
    {kTemperature, "kelvin", "K"},
    {kRatio, "percent", "%"},
    {kRatio, "pct", "%"},
    {kAngle, "degree", "deg"},
    {kAngle, "degrees", "deg"},
};

struct Replacement {
  std::string_view from;
  std::string_view to;
};

// Marks that carry no meaning of their own, and letters beyond ASCII.
constexpr Replacement kReplacements[] = {
    {" ", ""},          {"-", ""},          {"_", ""},         {".", ""},        {"*", ""},
    {"^", ""},          {"/", ""},          {"(", ""},         {")", ""},        {"\u00B7", ""},
    {"\u22C5", ""},     {"\u00B2", "2"},    {"\u00B0", "deg"}, {"\u00B5", "u"},  {"\u03BC", "u"},
    {"\u2103", "degc"}, {"\u2109", "degf"}, {"\u03A9", "ohm"}, {"\u2126", "ohm"}};

// Small letters without marks, so that "KM/H", "km h" and "km/h" are one word.
std::string plain(std::string_view written) {
  std::string word;
  while (!written.empty()) {
    const auto* const row = std::ranges::find_if(
        kReplacements, [&](const Replacement& one) { return written.starts_with(one.from); });
    if (row != std::end(kReplacements)) {
      word += row->to;
      written.remove_prefix(row->from.size());
      continue;
    }
    const char letter = written.front();
    const bool capital = letter >= 'A' && letter <= 'Z';
    word += capital ? static_cast<char>(letter - 'A' + 'a') : letter;
    written.remove_prefix(1);
  }
  return word;
}

// Insertions, deletions, replacements and swaps of neighbours that make b of a.
std::size_t edit_distance(std::string_view a, std::string_view b) {
  using Row = std::array<std::size_t, kLongestWord + 1>;
  Row row{};
  Row last{};
  Row before_last{};
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    before_last = last;
    last = row;
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replaced = last[j - 1] + (a[i - 1] == b[j - 1] ? 0U : 1U);
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, replaced});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) row[j] = std::min(row[j], before_last[j - 2] + 1);
    }
  }
  return row[b.size()];
}

}  // namespace

std::string_view habitual_symbol(std::string_view written, Dimension dimension) {
  if (written.size() > kLongestWord) return {};
  const std::string word = plain(written);
  const auto units = units_of(dimension);
  const auto same = std::ranges::find_if(
      units, [&](const Unit& unit) { return !word.empty() && plain(unit.symbol) == word; });
  if (same != units.end()) return same->symbol;
  const auto* const habit = std::ranges::find_if(
      kHabits, [&](const Habit& one) { return one.dimension == dimension && one.written == word; });
  return habit == std::end(kHabits) ? std::string_view{} : habit->symbol;
}

std::string_view nearest_symbol(std::string_view written, Dimension dimension) {
  if (const auto habit = habitual_symbol(written, dimension); !habit.empty()) return habit;
  const std::string word = plain(written);
  if (word.empty() || word.size() > kLongestWord) return {};
  std::string_view nearest;
  std::size_t least = kLongestWord;
  for (const Unit& unit : units_of(dimension)) {
    const std::string symbol = plain(unit.symbol);
    const std::size_t distance = edit_distance(word, symbol);
    const std::size_t near = std::max<std::size_t>(1, symbol.size() / 3);
    if (distance > near || distance >= symbol.size() || distance >= least) continue;
    least = distance;
    nearest = unit.symbol;
  }
  return nearest;
}

}  // namespace sprocketry::units
