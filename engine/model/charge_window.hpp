#pragma once

#include <optional>
#include <vector>

#include "model/battery.hpp"

namespace sprocketry::model {

// A stretch of the usable window on which the voltage is linear in the state of charge.
struct Stretch {
  double low_charge = 0;  // states of charge, 0..1
  double high_charge = 0;
  double low_voltage = 0;  // V of the pack, open circuit
  double high_voltage = 0;

  // V at a state of charge of the stretch.
  [[nodiscard]] double voltage(double charge) const {
    const double part = (charge - low_charge) / (high_charge - low_charge);
    return low_voltage + part * (high_voltage - low_voltage);
  }
};

// What of a pack's usable window drives: its open-circuit voltage lies above the cut-off under
// load there; below it the controller is off, and what the window holds moves nobody.
struct ChargeWindow {
  double empty = 0;  // state of charge, 0..1
  double full = 0;
  double low = 0;  // V of the pack, open circuit, at `empty`
  double high = 0;
  bool whole = false;  // the cut-off takes nothing away

  [[nodiscard]] double width() const { return full - empty; }
  // How much of the window a stretch takes, by charge or by voltage, whichever is more: what
  // happens as the charge falls lies as dense as voltages do. 0..1.
  [[nodiscard]] double share(const Stretch& part) const;
};

// Nothing when all of the window lies below the cut-off, `low_voltage` in V of the pack.
std::optional<ChargeWindow> charge_window(const Pack& pack, double low_voltage);

// The window from empty to full, cut where the voltage's slope changes and at the voltages of
// `cuts` (V, ascending).
std::vector<Stretch> stretches(const Pack& pack, const ChargeWindow& window,
                               const std::vector<double>& cuts);

}  // namespace sprocketry::model
