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
// or a whole number and a fraction; compound amounts are allowed for length (ft in), mass (lb oz if
// known) and time (h min s), each later unit smaller. Blank between number and symbol is optional
// ("72km/h"). Symbols are a closed, case-sensitive table with exact factors. An error for: no unit
// (a bare number), an unknown symbol, a symbol of another dimension, trailing text, NaN or
// infinity, a value that overflows.
tl::expected<Quantity, ParseError> parse(std::string_view text, Dimension expected);

// The shortest text in the given symbol that parse() reads back to the very same double.
// Precondition: the symbol belongs to the dimension and value is finite.
std::string print(double value, Dimension dimension, std::string_view symbol);

// value (SI) expressed in the symbol's unit, for rounding in tables. Same precondition.
double in_unit(double value, Dimension dimension, std::string_view symbol);

}  // namespace sprocketry::units
