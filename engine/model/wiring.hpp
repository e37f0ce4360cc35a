#pragma once

#include <span>
#include <string_view>

namespace sprocketry::model {

// A stranded copper cable: American wire gauge, cross-section in m2 and the current in A that it
// carries for ever.
struct Cable {
  std::string_view name;
  double area = 0;
  double ampacity = 0;
};

// Sizes from 16 to 4/0, ascending. Ampacity by ABYC E-11: single conductors with insulation for
// 105 degC, up to 50 V, in free air of 30 degC outside an engine's room. (Higher voltages need the
// insulation to be rated for them; the copper's heat is the same.)
std::span<const Cable> cable_sizes();
inline constexpr std::string_view kCableSource =
    "ABYC E-11, 105 degC insulation, 30 degC air, outside engine spaces";

// Share of the ampacity that ABYC E-11 leaves where the air is an engine's, 50 degC.
inline constexpr double kWarmSpace = 0.85;

// Cross-section in m2 of a solid wire of so many American wire gauge (0 for 1/0, -1 for 2/0 ...):
// diameter 0.127 mm x 92^((36 - n)/39). (ASTM B258.)
double wire_gauge_area(int gauge);

// The smallest size that carries `current` (A) for ever, or null when none does.
const Cable* smallest_cable(double current);

// Cross-section in m2 that a current (A) of so many s heats from `start` to `end` (K), all heat
// kept in the copper: I sqrt(t) / k with k = 226 sqrt(ln((234.5 + end)/(234.5 + start))) A
// s^0.5/mm2 in degC. (IEC 60949, from memory; for a minute it asks for more copper than is needed,
// since a cable gives off heat.)
double adiabatic_area(double current, double duration, double start, double end);

// The smallest size for the leads of a motor beside it, in air of 50 degC: it carries `current` (A)
// for ever, and from what that leaves it at takes `peak` (A) for so many s to no more than 105
// degC. Null when none does. (The rise over the air goes with the square of the current.)
const Cable* smallest_motor_cable(double current, double peak, double duration);

// Resistance in ohm of one metre of flexible cable of a cross-section (m2) at a temperature (K):
// copper of 1/58 ohm mm2/m at 20 degC rising by 0.393 %/K (IEC 60028), and 15 % more, which covers
// every maximum that IEC 60228 sets for class 5.
double cable_resistance(double area, double temperature);

// Smallest fuse in A of the preferred ratings (IEC 60269-1, from memory) that carries `current` (A)
// for ever at 80 % of its rating; kNone beyond 1250 A.
double fuse_rating(double current);

// Charging the capacitance C (F) of a controller through a resistor R (ohm) from V (V).
struct Precharge {
  double resistance = 0;    // ohm
  double time = 0;          // s, five time constants R C: 99.3 % of the voltage
  double peak_current = 0;  // A, V/R
  double peak_power = 0;    // W, V^2/R
  double energy = 0;        // J that the resistor takes up, C V^2/2 whatever its resistance
  double left = 0;          // V still missing after that time
};
Precharge precharge(double voltage, double capacitance, double resistance);

// The largest resistor of the E12 series (IEC 60063) in ohm with which five time constants take no
// longer than `time` (s).
double precharge_resistor(double capacitance, double time);

}  // namespace sprocketry::model
