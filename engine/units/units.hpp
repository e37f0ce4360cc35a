#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <vector>

namespace sprocketry::units {

// What a text with a unit may measure. The SI unit that parse() returns is named beside each.
enum class Dimension {
  kLength,           // m
  kArea,             // m2
  kMass,             // kg
  kMassPerLength,    // kg/m
  kTime,             // s
  kSpeed,            // m/s
  kRotationalSpeed,  // rad/s (from rpm, rad/s)
  kSpeedConstant,    // rad/s per V (from rpm/V, V/krpm [reciprocal], rad/s/V, V s/rad [reciprocal])
  kCurrent,          // A
  kMotorCurrent,     // A, DC equivalent (A; A_pk x 0.8660; A_rms x 1.2247: exactly sqrt(3)/2,
                     // sqrt(3/2))
  kVoltage,          // V
  kResistance,       // ohm
  kCharge,           // C (from Ah, mAh, C)
  kEnergy,           // J (from Wh, kWh, J, kJ, MJ)
  kPower,            // W (W, kW, hp = 550 ft lbf/s, PS = 75 kgf m/s)
  kForce,            // N
  kForcePerSpeed,    // N s/m (from N s/m, N/(m/s), N/(km/h))
  kForcePerSpeedSquared,  // N s2/m2 (from N s2/m2, N/(m/s)2, N/(km/h)2)
  kTorque,                // N m
  kInertia,               // kg m2
  kPressure,              // Pa
  kThermalResistance,     // K/W
  kHeatCapacity,          // J/K
  kTemperature,           // K (from degC, °C, degF, K: points on the scale, not differences)
  kRatio,                 // 1 (from %)
  kAngle,                 // rad (from deg, rad)
  kCapacitance,           // F
  kPowerPerMass,          // W/kg
};

// The trade's name of a dimension as it stands in a sentence: "a speed", "a motor current".
std::string_view name_of(Dimension dimension);
// A text that parse() accepts, for messages: "72 km/h".
std::string_view example_of(Dimension dimension);
// All spellings of a dimension, in the order of the table.
std::vector<std::string_view> symbols_of(Dimension dimension);

struct Quantity {
  double value = 0;         // SI
  std::string_view symbol;  // the table's spelling that was used last in the text; static storage
};

struct ParseError {
  std::size_t offset = 0;  // code point in the text where the trouble begins
  std::string message;     // what is wrong, naming the expected dimension
  std::string hint;        // the nearest symbol or what to write, with an example
};

// Reads "72 km/h", "7/8 in", "1 1/8 in", "3 min 30 s", "-5 degC" as a quantity of the expected
// dimension. The number is decimal (locale-free: '.' only, optional exponent), a proper fraction,
// or a whole number and a fraction. Lengths, masses and times may have several parts ("5 ft 3 in",
// "2 lb 8 oz", "1 h 3 min"): each unit a whole number of the next, all but the last number whole,
// one sign in front of all. Blank between number and symbol is optional ("72km/h"). Symbols are a
// closed, case-sensitive table with exact factors; the value is the double nearest to the exact
// product, so "72 km/h" and "20 m/s" are the same double. Never -0. Negative values are read:
// ranges are the caller's. An error for: no unit (a bare number), an unknown symbol, a symbol of
// another dimension, trailing text, NaN or infinity, a value that overflows, more than 100 bytes.
// `example` is what the hint shows, if not the dimension's.
tl::expected<Quantity, ParseError> parse(std::string_view text, Dimension expected,
                                         std::string_view example = {});

// The text with the fewest digits in the given symbol that parse() reads back to the very same
// double; -0 is printed as 0. Where the symbol has no such text of at most 19 digits (a temperature
// within a hair of absolute zero in degC) or none at all (0 in V/krpm), the SI unit takes its
// place. Precondition: the symbol belongs to the dimension and value is finite.
std::string print(double value, Dimension dimension, std::string_view symbol);

// value (SI) expressed in the symbol's unit, for rounding in tables: within 1e-15 relative (of the
// absolute temperature for degC and degF), never out of order for two values. A number beyond the
// doubles gives the largest of them. Same precondition; 0 gives infinity in a reciprocal unit.
double in_unit(double value, Dimension dimension, std::string_view symbol);

}  // namespace sprocketry::units
