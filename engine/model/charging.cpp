#include "model/charging.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <vector>

namespace sprocketry::model {
namespace {

constexpr double kTailHours = 20;

// What holds the current down.
enum class Limit { kCurrent, kPower, kVoltage };

class Charger {
 public:
  Charger(const Pack& pack, const ChargeSource& source)
      : full_(pack.full_voltage),
        resistance_(pack.resistance),
        power_(source.outlet_power * source.efficiency),
        tail_(pack.capacity / (kTailHours * 3600.0)),
        current_(source.current) {}

  [[nodiscard]] double by_power(double voltage) const {
    if (std::isinf(power_)) return power_;
    return 2.0 * power_ / (voltage + std::sqrt(voltage * voltage + 4.0 * resistance_ * power_));
  }
  [[nodiscard]] double by_voltage(double voltage) const { return (full_ - voltage) / resistance_; }

  [[nodiscard]] Limit limit(double voltage) const {
    const double power = by_power(voltage);
    const double top = by_voltage(voltage);
    if (current_ <= power && current_ <= top) return Limit::kCurrent;
    return power <= top ? Limit::kPower : Limit::kVoltage;
  }
  [[nodiscard]] double current(double voltage) const {
    return std::min({current_, by_power(voltage), by_voltage(voltage)});
  }

  // E in V at which the charge ends: at the full voltage the tail's current flows.
  [[nodiscard]] double last_voltage() const {
    return full_ - std::min(tail_, current_) * resistance_;
  }
  // E in V at which the limit changes: charger to voltage, charger to power, power to voltage. A
  // limit that never binds gives an infinity or a place where nothing changes.
  [[nodiscard]] std::array<double, 3> changes() const {
    return {full_ - current_ * resistance_, power_ / current_ - current_ * resistance_,
            full_ - power_ / full_ * resistance_};
  }

  // The means of 1/I (1/A) and E + I R (V) over E from `low` to `high` (V), one limit throughout.
  struct Means {
    double inverse_current = 0;
    double voltage = 0;
  };
  [[nodiscard]] Means means(double low, double high) const {
    const double middle = 0.5 * (low + high);
    switch (limit(middle)) {
      case Limit::kCurrent:
        return {1.0 / current_, middle + current_ * resistance_};
      case Limit::kVoltage:
        return {resistance_ * inverse_mean(full_ - high, full_ - low), full_};
      case Limit::kPower:
        break;
    }
    const double inverse = (middle + root_mean(low, high)) / (2.0 * power_);
    return {inverse, power_ * inverse};
  }

 private:
  // Mean of 1/x over [low, high].
  static double inverse_mean(double low, double high) {
    const double width = high - low;
    return width <= 1e-9 * high ? 2.0 / (low + high) : std::log1p(width / low) / width;
  }
  // Mean of sqrt(E^2 + 4 R P) over [low, high].
  [[nodiscard]] double root_mean(double low, double high) const {
    const double c = 4.0 * resistance_ * power_;
    const double middle = 0.5 * (low + high);
    const double width = high - low;
    // The integral's ends would cancel; the mean's error there is of the square of the width.
    if (width <= 1e-5 * high) return std::sqrt(middle * middle + c);
    const auto integral = [&](double e) {
      return 0.5 * (e * std::sqrt(e * e + c) + c * std::asinh(e / std::sqrt(c)));
    };
    return (integral(high) - integral(low)) / width;
  }

  double full_;
  double resistance_;
  double power_;
  double tail_;
  double current_;
};

// Integrals over the state of charge: of 1/I (1/A), the tail's part of it, and of E + I R (V).
struct Sums {
  double time = 0;
  double tail = 0;
  double energy = 0;
};

// Adds [from, to] of state of charge, E linear from `low` to `high` in V.
void add_straight(const Charger& charger, double from, double to, double low, double high,
                  Sums& sums) {
  std::vector<double> cuts = {low, high};
  for (const double change : charger.changes()) {
    if (change > low && change < high) cuts.push_back(change);
  }
  std::ranges::sort(cuts);
  for (std::size_t i = 1; i < cuts.size(); ++i) {
    const double share = high > low ? (cuts[i] - cuts[i - 1]) / (high - low) : 1.0;
    const Charger::Means means = charger.means(cuts[i - 1], cuts[i]);
    const double time = share * (to - from) * means.inverse_current;
    sums.time += time;
    if (charger.limit(0.5 * (cuts[i - 1] + cuts[i])) == Limit::kVoltage) sums.tail += time;
    sums.energy += share * (to - from) * means.voltage;
  }
}

// The largest power into the pack in W: I (E + I R) grows with E until the full voltage is reached
// and falls from there.
double largest_power(const Charger& charger, double low, double high, double resistance) {
  double most = 0;
  const auto note = [&](double voltage) {
    if (voltage < low || voltage > high) return;
    const double current = charger.current(voltage);
    most = std::max(most, current * (voltage + current * resistance));
  };
  note(low);
  note(high);
  for (const double change : charger.changes()) note(change);
  return most;
}

}  // namespace

Charge charge(const Pack& pack, double from, double to, const ChargeSource& source) {
  const Cell& cell = pack.cell;
  const auto rest = [&](double share) {
    return pack.series * open_circuit_voltage(cell.open_circuit, share);
  };
  const Charger charger(pack, source);
  Charge result;
  result.state_of_charge = std::clamp(
      state_of_charge_above(cell.open_circuit, charger.last_voltage() / pack.series), from, to);
  std::vector<double> shares = {from, result.state_of_charge};
  for (const OpenCircuitPoint& point : cell.open_circuit) {
    if (point.state_of_charge > from && point.state_of_charge < result.state_of_charge) {
      shares.push_back(point.state_of_charge);
    }
  }
  std::ranges::sort(shares);
  Sums sums;
  for (std::size_t i = 1; i < shares.size(); ++i) {
    if (!(shares[i] > shares[i - 1])) continue;
    add_straight(charger, shares[i - 1], shares[i], rest(shares[i - 1]), rest(shares[i]), sums);
  }
  const double drawn = pack.capacity / cell.charge_efficiency;
  result.time = drawn * sums.time;
  result.tail = drawn * sums.tail;
  result.wall_energy = drawn * sums.energy / source.efficiency;
  if (result.state_of_charge > from) {
    result.wall_peak =
        largest_power(charger, rest(from), rest(result.state_of_charge), pack.resistance) /
        source.efficiency;
  }
  return result;
}

}  // namespace sprocketry::model
