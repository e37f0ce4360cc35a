// Every factor of the table against the UDUNITS-2 library, an independent description of the units.

#include "units/units.hpp"

#include <gtest/gtest.h>
#include <udunits2.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <string>
#include <string_view>

namespace sprocketry::units {
namespace {

using enum Dimension;

// The same unit in the words of UDUNITS-2, which knows no Wh, Ah or rpm/V and would read "mph" as
// milliphot. A reciprocal unit is the reciprocal of the expression.
struct Pair {
  Dimension dimension;
  std::string_view symbol;
  const char* expression;
};

constexpr Pair kPairs[] = {
    {kLength, "m", "meter"},
    {kLength, "mm", "millimeter"},
    {kLength, "cm", "centimeter"},
    {kLength, "km", "kilometer"},
    {kLength, "in", "international_inch"},
    {kLength, "ft", "international_foot"},
    {kLength, "mi", "international_mile"},
    {kArea, "m2", "meter2"},
    {kArea, "mm2", "millimeter2"},
    {kArea, "cm2", "centimeter2"},
    {kArea, "in2", "international_inch2"},
    {kArea, "ft2", "international_foot2"},
    {kMass, "kg", "kilogram"},
    {kMass, "g", "gram"},
    {kMass, "lb", "avoirdupois_pound"},
    {kMass, "oz", "avoirdupois_pound/16"},  // its own ounce is rounded to 7 digits
    {kMassPerLength, "kg/m", "kilogram/meter"},
    {kMassPerLength, "lb/ft", "avoirdupois_pound/international_foot"},
    {kTime, "s", "second"},
    {kTime, "min", "minute"},
    {kTime, "h", "hour"},
    {kSpeed, "km/h", "kilometer/hour"},
    {kSpeed, "mph", "international_mile/hour"},
    {kSpeed, "m/s", "meter/second"},
    {kRotationalSpeed, "rpm", "2 pi radian/minute"},
    {kRotationalSpeed, "rad/s", "radian/second"},
    {kSpeedConstant, "rpm/V", "2 pi radian/minute/volt"},
    {kSpeedConstant, "V/krpm", "volt/(2000 pi radian/minute)"},
    {kSpeedConstant, "rad/s/V", "radian/second/volt"},
    {kSpeedConstant, "V s/rad", "volt second/radian"},
    {kCurrent, "A", "ampere"},
    {kCurrent, "mA", "milliampere"},
    {kMotorCurrent, "A", "ampere"},
    {kMotorCurrent, "A_pk", "0.86602540378443864676 ampere"},   // sqrt(3)/2
    {kMotorCurrent, "A_rms", "1.22474487139158904910 ampere"},  // sqrt(3/2)
    {kVoltage, "V", "volt"},
    {kVoltage, "mV", "millivolt"},
    {kResistance, "ohm", "ohm"},
    {kResistance, "mohm", "milliohm"},
    {kResistance, "\u03A9", "ohm"},
    {kResistance, "m\u03A9", "milliohm"},
    {kResistance, "\u2126", "ohm"},
    {kResistance, "m\u2126", "milliohm"},
    {kCharge, "Ah", "ampere hour"},
    {kCharge, "mAh", "milliampere hour"},
    {kCharge, "C", "coulomb"},
    {kEnergy, "Wh", "watt hour"},
    {kEnergy, "kWh", "kilowatt hour"},
    {kEnergy, "J", "joule"},
    {kEnergy, "kJ", "kilojoule"},
    {kEnergy, "MJ", "megajoule"},
    {kPower, "W", "watt"},
    {kPower, "kW", "kilowatt"},
    {kPower, "hp", "550 international_foot pound_force/second"},
    {kPower, "PS", "75 kilogram_force meter/second"},
    {kPowerPerMass, "W/kg", "watt/kilogram"},
    {kPowerPerMass, "kW/kg", "kilowatt/kilogram"},
    {kForce, "N", "newton"},
    {kForce, "kN", "kilonewton"},
    {kForce, "lbf", "pound_force"},
    {kForcePerSpeed, "N s/m", "newton second/meter"},
    {kForcePerSpeed, "N/(m/s)", "newton/(meter/second)"},
    {kForcePerSpeed, "N/(km/h)", "newton/(kilometer/hour)"},
    {kForcePerSpeed, "lbf/mph", "pound_force/(international_mile/hour)"},
    {kForcePerSpeedSquared, "N s2/m2", "newton second2/meter2"},
    {kForcePerSpeedSquared, "N/(m/s)2", "newton/(meter/second)2"},
    {kForcePerSpeedSquared, "N/(km/h)2", "newton/(kilometer/hour)2"},
    {kForcePerSpeedSquared, "lbf/mph2", "pound_force/(international_mile/hour)2"},
    {kTorque, "N m", "newton meter"},
    {kTorque, "Nm", "newton meter"},
    {kTorque, "lb-ft", "pound_force international_foot"},
    {kTorque, "lb ft", "pound_force international_foot"},
    {kTorque, "lbf ft", "pound_force international_foot"},
    {kInertia, "kg m2", "kilogram meter2"},
    {kInertia, "kg cm2", "kilogram centimeter2"},
    {kPressure, "bar", "bar"},
    {kPressure, "kPa", "kilopascal"},
    {kPressure, "Pa", "pascal"},
    {kPressure, "psi", "pound_force/international_inch2"},
    {kPressure, "MPa", "MPa"},
    {kPressure, "N/mm2", "N/mm2"},
    {kThermalResistance, "K/W", "kelvin/watt"},
    {kThermalResistance, "degC/W", "kelvin/watt"},
    {kThermalResistance, "°C/W", "kelvin/watt"},
    {kHeatCapacity, "J/K", "joule/kelvin"},
    {kHeatCapacity, "kJ/K", "kilojoule/kelvin"},
    {kTemperature, "degC", "degree_celsius"},
    {kTemperature, "°C", "degree_celsius"},
    {kTemperature, "degF", "degree_fahrenheit"},
    {kTemperature, "°F", "degree_fahrenheit"},
    {kTemperature, "K", "kelvin"},
    {kRatio, "%", "percent"},
    {kAngle, "deg", "arc_degree"},
    {kAngle, "°", "arc_degree"},
    {kAngle, "rad", "radian"},
    {kCapacitance, "F", "farad"},
    {kCapacitance, "mF", "millifarad"},
    {kCapacitance, "uF", "microfarad"},
    {kCapacitance, "\u00B5F", "microfarad"},
    {kCapacitance, "\u03BCF", "microfarad"},
};

// The coherent SI unit that parse() promises for each dimension.
const char* si_of(Dimension dimension) {
  switch (dimension) {
    case kLength:
      return "m";
    case kArea:
      return "m2";
    case kMass:
      return "kg";
    case kMassPerLength:
      return "kg/m";
    case kTime:
      return "s";
    case kSpeed:
      return "m/s";
    case kRotationalSpeed:
      return "radian/second";
    case kSpeedConstant:
      return "radian/second/volt";
    case kCurrent:
    case kMotorCurrent:
      return "A";
    case kVoltage:
      return "V";
    case kResistance:
      return "ohm";
    case kCharge:
      return "A s";
    case kPower:
      return "N m/s";
    case kPowerPerMass:
      return "m2/s3";
    case kForce:
      return "kg m/s2";
    case kForcePerSpeed:
      return "kg/s";
    case kForcePerSpeedSquared:
      return "kg/m";
    case kEnergy:
    case kTorque:
      return "N m";
    case kInertia:
      return "kg m2";
    case kPressure:
      return "N/m2";
    case kThermalResistance:
      return "K s/J";
    case kHeatCapacity:
      return "J/K";
    case kTemperature:
      return "K";
    case kRatio:
      return "1";
    case kAngle:
      return "radian";
    case kCapacitance:
      return "A s/V";
  }
  return "";
}

bool is_reciprocal(std::string_view symbol) { return symbol == "V/krpm" || symbol == "V s/rad"; }

using System = std::unique_ptr<ut_system, void (*)(ut_system*)>;
using Expression = std::unique_ptr<ut_unit, void (*)(ut_unit*)>;
using Converter = std::unique_ptr<cv_converter, void (*)(cv_converter*)>;

System library() {
  ut_set_error_message_handler(ut_ignore);
  return {ut_read_xml(nullptr), ut_free_system};
}

Expression expression(const System& system, const char* text) {
  return {ut_parse(system.get(), text, UT_ASCII), ut_free};
}

constexpr double kRelative = 1e-15;  // UDUNITS-2 rounds at every step of an expression

TEST(UnitsAgainstUdunits, EverySpellingOfEveryDimensionHasItsFactor) {
  const System system = library();
  ASSERT_NE(system, nullptr);
  for (const Pair& pair : kPairs) {
    SCOPED_TRACE(std::string(pair.symbol) + " as " + pair.expression);
    const Expression from = expression(system, pair.expression);
    ASSERT_NE(from, nullptr);
    const bool reciprocal = is_reciprocal(pair.symbol);
    const Expression si = expression(system, si_of(pair.dimension));
    ASSERT_NE(si, nullptr);
    const Expression to{reciprocal ? ut_invert(si.get()) : ut_clone(si.get()), ut_free};
    const Converter converter{ut_get_converter(from.get(), to.get()), cv_free};
    ASSERT_NE(converter, nullptr) << "not convertible: the dimension is wrong";

    for (const std::string number : {"1", "1000", "0.37", "62", "-40", "155"}) {
      const auto read = parse(number + " " + std::string(pair.symbol), pair.dimension);
      ASSERT_TRUE(read) << read.error().message;
      const double converted = cv_convert_double(converter.get(), std::stod(number));
      const double expected = reciprocal ? 1 / converted : converted;
      EXPECT_NEAR(read->value / expected, 1, kRelative) << number;
    }
  }
}

TEST(UnitsAgainstUdunits, EverySpellingOfTheTableIsCompared) {
  std::size_t spellings = 0;
  for (int i = 0; i <= static_cast<int>(kPowerPerMass); ++i) {
    const auto dimension = static_cast<Dimension>(i);
    for (const std::string_view symbol : symbols_of(dimension)) {
      ++spellings;
      const bool compared = std::ranges::any_of(kPairs, [&](const Pair& pair) {
        return pair.dimension == dimension && pair.symbol == symbol;
      });
      EXPECT_TRUE(compared) << name_of(dimension) << ": " << symbol;
    }
  }
  EXPECT_EQ(spellings, std::size(kPairs));
}

TEST(UnitsAgainstUdunits, ItWouldReadTheTradesSpellingsWrongOrNotAtAll) {
  const System system = library();
  ASSERT_NE(system, nullptr);
  const Expression mph = expression(system, "mph");
  const Expression speed = expression(system, "m/s");
  ASSERT_NE(mph, nullptr);
  EXPECT_EQ(ut_are_convertible(mph.get(), speed.get()), 0);
  EXPECT_EQ(expression(system, "Wh"), nullptr);
  EXPECT_EQ(expression(system, "Ah"), nullptr);
}

}  // namespace
}  // namespace sprocketry::units
