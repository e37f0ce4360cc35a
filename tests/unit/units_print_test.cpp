#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <bit>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <limits>
#include <random>
#include <string>
#include <string_view>

#include "units/table.hpp"
#include "units/units.hpp"

namespace sprocketry::units {
namespace {

using enum Dimension;

double random_bits(std::mt19937_64& random) {
  while (true) {
    const auto value = std::bit_cast<double>(random());
    if (std::isfinite(value)) return value;
  }
}

// Of a size that people meet, with every bit of the mantissa in play.
double random_size(std::mt19937_64& random) {
  const double exponent = std::uniform_real_distribution<double>(-8, 10)(random);
  const double size = std::pow(10.0, exponent);
  return random() % 4 == 0 ? -size : size;
}

testing::AssertionResult comes_back(double value, const Unit& unit) {
  const std::string text = print(value, unit.dimension, unit.symbol);
  const auto read = parse(text, unit.dimension);
  if (!read) return testing::AssertionFailure() << text << ": " << read.error().message;
  if (read->value == value) return testing::AssertionSuccess();
  return testing::AssertionFailure() << text << " reads as " << read->value << ", not " << value;
}

TEST(UnitsPrint, EveryFiniteDoubleComesBackInEverySpelling) {
  std::mt19937_64 random(1);
  for (const Unit& unit : all_units()) {
    for (int i = 0; i < 2000; ++i) {
      ASSERT_TRUE(comes_back(random_bits(random), unit));
      ASSERT_TRUE(comes_back(random_size(random), unit));
    }
  }
}

TEST(UnitsPrint, TheEdgesOfTheDoublesComeBackInEverySpelling) {
  using Double = std::numeric_limits<double>;
  for (const Unit& unit : all_units()) {
    for (const double edge :
         {0.0, -0.0, Double::min(), Double::denorm_min(), Double::max(),
          Double::min() - Double::denorm_min(), 1.0, 273.15, 255.3722222222222}) {
      EXPECT_TRUE(comes_back(edge, unit));
      EXPECT_TRUE(comes_back(-edge, unit));
      if (edge == Double::max()) continue;
      EXPECT_TRUE(comes_back(std::nextafter(edge, Double::max()), unit));
    }
    for (int exponent = -1074; exponent < 1024; exponent += 5) {
      const double power = std::ldexp(1.0, exponent);
      ASSERT_TRUE(comes_back(power, unit));
      ASSERT_TRUE(comes_back(std::nextafter(power, 0.0), unit));
    }
  }
}

TEST(UnitsPrint, TemperaturesOfTheJobComeBackInTheirOwnScale) {
  std::mt19937_64 random(2);
  std::uniform_real_distribution<double> kelvin(100, 1000);
  for (const std::string_view symbol : {"degC", "°C", "degF", "°F", "K"}) {
    for (int i = 0; i < 20000; ++i) {
      const double value = kelvin(random);
      const std::string text = print(value, kTemperature, symbol);
      ASSERT_TRUE(text.ends_with(" " + std::string(symbol))) << text;
      ASSERT_EQ(parse(text, kTemperature)->value, value) << text;
    }
  }
}

// A decimal of at most 15 digits is told apart from every other by the double that it becomes, so
// that the shortest text must be the very text that was read.
TEST(UnitsPrint, WhatAPersonWroteIsWhatIsPrinted) {
  std::mt19937_64 random(3);
  for (const Unit& unit : all_units()) {
    if (unit.scale == Scale::kShifted) continue;
    for (int i = 0; i < 2000; ++i) {
      std::uint64_t number = 1 + random() % 999999999999999;
      for (auto cut = random() % 14; cut > 0; --cut) number /= 10;
      while (number > 0 && number % 10 == 0) number /= 10;
      if (number == 0) continue;
      std::string text = std::to_string(number);
      const std::size_t point = random() % (text.size() + 1);
      if (point < text.size()) text.insert(point, point == 0 ? "0." : ".");
      if (text.starts_with("0.") && text.find_first_not_of("0.") > 5) continue;
      text += " " + std::string(unit.symbol);
      const auto read = parse(text, unit.dimension);
      ASSERT_TRUE(read) << text;
      ASSERT_EQ(print(read->value, unit.dimension, unit.symbol), text);
    }
  }
}

// Digits without sign, point, exponent and zeros at either end.
std::string significant(std::string_view text) {
  std::string digits;
  for (const char letter : text.substr(0, text.find_first_of("e "))) {
    if (letter >= '0' && letter <= '9' && (letter != '0' || !digits.empty())) digits += letter;
  }
  return digits.substr(0, digits.find_last_not_of('0') + 1);
}

TEST(UnitsPrint, OfAllShortestTextsTheNearestToTheValueIsPrinted) {
  std::mt19937_64 random(6);
  for (int i = 0; i < 50000; ++i) {
    const double value = i % 2 == 0 ? random_bits(random) : random_size(random);
    std::array<char, 64> buffer{};
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                   std::chars_format::scientific);
    const std::string_view reference(buffer.data(), end.ptr);
    ASSERT_EQ(significant(print(value, kLength, "m")), significant(reference));
  }
}

TEST(UnitsPrint, WrittenTemperaturesArePrintedAsWritten) {
  for (const std::string_view text : {"25 degC", "-5 degC", "0 degC", "0.1 degC", "75 °C", "155 °C",
                                      "-273.15 degC", "68 degF", "0 °F", "98.6 °F", "300 K"}) {
    const auto read = parse(text, kTemperature);
    ASSERT_TRUE(read) << text;
    EXPECT_EQ(print(read->value, kTemperature, read->symbol), text);
  }
}

TEST(UnitsPrint, NumbersAreShortAndPositionalWherePeopleReadThem) {
  EXPECT_EQ(print(20.0, kSpeed, "km/h"), "72 km/h");
  EXPECT_EQ(print(0.1, kLength, "mm"), "100 mm");
  EXPECT_EQ(print(100000.0, kLength, "m"), "100000 m");
  EXPECT_EQ(print(0.0005, kInertia, "kg m2"), "0.0005 kg m2");
  EXPECT_EQ(print(1.0 / 3, kRatio, "%"), "33.33333333333333 %");
  EXPECT_EQ(print(1e22, kLength, "m"), "1e22 m");
  EXPECT_EQ(print(-1.5e-9, kLength, "m"), "-1.5e-9 m");
  EXPECT_EQ(print(0.0, kSpeed, "mph"), "0 mph");
  EXPECT_EQ(print(-0.0, kSpeed, "mph"), "0 mph");
  EXPECT_EQ(print(0.022225, kLength, "in"), "0.875 in");
}

TEST(UnitsPrint, FallsBackToTheSiUnitWhereTheAskedOneHasNoReadableText) {
  EXPECT_EQ(print(0.0, kSpeedConstant, "V/krpm"), "0 rad/s/V");
  EXPECT_EQ(print(1.25e-18, kTemperature, "degC"), "1.25e-18 K");
  EXPECT_EQ(print(0.0, kTemperature, "degC"), "-273.15 degC");
}

TEST(UnitsInUnit, AgreesWithThePrintedNumber) {
  std::mt19937_64 random(4);
  for (const Unit& unit : all_units()) {
    for (int i = 0; i < 500; ++i) {
      const double value = random_size(random);
      const std::string text = print(value, unit.dimension, unit.symbol);
      if (!text.ends_with(" " + std::string(unit.symbol))) continue;
      const double printed = std::stod(text);
      const double shift = static_cast<double>(unit.shift) / kShiftSteps;
      const double size = std::max(std::abs(printed), shift);
      ASSERT_NEAR(in_unit(value, unit.dimension, unit.symbol), printed, 8e-16 * size) << text;
    }
  }
}

TEST(UnitsInUnit, GivesRoundNumbersForRoundQuantities) {
  EXPECT_EQ(in_unit(20.0, kSpeed, "km/h"), 72.0);
  EXPECT_EQ(in_unit(20.0, kSpeed, "m/s"), 20.0);
  EXPECT_EQ(in_unit(0.5, kRatio, "%"), 50.0);
  EXPECT_EQ(in_unit(0.2, kRatio, "%"), 20.0);
  EXPECT_EQ(in_unit(348.15, kTemperature, "degC"), 75.0);
  EXPECT_EQ(in_unit(2.0, kSpeedConstant, "V s/rad"), 0.5);
}

TEST(UnitsInUnit, GivesNoInfinityForALargeValue) {
  constexpr double kLargest = std::numeric_limits<double>::max();
  for (const Unit& unit : all_units()) {
    for (const double value : {1e290, 1e300, kLargest, -kLargest}) {
      const double there = in_unit(value, unit.dimension, unit.symbol);
      EXPECT_TRUE(std::isfinite(there)) << unit.symbol << ' ' << value;
    }
  }
  EXPECT_EQ(in_unit(1e300, kSpeed, "km/h"), 3.6e300);
  EXPECT_EQ(in_unit(1e300, kLength, "mm"), 1e303);
  EXPECT_EQ(in_unit(kLargest, kLength, "mm"), kLargest);
  EXPECT_EQ(in_unit(-kLargest, kLength, "mm"), -kLargest);
  EXPECT_EQ(in_unit(1e300, kSpeedConstant, "V s/rad"), 1e-300);
}

TEST(UnitsInUnit, NeverReversesTheOrderOfTwoValues) {
  std::mt19937_64 random(5);
  for (const Unit& unit : all_units()) {
    for (int i = 0; i < 500; ++i) {
      const double value = std::abs(random_size(random));
      const double next = std::nextafter(value, INFINITY);
      const double a = in_unit(value, unit.dimension, unit.symbol);
      const double b = in_unit(next, unit.dimension, unit.symbol);
      ASSERT_TRUE(unit.scale == Scale::kReciprocal ? a >= b : a <= b) << unit.symbol;
    }
  }
}

}  // namespace
}  // namespace sprocketry::units
