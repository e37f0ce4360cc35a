#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <locale>
#include <numbers>
#include <random>
#include <string>
#include <string_view>
#include <vector>

#include "units/table.hpp"
#include "units/units.hpp"

namespace sprocketry::units {
namespace {

using enum Dimension;

constexpr double kPi = std::numbers::pi;

double value_of(std::string_view text, Dimension dimension) {
  const auto read = parse(text, dimension);
  EXPECT_TRUE(read) << text << ": " << (read ? "" : read.error().message);
  return read ? read->value : std::nan("");
}

std::string digits(std::mt19937_64& random, int count) {
  std::string text;
  for (int i = 0; i < count; ++i) text += static_cast<char>('0' + random() % 10);
  return text;
}

TEST(UnitsParse, DecimalTextsGiveTheDoubleNearestToTheirExactValue) {
  EXPECT_EQ(value_of("72 km/h", kSpeed), 20.0);
  EXPECT_EQ(value_of("20 m/s", kSpeed), 20.0);
  EXPECT_EQ(value_of("45 mph", kSpeed), 20.1168);
  EXPECT_EQ(value_of("100 mph", kSpeed), 44.704);
  EXPECT_EQ(value_of("1000 mm", kLength), 1.0);
  EXPECT_EQ(value_of("1 in", kLength), 0.0254);
  EXPECT_EQ(value_of("3 ft", kLength), 0.9144);
  EXPECT_EQ(value_of("0.1 mi", kLength), 160.9344);
  EXPECT_EQ(value_of("50 %", kRatio), 0.5);
  EXPECT_EQ(value_of("12 %", kRatio), 0.12);
  EXPECT_EQ(value_of("0.9 mohm", kResistance), 0.0009);
  EXPECT_EQ(value_of("3.5 kWh", kEnergy), 12.6e6);
  EXPECT_EQ(value_of("100 Ah", kCharge), 360000.0);
  EXPECT_EQ(value_of("2.2 bar", kPressure), 220000.0);
  EXPECT_EQ(value_of("1 lb", kMass), 0.45359237);
  EXPECT_EQ(value_of("1 lbf", kForce), 4.4482216152605);
  EXPECT_EQ(value_of("1 PS", kPower), 735.49875);
  EXPECT_EQ(value_of("1 hp", kPower), 745.69987158227022);
  EXPECT_EQ(value_of("1000 uF", kCapacitance), 0.001);
  EXPECT_EQ(value_of("1 N/(km/h)2", kForcePerSpeedSquared), 12.96);
}

// Most texts are a few digits and one word, and read in a shorter way; a blank in front forbids it.
TEST(UnitsParse, TheShortWayReadsWhatTheLongOneReads) {
  std::mt19937_64 random(11);
  int values = 0;
  for (const Unit& unit : all_units()) {
    for (int round = 0; round < 400; ++round) {
      std::string text = digits(random, static_cast<int>(random() % 10));
      if (random() % 3 > 0) text += "." + digits(random, static_cast<int>(random() % 11));
      if (random() % 4 == 0) {
        text = digits(random, 1 + static_cast<int>(random() % 10)) + "/" +
               digits(random, 1 + static_cast<int>(random() % 10));
      }
      if (random() % 8 == 0) text.insert(random() % (text.size() + 1), 1, ".,/e+- 1"[random() % 8]);
      text += std::string(random() % 3, ' ') + std::string(unit.symbol);
      if (random() % 8 == 0) text += " 1"[random() % 2];
      const auto read = parse(text, unit.dimension);
      const auto longer = parse(" " + text, unit.dimension);
      ASSERT_EQ(read.has_value(), longer.has_value()) << text;
      if (!read) continue;
      ++values;
      ASSERT_EQ(read->value, longer->value) << text;
      ASSERT_EQ(std::signbit(read->value), std::signbit(longer->value)) << text;
      ASSERT_EQ(read->symbol, longer->symbol) << text;
    }
  }
  EXPECT_GT(values, 10000);
}

TEST(UnitsParse, TemperaturesArePointsOnTheScale) {
  EXPECT_EQ(value_of("25 degC", kTemperature), 298.15);
  EXPECT_EQ(value_of("75 degC", kTemperature), 348.15);
  EXPECT_EQ(value_of("155 °C", kTemperature), 428.15);
  EXPECT_EQ(value_of("-5 degC", kTemperature), 268.15);
  EXPECT_EQ(value_of("-273.15 degC", kTemperature), 0.0);
  EXPECT_EQ(value_of("-300 degC", kTemperature), -26.85);
  EXPECT_EQ(value_of("32 degF", kTemperature), 273.15);
  EXPECT_EQ(value_of("212 °F", kTemperature), 373.15);
  EXPECT_EQ(value_of("-459.67 degF", kTemperature), 0.0);
  EXPECT_EQ(value_of("300 K", kTemperature), 300.0);
}

TEST(UnitsParse, EveryHundredthOfADegreeIsTheNearestDouble) {
  for (int hundredths = -27315; hundredths <= 50000; ++hundredths) {
    const std::string cents = std::to_string(100 + std::abs(hundredths) % 100).substr(1);
    std::string text = hundredths < 0 ? "-" : "";
    text.append(std::to_string(std::abs(hundredths) / 100)).append(".").append(cents);
    text.append(" degC");
    ASSERT_EQ(value_of(text, kTemperature), (hundredths + 27315) / 100.0) << text;
  }
}

TEST(UnitsParse, RotationAndSpeedConstantCountRadians) {
  EXPECT_DOUBLE_EQ(value_of("6000 rpm", kRotationalSpeed), 200 * kPi);
  EXPECT_DOUBLE_EQ(value_of("62 rpm/V", kSpeedConstant), 62 * kPi / 30);
  EXPECT_DOUBLE_EQ(value_of("16 V/krpm", kSpeedConstant), 1000 * kPi / 30 / 16);
  EXPECT_EQ(value_of("0.5 V s/rad", kSpeedConstant), 2.0);
  EXPECT_EQ(value_of("20 V/krpm", kSpeedConstant), value_of("50 rpm/V", kSpeedConstant));
  EXPECT_DOUBLE_EQ(value_of("180 deg", kAngle), kPi);
}

TEST(UnitsParse, MotorCurrentsBecomeTheirDcEquivalent) {
  EXPECT_EQ(value_of("300 A", kMotorCurrent), 300.0);
  EXPECT_DOUBLE_EQ(value_of("100 A_pk", kMotorCurrent), 50 * std::sqrt(3.0));
  EXPECT_DOUBLE_EQ(value_of("100 A_rms", kMotorCurrent), 100 * std::sqrt(1.5));
}

TEST(UnitsParse, FractionsStandAloneOrBehindAWholeNumber) {
  EXPECT_EQ(value_of("7/8 in", kLength), 0.022225);
  EXPECT_EQ(value_of("1 1/8 in", kLength), 0.028575);
  EXPECT_EQ(value_of("-1 1/8 in", kLength), -0.028575);
  EXPECT_EQ(value_of("1/3 h", kTime), 1200.0);
  EXPECT_EQ(value_of("1  3/16in", kLength), 0.0301625);
}

TEST(UnitsParse, SmallerUnitsMayFollowInLengthsMassesAndTimes) {
  EXPECT_EQ(value_of("3 min 30 s", kTime), 210.0);
  EXPECT_EQ(value_of("1 h 2 min 3.5 s", kTime), 3723.5);
  EXPECT_EQ(value_of("1 h 30 s", kTime), 3630.0);
  EXPECT_EQ(value_of("5 ft 3 1/2 in", kLength), 1.6129);
  EXPECT_EQ(value_of("5 ft 3 in", kLength), 1.6002);
  EXPECT_EQ(value_of("-5 ft 3 in", kLength), -1.6002);
  EXPECT_EQ(value_of("2 lb 8 oz", kMass), 1.133980925);
  EXPECT_EQ(parse("5 ft 3 in", kLength)->symbol, "in");
}

TEST(UnitsParse, BlanksAndTheFormOfTheNumberAreFree) {
  EXPECT_EQ(value_of("72km/h", kSpeed), 20.0);
  EXPECT_EQ(value_of("  72 \t km/h  ", kSpeed), 20.0);
  EXPECT_EQ(value_of("+72 km/h", kSpeed), 20.0);
  EXPECT_EQ(value_of("072.0 km/h", kSpeed), 20.0);
  EXPECT_EQ(value_of("7.2e1 km/h", kSpeed), 20.0);
  EXPECT_EQ(value_of("7200E-2km/h", kSpeed), 20.0);
  EXPECT_EQ(value_of(".5 m", kLength), 0.5);
  EXPECT_EQ(value_of("5. m", kLength), 5.0);
  EXPECT_EQ(value_of("0.006 kg m2", kInertia), 0.006);
  EXPECT_EQ(value_of("0.5 V s/rad ", kSpeedConstant), 2.0);
}

TEST(UnitsParse, NegativeNumbersAreReadAndZeroHasNoSign) {
  EXPECT_EQ(value_of("-72 km/h", kSpeed), -20.0);
  EXPECT_FALSE(std::signbit(value_of("-0 km/h", kSpeed)));
  EXPECT_FALSE(std::signbit(value_of("-1e-400 m", kLength)));
}

TEST(UnitsParse, TheSpellingUsedLastIsReported) {
  EXPECT_EQ(parse("3 kg m2", kInertia)->symbol, "kg m2");
  EXPECT_EQ(parse("0.9 m\u03A9", kResistance)->symbol, "m\u03A9");
  EXPECT_EQ(parse("3 min 30 s", kTime)->symbol, "s");
}

TEST(UnitsParse, SpellingsOfTheSameUnitGiveTheSameDouble) {
  const std::vector<std::vector<std::string_view>> groups = {{"N m", "Nm"},
                                                             {"lb-ft", "lb ft", "lbf ft"},
                                                             {"mohm", "m\u03A9", "m\u2126"},
                                                             {"ohm", "\u03A9", "\u2126"},
                                                             {"K/W", "degC/W", "°C/W"},
                                                             {"degC", "°C"},
                                                             {"degF", "°F"},
                                                             {"deg", "°"},
                                                             {"uF", "\u00B5F", "\u03BCF"}};
  for (const auto& group : groups) {
    for (const std::string_view symbol : group) {
      const auto units = all_units();
      const auto row = std::ranges::find(units, symbol, &Unit::symbol);
      const auto first = std::ranges::find(units, group.front(), &Unit::symbol);
      ASSERT_NE(row, units.end()) << symbol;
      EXPECT_EQ(row->dimension, first->dimension) << symbol;
      EXPECT_EQ(value_of("17.3 " + std::string(symbol), row->dimension),
                value_of("17.3 " + std::string(group.front()), row->dimension));
    }
  }
}

TEST(UnitsParse, AnyDecimalInASiUnitIsReadAsTheStandardLibraryReadsIt) {
  std::mt19937_64 random(20240501);
  for (int i = 0; i < 50000; ++i) {
    std::string number = digits(random, 1 + static_cast<int>(random() % 25));
    if (random() % 2 == 0) number += "." + digits(random, static_cast<int>(random() % 25));
    if (random() % 2 == 0) number += "e" + std::to_string(static_cast<int>(random() % 660) - 340);
    const double expected = std::strtod(number.c_str(), nullptr);
    const auto read = parse(number + " m", kLength);
    ASSERT_EQ(read.has_value(), std::isfinite(expected)) << number;
    if (!read) continue;
    ASSERT_EQ(read->value, expected) << number;
  }
}

TEST(UnitsParse, HalfwayCasesGoToTheEvenNeighbour) {
  for (const std::string number :
       {"9007199254740993", "9007199254740993.0000000000000000000000000000001", "9007199254740995",
        "2.4703282292062327e-324", "2.4703282292062328e-324", "4.9406564584124654e-324",
        "2.2250738585072011e-308", "2.2250738585072014e-308", "1.7976931348623157e308",
        "1.7976931348623158e308", "7.2057594037927933e16",
        "0.500000000000000166533453693773481063544750213623046875"}) {
    EXPECT_EQ(value_of(number + " m", kLength), std::strtod(number.c_str(), nullptr)) << number;
  }
}

TEST(UnitsParse, EveryProportionalUnitIsRoundedOnce) {
  std::mt19937_64 random(7);
  for (const Unit& unit : all_units()) {
    if (unit.scale != Scale::kProportional) continue;
    const long double factor = static_cast<long double>(unit.factor.numerator) /
                               static_cast<long double>(unit.factor.denominator);
    for (int i = 0; i < 500; ++i) {
      const std::uint64_t number = random() >> (11 + random() % 40);
      const std::string text = std::to_string(number) + " " + std::string(unit.symbol);
      const double value = value_of(text, unit.dimension);
      const long double half = (std::nextafter(value, INFINITY) - value) / 2.0L;
      const long double slack = half / 256;  // the reference itself has 11 bits more only
      ASSERT_LE(std::abs(static_cast<long double>(number) * factor - value), half + slack) << text;
    }
  }
}

class CommaPunctuation : public std::numpunct<char> {
  char do_decimal_point() const override { return ','; }
  char do_thousands_sep() const override { return '.'; }
  std::string do_grouping() const override { return "\3"; }
};

TEST(UnitsParse, TheLocaleOfTheProgramChangesNothing) {
  const std::locale before = std::locale::global(std::locale(std::locale(), new CommaPunctuation));
  EXPECT_EQ(value_of("1234.5 m", kLength), 1234.5);
  EXPECT_FALSE(parse("1.234,5 m", kLength));
  EXPECT_EQ(print(1234.5, kLength, "m"), "1234.5 m");
  std::locale::global(before);
}

TEST(UnitsTable, SpellingsAreUniqueWithinADimensionAndExamplesAreAccepted) {
  for (int i = 0; i <= static_cast<int>(kPowerPerMass); ++i) {
    const auto dimension = static_cast<Dimension>(i);
    std::vector<std::string_view> symbols = symbols_of(dimension);
    ASSERT_FALSE(symbols.empty());
    std::ranges::sort(symbols);
    EXPECT_EQ(std::ranges::adjacent_find(symbols), symbols.end()) << name_of(dimension);
    EXPECT_TRUE(parse(example_of(dimension), dimension)) << example_of(dimension);
    EXPECT_TRUE(name_of(dimension).starts_with("a ") || name_of(dimension).starts_with("an "));
  }
}

}  // namespace
}  // namespace sprocketry::units
