#include "parts/plausible.hpp"

#include <algorithm>
#include <cmath>

#include "model/constants.hpp"
#include "model/heat.hpp"
#include "parts/standards.hpp"
#include "parts/values.hpp"

namespace sprocketry::parts {
namespace {

using document::Diagnostics;

std::string rpm(double speed) {
  return number_text(std::round(speed * 30.0 / model::kPi)) + " rpm";
}
std::string amperes(double current) { return number_text(current) + " A"; }

void warn_heat(const MotorPart& part, Diagnostics& diagnostics) {
  constexpr double kWarmAir = model::kZeroCelsius + 40.0;  // IEC 60034-1 reference
  const model::Motor& motor = part.model;
  const double current = motor.continuous_current;
  const auto settled = model::steady_temperature(motor, {current * current, 0.0}, kWarmAir);
  if (settled.winding <= motor.thermal.max_winding + 0.5) return;
  const std::string reached =
      std::isnan(settled.winding)
          ? "never settles"
          : "settles at " + number_text(std::round(settled.winding - model::kZeroCelsius)) +
                " degC";
  diagnostics.warning(part.mark,
                      "`" + part.id + "`: by its thermal data the winding " + reached +
                          " at the continuous " + amperes(current) + " in 40 degC air, over its " +
                          number_text(motor.thermal.max_winding - model::kZeroCelsius) + " degC",
                      "check `thermal` and `current.continuous`; the rating may need forced air");
}

void warn_motor(const MotorPart& part, Diagnostics& diagnostics) {
  constexpr double kHighNoLoad = 0.3;
  constexpr double kHighLoss = 0.4;
  constexpr double kHighPeak = 6.0;
  const model::Motor& m = part.model;
  if (!part.thermal_estimated) warn_heat(part, diagnostics);
  const double unloaded = m.max_voltage / m.torque_constant;
  if (unloaded > 1.2 * m.max_speed) {
    diagnostics.warning(part.mark,
                        "`" + part.id + "`: unloaded at its maximum voltage it would turn " +
                            rpm(unloaded) + ", over its maximum of " + rpm(m.max_speed),
                        "check `speed_constant`, `max_voltage` and `max_speed`");
  } else if (unloaded < 0.5 * m.max_speed) {
    diagnostics.warning(part.mark,
                        "`" + part.id + "`: at its maximum voltage it only turns " + rpm(unloaded) +
                            ", under half of its maximum of " + rpm(m.max_speed),
                        "check `speed_constant` (rpm per volt) and `max_voltage`");
  }
  const double no_load = m.loss.constant / m.torque_constant;
  if (no_load > kHighNoLoad * m.continuous_current) {
    diagnostics.warning(part.mark,
                        "`" + part.id + "`: the no-load current of " + amperes(no_load) +
                            " is over 30 % of the continuous " + amperes(m.continuous_current),
                        "check `no_load` and `current.continuous`");
  }
  const double loss = m.continuous_current * m.resistance / m.max_voltage;
  if (loss > kHighLoss) {
    diagnostics.warning(part.mark,
                        "`" + part.id + "`: at the continuous current the winding takes " +
                            number_text(std::round(100 * loss)) + " % of the maximum voltage",
                        "check `resistance` (mohm or ohm?)");
  }
  if (m.peak_current > kHighPeak * m.continuous_current) {
    diagnostics.warning(part.mark,
                        "`" + part.id + "`: the peak current is " +
                            number_text(m.peak_current / m.continuous_current) +
                            " times the continuous one",
                        "check `current`");
  }
}

void warn_cell(const CellPart& part, Diagnostics& diagnostics) {
  constexpr double kHighSag = 0.2;
  const model::Cell& c = part.model;
  const double sag = c.continuous_current * c.resistance / c.nominal_voltage;
  if (sag > kHighSag) {
    diagnostics.warning(part.mark,
                        "`" + part.id + "`: at its continuous current it sags by " +
                            number_text(std::round(100 * sag)) + " %",
                        "check `resistance` (mohm or ohm?) and `current`");
  }
  const double rate = c.charge_current * 3600.0 / c.capacity;
  if (rate > 4.0) {
    diagnostics.warning(
        part.mark,
        "`" + part.id + "`: it may be charged " + number_text(rate) + " times its capacity an hour",
        "check `current.charge` and `capacity`");
  }
}

void warn_front(const FrontSprocketFamily& part, Diagnostics& diagnostics) {
  const ChainSize* size = find_chain_size(part.size);
  if (size == nullptr || !part.hub_diameter || part.teeth.empty()) return;
  const double largest = model::largest_hub_diameter(size->pitch, part.teeth.front());
  if (*part.hub_diameter <= largest) return;
  diagnostics.warning(part.mark,
                      "`" + part.id + "`: its hub of " + number_text(1000 * *part.hub_diameter) +
                          " mm is thicker than a chain of size " + part.size + " clears at " +
                          std::to_string(part.teeth.front()) + " teeth (" +
                          number_text(1000 * largest) + " mm)",
                      "those tooth counts are rejected; leave them out, or turn the hub down");
}

template <typename Part>
void warn_free(const std::vector<Part>& parts, Diagnostics& diagnostics) {
  for (const Part& part : parts) {
    if (part.price == 0) {
      diagnostics.warning(part.mark, "`" + part.id + "` costs nothing",
                          "if you own it, list it under `owned` of the requirement instead");
    }
  }
}

}  // namespace

void warn_implausible(const Catalogue& catalogue, Diagnostics& diagnostics) {
  for (const MotorPart& part : catalogue.motors) warn_motor(part, diagnostics);
  for (const CellPart& part : catalogue.cells) warn_cell(part, diagnostics);
  for (const FrontSprocketFamily& part : catalogue.front_sprockets) warn_front(part, diagnostics);
  warn_free(catalogue.motors, diagnostics);
  warn_free(catalogue.controllers, diagnostics);
  warn_free(catalogue.cells, diagnostics);
  warn_free(catalogue.chargers, diagnostics);
  warn_free(catalogue.chains, diagnostics);
}

}  // namespace sprocketry::parts
