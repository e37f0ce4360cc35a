#include "parts/plausible.hpp"

#include <algorithm>
#include <cmath>

#include "model/constants.hpp"
#include "model/heat.hpp"
#include "parts/hub_tables.hpp"
#include "parts/shaft_keys.hpp"
#include "parts/standards.hpp"
#include "parts/values.hpp"

// All limits here are common practice, no source, unless one is named.
namespace sprocketry::parts {
namespace {

using document::Diagnostics;

std::string rpm(double speed) {
  return number_text(std::round(speed * 30.0 / model::kPi)) + " rpm";
}
std::string amperes(double current) { return number_text(current) + " A"; }
std::string volts(double voltage) { return number_text(voltage) + " V"; }
std::string percent(double share) { return number_text(std::round(100 * share)) + " %"; }
std::string millimetres(double length) { return number_text(1000 * length) + " mm"; }

template <typename Part>
void warn(const Part& part, Diagnostics& diagnostics, const std::string& message,
          const std::string& hint) {
  diagnostics.warning(part.mark, "`" + part.id + "`: " + message, hint);
}

void warn_heat(const MotorPart& part, Diagnostics& diagnostics) {
  // Air at which machines are rated: IEC 60034-1 (from memory).
  constexpr double kWarmAir = model::kZeroCelsius + 40.0;
  constexpr double kRounding = 0.5;  // K
  const model::Motor& motor = part.model;
  const double current = motor.continuous_current;
  const auto settled = model::steady_temperature(motor, {current * current, 0.0}, kWarmAir);
  if (settled.winding <= motor.thermal.max_winding + kRounding) return;
  const std::string reached =
      std::isfinite(settled.winding)
          ? "settles at " + number_text(std::round(settled.winding - model::kZeroCelsius)) + " degC"
          : "never settles";
  warn(part, diagnostics,
       "by its thermal data the winding " + reached + " at the continuous " + amperes(current) +
           " in 40 degC air, over its " +
           number_text(std::round(motor.thermal.max_winding - model::kZeroCelsius)) + " degC",
       "check `thermal` and `current.continuous`; the rating may need forced air");
}

void warn_motor_speed(const MotorPart& part, Diagnostics& diagnostics) {
  constexpr double kFarAbove = 1.2;
  constexpr double kFarBelow = 0.5;
  const model::Motor& m = part.model;
  const double unloaded = m.max_voltage / m.torque_constant;
  if (unloaded > kFarAbove * m.max_speed) {
    warn(part, diagnostics,
         "unloaded at its maximum voltage it would turn " + rpm(unloaded) +
             ", over its maximum of " + rpm(m.max_speed),
         "check `speed_constant`, `max_voltage` and `max_speed`");
  } else if (unloaded < kFarBelow * m.max_speed) {
    warn(part, diagnostics,
         "at its maximum voltage it only turns " + rpm(unloaded) +
             ", under half of its maximum of " + rpm(m.max_speed),
         "check `speed_constant` (rpm per volt), `max_voltage` and `max_speed`");
  }
}

void warn_motor_losses(const MotorPart& part, Diagnostics& diagnostics) {
  constexpr double kHighNoLoad = 0.3;
  constexpr double kHighLoss = 0.4;
  constexpr double kHighPeak = 6.0;
  const model::Motor& m = part.model;
  const double no_load = m.loss.at(m.max_speed) / m.torque_constant;
  if (no_load > kHighNoLoad * m.continuous_current) {
    warn(part, diagnostics,
         "at its maximum speed it draws " + amperes(no_load) +
             " without load, over 30 % of the continuous " + amperes(m.continuous_current),
         "check `no_load` and `current.continuous`");
  }
  const double loss = m.continuous_current * m.resistance / m.max_voltage;
  if (loss > kHighLoss) {
    warn(part, diagnostics,
         "at the continuous current the winding takes " + percent(loss) + " of the maximum voltage",
         "check `resistance` (mohm or ohm?)");
  }
  if (m.peak_current > kHighPeak * m.continuous_current) {
    warn(part, diagnostics,
         "the peak current is " + number_text(m.peak_current / m.continuous_current) +
             " times the continuous one",
         "check `current`");
  }
}

// ANSI B17.1 and DIN 6885-1: a key is about a quarter of the shaft wide (from memory).
constexpr double kWidestKey = 0.5;  // of the diameter

template <typename Part>
void warn_key(const Part& part, double diameter, std::optional<double> key, std::string_view what,
              Diagnostics& diagnostics) {
  if (!key || *key <= kWidestKey * diameter) return;
  warn(part, diagnostics,
       "the key of " + millimetres(*key) + " is wider than half the " + std::string(what) + " of " +
           millimetres(diameter),
       "check the key's width; a key is about a quarter of the shaft wide");
}

// Hubs are bought with the standard keyway.
void warn_standard_key(const MotorPart& part, Diagnostics& diagnostics) {
  constexpr double kSame = 1e-6;  // m; inch and millimetre spellings of one width
  const Shaft& shaft = *part.shaft;
  const KeySize* key = standard_key(shaft.diameter);
  if (key == nullptr || !shaft.key || *shaft.key == 0) return;
  if (*shaft.key > kWidestKey * shaft.diameter) return;
  if (std::abs(*shaft.key - key->width) <= kSame) return;
  warn(part, diagnostics,
       "its shaft has a key of " + shop_size(*shaft.key) + "; " + standard_key_text(shaft.diameter),
       "check `shaft.diameter` and `shaft.key`; hubs on sale have the standard keyway");
}

void warn_motor(const MotorPart& part, Diagnostics& diagnostics) {
  if (!part.thermal_estimated) warn_heat(part, diagnostics);
  warn_motor_speed(part, diagnostics);
  warn_motor_losses(part, diagnostics);
  if (!part.shaft) return;
  warn_key(part, part.shaft->diameter, part.shaft->key, "shaft", diagnostics);
  warn_standard_key(part, diagnostics);
}

void warn_controller(const ControllerPart& part, Diagnostics& diagnostics) {
  const model::Controller& c = part.model;
  if (c.battery_current > c.motor_current) {
    warn(part, diagnostics,
         "it draws more from the battery (" + amperes(c.battery_current) +
             ") than it gives the motor (" + amperes(c.motor_current) + ")",
         "a step-down controller never does at full power; check `current`");
  }
}

void warn_cell(const CellPart& part, Diagnostics& diagnostics) {
  constexpr double kHighSag = 0.2;
  constexpr double kHighRate = 4.0;  // 1/h
  constexpr double kHour = 3600.0;
  const model::Cell& c = part.model;
  const double sag = c.continuous_current * c.resistance / c.nominal_voltage;
  if (sag > kHighSag) {
    warn(part, diagnostics, "at its continuous current it sags by " + percent(sag),
         "check `resistance` (mohm or ohm?) and `current`");
  }
  const double rate = c.charge_current * kHour / c.capacity;
  if (rate > kHighRate) {
    warn(part, diagnostics,
         "it may be charged with " + number_text(rate) + " times its capacity an hour",
         "check `current.charge` and `capacity`");
  }
  const double rest = model::open_circuit_voltage(c.open_circuit, c.usable_to);
  if (rest < c.empty_voltage && c.empty_voltage < c.open_circuit.back().voltage) {
    warn(part, diagnostics,
         "at the end of its usable charge it rests at " + volts(rest) + ", below its cut-off of " +
             volts(c.empty_voltage),
         "range counts the charge above the cut-off only; raise `usable.to` or lower "
         "`empty_voltage`");
  }
  if (c.empty_voltage >= c.open_circuit.back().voltage) {
    warn(part, diagnostics,
         "its cut-off of " + volts(c.empty_voltage) + " is not below the " +
             volts(c.open_circuit.back().voltage) + " at which it rests full",
         "check `empty_voltage` and `open_circuit`: such a cell gives no current");
  }
  if (part.chemistry == "lead_acid" && c.peukert_exponent <= 1) {
    warn(part, diagnostics, "without `peukert` the range of a lead-acid battery reads too high",
         "give `peukert: {exponent: ..., hours: 20}` from its data sheet; 1.1 to 1.3 is usual");
  }
}

void warn_charger(const ChargerPart& part, Diagnostics& diagnostics) {
  constexpr double kWide = 4.0;
  if (part.max_full_voltage <= kWide * part.min_full_voltage) return;
  warn(part, diagnostics,
       "it charges packs from " + volts(part.min_full_voltage) + " to " +
           volts(part.max_full_voltage),
       "`full_voltage` is the voltage at which it ends charging, not the mains");
}

void warn_front(const FrontSprocketFamily& part, Diagnostics& diagnostics) {
  if (part.bore) warn_key(part, *part.bore, part.key, "bore", diagnostics);
  if (part.bore && part.hub_diameter &&
      *part.bore / 2 + part.key.value_or(0) / 2 + kKeyWall > *part.hub_diameter / 2) {
    warn(part, diagnostics,
         "its hub of " + millimetres(*part.hub_diameter) +
             " leaves less than 1.5 mm of wall over the key",
         "such a sprocket is always rejected; check `bore`, `key` and `hub_diameter`");
  }
  const ChainSize* size = find_chain_size(part.size);
  if (size == nullptr || !part.hub_diameter || part.teeth.empty()) return;
  const double largest = model::largest_hub_diameter(size->pitch, part.teeth.front());
  if (*part.hub_diameter <= largest) return;
  warn(part, diagnostics,
       "its hub of " + millimetres(*part.hub_diameter) + " is thicker than a chain of size " +
           part.size + " clears at " + std::to_string(part.teeth.front()) + " teeth (" +
           millimetres(largest) + ")",
       "those tooth counts are rejected; leave them out, or turn the hub down");
}

void warn_rear(const RearSprocketFamily& part, Diagnostics& diagnostics) {
  const ChainSize* size = find_chain_size(part.size);
  if (size == nullptr || !part.bolt_circle || part.teeth.empty()) return;
  const double root = model::pitch_diameter(size->pitch, part.teeth.front());
  if (*part.bolt_circle < root) return;
  warn(part, diagnostics,
       "its bolt circle of " + millimetres(*part.bolt_circle) + " lies outside the teeth at " +
           std::to_string(part.teeth.front()) + " teeth (" + millimetres(root) + ")",
       "check `bolt_circle` and `teeth`");
}

template <typename Part>
void warn_free(const std::vector<Part>& parts, Diagnostics& diagnostics) {
  for (const Part& part : parts) {
    if (part.price != 0) continue;
    warn(part, diagnostics, "its price is 0",
         "if you own it, list it under `owned` of the requirement instead");
  }
}

}  // namespace

void warn_implausible(const Catalogue& catalogue, Diagnostics& diagnostics) {
  for (const auto& part : catalogue.motors) warn_motor(part, diagnostics);
  for (const auto& part : catalogue.controllers) warn_controller(part, diagnostics);
  for (const auto& part : catalogue.cells) warn_cell(part, diagnostics);
  for (const auto& part : catalogue.chargers) warn_charger(part, diagnostics);
  for (const auto& part : catalogue.front_sprockets) warn_front(part, diagnostics);
  for (const auto& part : catalogue.rear_sprockets) warn_rear(part, diagnostics);
  warn_free(catalogue.motors, diagnostics);
  warn_free(catalogue.controllers, diagnostics);
  warn_free(catalogue.cells, diagnostics);
  warn_free(catalogue.chargers, diagnostics);
  warn_free(catalogue.chains, diagnostics);
}

}  // namespace sprocketry::parts
