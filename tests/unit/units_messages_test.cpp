#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <random>
#include <string>
#include <string_view>

#include "units/units.hpp"

namespace sprocketry::units {
namespace {

using enum Dimension;

bool contains(std::string_view text, std::string_view piece) {
  return text.find(piece) != std::string_view::npos;
}

struct Wrong {
  std::string_view text;
  Dimension expected;
  std::size_t offset;        // code points
  std::string_view message;  // a piece of it
  std::string_view hint;     // a piece of it
};

const Wrong kWrongTexts[] = {
    // no unit
    {"72", kSpeed, 2, "unit is missing", "72 km/h"},
    {" 72 ", kSpeed, 3, "unit is missing", "72 km/h"},
    {"7/8", kLength, 3, "unit is missing", "mm"},
    {"3 min 30", kTime, 8, "unit is missing", "3 min 30 s"},
    // a symbol of another dimension
    {"72 kg", kSpeed, 3, "kg measures a mass", "72 km/h"},
    {"72kg", kSpeed, 2, "kg measures a mass", "72 km/h"},
    {"25 F", kTemperature, 3, "F measures a capacitance", "degF"},
    {"75 deg", kTemperature, 3, "deg measures an angle", "degC"},
    {"75 C", kTemperature, 3, "C measures a charge", "degC"},
    {"3 m", kTime, 2, "m measures a length", "min"},
    {"100 A", kCharge, 4, "A measures a current", "Ah"},
    {"100 A_rms", kCurrent, 4, "A_rms measures a motor current", "150 A"},
    {"20 lb", kForce, 3, "lb measures a mass", "lbf"},
    {"62 rpm", kSpeedConstant, 3, "rpm measures a rotational speed", "rpm/V"},
    {"12 %", kAngle, 3, "% measures a percentage", "deg"},
    // an unknown symbol near to one, or a habit
    {"72 kmh", kSpeed, 3, "kmh", "km/h?"},
    {"72 kph", kSpeed, 3, "kph", "km/h?"},
    {"72 KM/H", kSpeed, 3, "KM/H", "km/h?"},
    {"72 km / h", kSpeed, 3, "km / h", "km/h?"},
    {"45 MPH", kSpeed, 3, "MPH", "mph?"},
    {"6000 1/min", kRotationalSpeed, 5, "1/min", "rpm?"},
    {"6000 RPM", kRotationalSpeed, 5, "RPM", "rpm?"},
    {"62 KV", kSpeedConstant, 3, "KV", "rpm/V?"},
    {"150 amps", kCurrent, 4, "amps", "A?"},
    {"150 A_RMS", kMotorCurrent, 4, "A_RMS", "A_rms?"},
    {"100 AH", kCharge, 4, "AH", "Ah?"},
    {"3 kwh", kEnergy, 2, "kwh", "kWh?"},
    {"3 Kw", kPower, 2, "Kw", "kW?"},
    {"3 HP", kPower, 2, "HP", "hp?"},
    {"3 mOhm", kResistance, 2, "mOhm", "mohm?"},
    {"7/8 inch", kLength, 4, "inch", "in?"},
    {"7/8\"", kLength, 3, "\"", "in?"},
    {"180 lbs", kMass, 4, "lbs", "lb?"},
    {"20 ft-lbs", kTorque, 3, "ft-lbs", "lb-ft?"},
    {"20 N·m", kTorque, 3, "N·m", "N m?"},
    {"0.6 m\u00B2", kArea, 4, "m\u00B2", "m2?"},
    {"0.006 kg m^2", kInertia, 6, "kg m^2", "kg m2?"},
    {"3 hrs", kTime, 2, "hrs", "h?"},
    {"12 percent", kRatio, 3, "percent", "%?"},
    {"25 celsius", kTemperature, 3, "celsius", "degC?"},
    // a slip of the finger
    {"6000 rpn", kRotationalSpeed, 5, "rpn", "rpm?"},
    {"62 rmp/V", kSpeedConstant, 3, "rmp/V", "rpm/V?"},
    {"2.2 brar", kPressure, 4, "brar", "bar?"},
    {"2.2 br", kPressure, 4, "br", "bar?"},
    // an unknown symbol near to none
    {"72 furlongs", kSpeed, 3, "furlongs", "km/h, mph or m/s"},
    {"3min30s", kTime, 1, "min30s", "3 min 30 s"},
    // not a number
    {"", kMass, 0, "nothing", "80 kg"},
    {"  ", kMass, 0, "nothing", "80 kg"},
    {"km/h", kSpeed, 0, "no number", "72 km/h"},
    {"nan km/h", kSpeed, 0, "no number", "72 km/h"},
    {"inf km/h", kSpeed, 0, "no number", "72 km/h"},
    {"-inf km/h", kSpeed, 1, "no number", "72 km/h"},
    {"--5 m", kLength, 1, "no number", "mm"},
    {"\u22125 degC", kTemperature, 0, "U+2212", "keyboard"},
    {"0,5 m", kLength, 1, "comma", "0.5"},
    {"1,500 m", kLength, 1, "comma", "1500"},
    {"1,234.5 m", kLength, 1, "comma", "no mark for the thousands"},
    {"1.2.3 m", kLength, 3, "two points", "one"},
    {"1 000 km", kLength, 2, "second number", "without blanks"},
    {"72\u00A0km/h", kSpeed, 2, "blank", "ordinary blank"},
    // fractions and compounds
    {"9/8 in", kLength, 0, "not below one", "1 1/8"},
    {"1 9/8 in", kLength, 2, "not below one", "1 1/8"},
    {"1/0 in", kLength, 2, "divides by zero", "decimal"},
    {"1/1234567890 in", kLength, 0, "too many digits", "decimal"},
    {"1.5 1/8 in", kLength, 4, "second number", "without blanks"},
    {"30 s 3 min", kTime, 5, "s is not a whole number of min", "larger unit first"},
    {"3 s 3 s", kTime, 4, "s is not a whole number of s", "larger unit first"},
    {"1 m 3 in", kLength, 4, "m is not a whole number of in", "one unit"},
    {"3.5 min 30 s", kTime, 0, "decimals", "whole numbers"},
    {"3 min -30 s", kTime, 6, "sign", "in front"},
    {"5 A 3 A", kCurrent, 4, "text follows", "one number"},
    {"5 % x", kRatio, 4, "text follows", "one number"},
    {"96 kg  net", kMass, 7, "text follows", "one number"},
    {"3 min sharp", kTime, 6, "text follows", "one number"},
    {"0.9 kg m2 each", kInertia, 10, "text follows", "one number"},
    {"3 N s/m x", kForcePerSpeed, 8, "text follows", "one number"},
    {"150 Ax", kCurrent, 4, "Ax", "A"},
    // out of the doubles
    {"1e400 km/h", kSpeed, 0, "too large", "smaller"},
    {"1e308 km", kLength, 0, "too large", "smaller"},
    {"1e999999999999999999999 km", kLength, 0, "too large", "smaller"},
    {"0 V/krpm", kSpeedConstant, 0, "infinite", "other than 0"},
    {"1e-310 V s/rad", kSpeedConstant, 0, "too large", "smaller"},
};

TEST(UnitsMessages, SayWhereWhatAndWhatToWrite) {
  for (const Wrong& wrong : kWrongTexts) {
    SCOPED_TRACE(std::string(wrong.text));
    const auto read = parse(wrong.text, wrong.expected);
    ASSERT_FALSE(read);
    const ParseError& error = read.error();
    EXPECT_EQ(error.offset, wrong.offset);
    EXPECT_TRUE(contains(error.message, name_of(wrong.expected))) << error.message;
    EXPECT_TRUE(contains(error.message, wrong.message)) << error.message;
    EXPECT_TRUE(contains(error.hint, wrong.hint)) << error.hint;
    EXPECT_TRUE(contains(error.hint, example_of(wrong.expected))) << error.hint;
  }
}

TEST(UnitsMessages, OffsetsCountCodePointsNotBytes) {
  const auto read = parse("5 Ω 3 x", kResistance);
  ASSERT_FALSE(read);
  EXPECT_EQ(read.error().offset, 4U);
}

TEST(UnitsMessages, SymbolsAreCaseSensitive) {
  EXPECT_FALSE(parse("5 MM", kLength));
  EXPECT_FALSE(parse("5 w", kPower));
  EXPECT_FALSE(parse("5 k", kTemperature));
  EXPECT_FALSE(parse("5 Mohm", kResistance));
}

TEST(UnitsMessages, HugeTextsAreRefusedAtOnceWithAShortMessage) {
  const std::size_t size = 16U << 20U;
  for (const std::string& text :
       {std::string(size, '9'), std::string(size, ' '), std::string(size, 'k'),
        std::string(size, '\0'), std::string(size, '\xFF'), std::string(size, '\x80'),
        "1 " + std::string(size, 'k'), "1." + std::string(size, '0') + " m", std::string(size, '/'),
        "1e" + std::string(size, '9') + " m"}) {
    const auto read = parse(text, kLength);
    ASSERT_FALSE(read);
    EXPECT_LE(read.error().offset, 100U);
    EXPECT_LT(read.error().message.size(), 200U);
    EXPECT_LT(read.error().hint.size(), 200U);
  }
}

TEST(UnitsMessages, LongNumbersAreReadUpToTheLimitOfTheText) {
  EXPECT_EQ(parse("0." + std::string(90, '0') + "1e91 m", kLength)->value, 1.0);
  EXPECT_EQ(parse(std::string(96, '9') + "e-96 m", kLength).has_value(), false);
  EXPECT_EQ(parse(std::string(94, '9') + "e-94 m", kLength)->value, 1.0);
  EXPECT_EQ(parse("1e350 mm", kLength).has_value(), false);
  EXPECT_EQ(parse("1e-349 km", kLength)->value, 0.0);
  EXPECT_EQ(parse(std::string(94, '9') + "e255 m", kLength).has_value(), false);
}

TEST(UnitsMessages, NulAndControlBytesAreUnknownUnitsAndNotQuotedRaw) {
  using namespace std::string_view_literals;
  for (const std::string_view text : {"72\0km/h"sv, "72 km/h\0"sv, "72 \x1B[31mkm/h"sv,
                                      "7\0002 m"sv, "72 k\nm/h"sv, "72 km\x7F/h"sv}) {
    const auto read = parse(text, kSpeed);
    ASSERT_FALSE(read);
    EXPECT_TRUE(std::ranges::none_of(read.error().message, [](char letter) {
      return (letter >= 0 && letter < ' ') || letter == '\x7F';
    })) << read.error().message;
  }
}

constexpr std::array<std::string_view, 40> kPieces = {
    "0",         "7",    "12",
    "999999999", "1e",   ".",
    ",",         "/",    "-",
    "+",         " ",    "  ",
    "\t",        "e308", "e-320",
    "km/h",      "in",   "ft",
    "mi",        "h",    "min",
    "s",         "V",    "krpm",
    "V/krpm",    "degC", "°F",
    "K",         "%",    "\u2212",
    "lb",        "oz",   std::string_view("\0", 1),
    "\xFF",      "\x80", "\u2126",
    "7/8",       "1 ",   "m2",
    "\u00A0"};

TEST(UnitsMessages, AnyRandomTextGivesAFiniteValueOrACompleteError) {
  std::mt19937_64 random(11);
  for (int i = 0; i < 200000; ++i) {
    std::string text;
    for (auto pieces = 1 + random() % 9; pieces > 0; --pieces) {
      text += kPieces[random() % kPieces.size()];
    }
    const auto expected = static_cast<Dimension>(random() % 27);
    const auto read = parse(text, expected);
    if (read) {
      ASSERT_TRUE(std::isfinite(read->value)) << text;
      const auto symbols = symbols_of(expected);
      ASSERT_NE(std::ranges::find(symbols, read->symbol), symbols.end()) << text;
      ASSERT_EQ(parse(print(read->value, expected, read->symbol), expected)->value, read->value);
    } else {
      ASSERT_LE(read.error().offset, text.size()) << text;
      ASSERT_TRUE(contains(read.error().message, name_of(expected))) << text;
      ASSERT_TRUE(contains(read.error().hint, example_of(expected))) << text;
    }
  }
}

}  // namespace
}  // namespace sprocketry::units
