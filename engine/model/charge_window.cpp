#include "model/charge_window.hpp"

#include <algorithm>

namespace sprocketry::model {

double ChargeWindow::share(const Stretch& part) const {
  const double voltages = high > low ? (part.high_voltage - part.low_voltage) / (high - low) : 0.0;
  return std::max((part.high_charge - part.low_charge) / width(), voltages);
}

std::optional<ChargeWindow> charge_window(const Pack& pack, double low_voltage) {
  const auto& curve = pack.cell.open_circuit;
  // The nudge keeps a level stretch at the very cut-off out in spite of the quotient's rounding.
  const double cell_cut_off = low_voltage / pack.series * (1.0 + 1e-12);
  ChargeWindow window;
  window.empty = std::max(pack.cell.usable_to, state_of_charge_above(curve, cell_cut_off));
  window.full = pack.cell.usable_from;
  if (!(window.empty < window.full)) return std::nullopt;
  window.low = pack.series * open_circuit_voltage(curve, window.empty);
  window.high = pack.series * open_circuit_voltage(curve, window.full);
  window.whole = window.empty == pack.cell.usable_to;
  return window;
}

std::vector<Stretch> stretches(const Pack& pack, const ChargeWindow& window,
                               const std::vector<double>& cuts) {
  const Cell& cell = pack.cell;
  const auto voltage = [&](double charge) {
    return pack.series * open_circuit_voltage(cell.open_circuit, charge);
  };
  std::vector<Stretch> result;
  double a = window.empty;
  const auto add = [&](double b) {
    if (b <= a) return;
    Stretch rest{a, b, voltage(a), voltage(b)};
    for (const double cut : cuts) {
      if (!(cut > rest.low_voltage && cut < rest.high_voltage)) continue;
      const double part = (cut - rest.low_voltage) / (rest.high_voltage - rest.low_voltage);
      const double charge = rest.low_charge + part * (b - rest.low_charge);
      result.push_back({rest.low_charge, charge, rest.low_voltage, cut});
      rest = {charge, b, cut, rest.high_voltage};
    }
    result.push_back(rest);
    a = b;
  };
  for (const OpenCircuitPoint& p : cell.open_circuit) {
    add(std::min(p.state_of_charge, window.full));
  }
  add(window.full);
  return result;
}

}  // namespace sprocketry::model
