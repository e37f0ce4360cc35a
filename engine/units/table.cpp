#include "units/table.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

namespace sprocketry::units {
namespace {

// Definitions. Inch, foot, mile and pound: international yard and pound agreement of 1959. Standard
// gravity: 3rd CGPM, 1901. Degree Fahrenheit and horsepower: NIST SP 811, appendix B.8. All from
// memory; the unit tests compare every row with the UDUNITS-2 library.
constexpr Factor kOne{};
constexpr Factor kMicro{1, 1000000};
constexpr Factor kMilli{1, 1000};
constexpr Factor kCenti{1, 100};
constexpr Factor kKilo{1000, 1};
constexpr Factor kMega{1000000, 1};
constexpr Factor kInch = fraction(254, 10000);
constexpr Factor kFoot = Factor{12, 1} * kInch;
constexpr Factor kMile = Factor{5280, 1} * kFoot;
constexpr Factor kMinute{60, 1};
constexpr Factor kHour{3600, 1};
constexpr Factor kKilometrePerHour = kKilo / kHour;
constexpr Factor kMilePerHour = kMile / kHour;
constexpr Factor kPound = fraction(45359237, 100000000);
constexpr Factor kGravity = fraction(980665, 100000);
constexpr Factor kPoundForce = kPound * kGravity;
constexpr Factor kFahrenheit{5, 9};
constexpr std::uint32_t kCelsiusZero = 27315;     // hundredths of a kelvin above absolute zero
constexpr std::uint32_t kFahrenheitZero = 45967;  // hundredths of a degree Fahrenheit

// Irrational factors are convergents of their continued fractions; an error below 1e-33 never
// reaches the last bit of a double.
constexpr Factor kPi{66627445592888887, 21208174623389167};
constexpr Factor kHalfOfRootThree{62363009058485850, 72010600134783751};
constexpr Factor kRootOfThreeHalves{93602496166176491, 76426118085983689};

constexpr Factor kSquareMillimetre = kMilli * kMilli;
constexpr Factor kSquareCentimetre = kCenti * kCenti;
constexpr Factor kSquareInch = kInch * kInch;
constexpr Factor kSquareFoot = kFoot * kFoot;
constexpr Factor kOunce = kPound / Factor{16, 1};
constexpr Factor kKilowattHour = kKilo * kHour;
constexpr Factor kMilliampereHour = kMilli * kHour;
constexpr Factor kPoundForceFoot = kPoundForce * kFoot;
constexpr Factor kHorsepower = Factor{550, 1} * kPoundForceFoot;
constexpr Factor kMetricHorsepower = Factor{75, 1} * kGravity;
constexpr Factor kRevolutionPerMinute = kPi / Factor{30, 1};
constexpr Factor kThousandRevolutionsPerMinute = kKilo * kRevolutionPerMinute;
constexpr Factor kDegree = kPi / Factor{180, 1};

using enum Dimension;
using enum Scale;

// A new spelling is one row here and one line in the comparison with UDUNITS-2.
constexpr Unit kUnits[] = {
    {kLength, "m", kOne},
    {kLength, "mm", kMilli},
    {kLength, "cm", kCenti},
    {kLength, "km", kKilo},
    {kLength, "in", kInch},
    {kLength, "ft", kFoot},
    {kLength, "mi", kMile},
    {kArea, "m2", kOne},
    {kArea, "mm2", kSquareMillimetre},
    {kArea, "cm2", kSquareCentimetre},
    {kArea, "in2", kSquareInch},
    {kArea, "ft2", kSquareFoot},
    {kMass, "kg", kOne},
    {kMass, "g", kMilli},
    {kMass, "lb", kPound},
    {kMass, "oz", kOunce},
    {kMassPerLength, "kg/m", kOne},
    {kMassPerLength, "lb/ft", kPound / kFoot},
    {kTime, "s", kOne},
    {kTime, "min", kMinute},
    {kTime, "h", kHour},
    {kSpeed, "km/h", kKilometrePerHour},
    {kSpeed, "mph", kMilePerHour},
    {kSpeed, "m/s", kOne},
    {kRotationalSpeed, "rpm", kRevolutionPerMinute},
    {kRotationalSpeed, "rad/s", kOne},
    {kSpeedConstant, "rpm/V", kRevolutionPerMinute},
    {kSpeedConstant, "V/krpm", kThousandRevolutionsPerMinute, kReciprocal},
    {kSpeedConstant, "rad/s/V", kOne},
    {kSpeedConstant, "V s/rad", kOne, kReciprocal},
    {kCurrent, "A", kOne},
    {kCurrent, "mA", kMilli},
    {kMotorCurrent, "A", kOne},
    {kMotorCurrent, "A_pk", kHalfOfRootThree},
    {kMotorCurrent, "A_rms", kRootOfThreeHalves},
    {kVoltage, "V", kOne},
    {kVoltage, "mV", kMilli},
    {kResistance, "ohm", kOne},
    {kResistance, "mohm", kMilli},
    {kResistance, "\u03A9", kOne},  // Greek capital omega
    {kResistance, "m\u03A9", kMilli},
    {kResistance, "\u2126", kOne},  // ohm sign
    {kResistance, "m\u2126", kMilli},
    {kCharge, "Ah", kHour},
    {kCharge, "mAh", kMilliampereHour},
    {kCharge, "C", kOne},
    {kEnergy, "Wh", kHour},
    {kEnergy, "kWh", kKilowattHour},
    {kEnergy, "J", kOne},
    {kEnergy, "kJ", kKilo},
    {kEnergy, "MJ", kMega},
    {kPower, "W", kOne},
    {kPower, "kW", kKilo},
    {kPower, "hp", kHorsepower},
    {kPower, "PS", kMetricHorsepower},
    {kForce, "N", kOne},
    {kForce, "kN", kKilo},
    {kForce, "lbf", kPoundForce},
    {kForcePerSpeed, "N s/m", kOne},
    {kForcePerSpeed, "N/(m/s)", kOne},
    {kForcePerSpeed, "N/(km/h)", kOne / kKilometrePerHour},
    {kForcePerSpeed, "lbf/mph", kPoundForce / kMilePerHour},
    {kForcePerSpeedSquared, "N s2/m2", kOne},
    {kForcePerSpeedSquared, "N/(m/s)2", kOne},
    {kForcePerSpeedSquared, "N/(km/h)2", kOne / (kKilometrePerHour * kKilometrePerHour)},
    {kForcePerSpeedSquared, "lbf/mph2", kPoundForce / (kMilePerHour * kMilePerHour)},
    {kTorque, "N m", kOne},
    {kTorque, "Nm", kOne},
    {kTorque, "lb-ft", kPoundForceFoot},
    {kTorque, "lb ft", kPoundForceFoot},
    {kTorque, "lbf ft", kPoundForceFoot},
    {kInertia, "kg m2", kOne},
    {kInertia, "kg cm2", kSquareCentimetre},
    {kPressure, "bar", Factor{100000, 1}},
    {kPressure, "kPa", kKilo},
    {kPressure, "Pa", kOne},
    {kPressure, "psi", kPoundForce / kSquareInch},
    {kPressure, "MPa", kMega},
    {kPressure, "N/mm2", kOne / kSquareMillimetre},
    {kThermalResistance, "K/W", kOne},
    {kThermalResistance, "degC/W", kOne},
    {kThermalResistance, "°C/W", kOne},
    {kHeatCapacity, "J/K", kOne},
    {kHeatCapacity, "kJ/K", kKilo},
    {kTemperature, "degC", kOne, kShifted, kCelsiusZero},
    {kTemperature, "°C", kOne, kShifted, kCelsiusZero},
    {kTemperature, "degF", kFahrenheit, kShifted, kFahrenheitZero},
    {kTemperature, "°F", kFahrenheit, kShifted, kFahrenheitZero},
    {kTemperature, "K", kOne},
    {kRatio, "%", kCenti},
    {kAngle, "deg", kDegree},
    {kAngle, "°", kDegree},
    {kAngle, "rad", kOne},
    {kCapacitance, "F", kOne},
    {kCapacitance, "mF", kMilli},
    {kCapacitance, "uF", kMicro},
    {kCapacitance, "\u00B5F", kMicro},  // micro sign
    {kCapacitance, "\u03BCF", kMicro},  // Greek small mu
    {kPowerPerMass, "W/kg", kOne},
    {kPowerPerMass, "kW/kg", kKilo},
};

constexpr DimensionText kTexts[] = {
    {kLength, "a length", "530 mm"},
    {kArea, "an area", "0.6 m2"},
    {kMass, "a mass", "80 kg"},
    {kMassPerLength, "a mass per length", "0.56 kg/m"},
    {kTime, "a time", "3 min 30 s"},
    {kSpeed, "a speed", "72 km/h"},
    {kRotationalSpeed, "a rotational speed", "6000 rpm"},
    {kSpeedConstant, "a speed constant", "62 rpm/V"},
    {kCurrent, "a current", "150 A"},
    {kMotorCurrent, "a motor current", "300 A"},
    {kVoltage, "a voltage", "72 V"},
    {kResistance, "a resistance", "0.9 mohm"},
    {kCharge, "a charge", "100 Ah"},
    {kEnergy, "an energy", "3.5 kWh"},
    {kPower, "a power", "50 W"},
    {kForce, "a force", "15.6 kN"},
    {kForcePerSpeed, "a force per speed", "0.4 N/(km/h)"},
    {kForcePerSpeedSquared, "a force per speed squared", "0.03 N/(km/h)2"},
    {kTorque, "a torque", "25 N m"},
    {kInertia, "a moment of inertia", "0.006 kg m2"},
    {kPressure, "a pressure", "2.2 bar"},
    {kThermalResistance, "a thermal resistance", "0.12 K/W"},
    {kHeatCapacity, "a heat capacity", "700 J/K"},
    {kTemperature, "a temperature", "25 degC"},
    {kRatio, "a percentage", "12 %"},
    {kAngle, "an angle", "30 deg"},
    {kCapacitance, "a capacitance", "1000 uF"},
    {kPowerPerMass, "a power per mass", "0.1 kW/kg"},
};

static_assert(std::ranges::is_sorted(kUnits, {}, &Unit::dimension));
static_assert(std::size(kTexts) == static_cast<std::size_t>(kPowerPerMass) + 1);
static_assert(std::ranges::is_sorted(kTexts, {}, &DimensionText::dimension));

// Where the rows of each dimension begin, and behind them the end.
constexpr auto kFirstRows = [] {
  std::array<std::size_t, std::size(kTexts) + 1> first{};
  for (const Unit& unit : kUnits) ++first[static_cast<std::size_t>(unit.dimension) + 1];
  for (std::size_t i = 1; i < first.size(); ++i) first[i] += first[i - 1];
  return first;
}();

}  // namespace

std::span<const Unit> all_units() { return kUnits; }

std::span<const Unit> units_of(Dimension dimension) {
  const auto row = static_cast<std::size_t>(dimension);
  return std::span(kUnits).subspan(kFirstRows[row], kFirstRows[row + 1] - kFirstRows[row]);
}

const DimensionText& text_of(Dimension dimension) {
  return kTexts[static_cast<std::size_t>(dimension)];
}

const Unit* find_unit(Dimension dimension, std::string_view symbol) {
  const std::span<const Unit> rows = units_of(dimension);
  const auto row = std::ranges::find(rows, symbol, &Unit::symbol);
  return row == rows.end() ? nullptr : &*row;
}

const Unit& plain_unit(Dimension dimension) {
  const std::span<const Unit> rows = units_of(dimension);
  const auto row = std::ranges::find_if(rows, [](const Unit& unit) {
    return unit.scale == kProportional && unit.factor.numerator == unit.factor.denominator;
  });
  return row == rows.end() ? rows.front() : *row;
}

std::string_view name_of(Dimension dimension) { return text_of(dimension).name; }

std::string_view example_of(Dimension dimension) { return text_of(dimension).example; }

std::vector<std::string_view> symbols_of(Dimension dimension) {
  const std::span<const Unit> rows = units_of(dimension);
  std::vector<std::string_view> symbols(rows.size());
  std::ranges::transform(rows, symbols.begin(), &Unit::symbol);
  return symbols;
}

}  // namespace sprocketry::units
