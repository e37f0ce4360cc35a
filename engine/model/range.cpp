#include "model/range.hpp"

#include <algorithm>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>

namespace sprocketry::model {
namespace {

// Integrates f over the usable window, in pieces on which the voltage is linear in the state of
// charge.
template <typename F>
double integrate_window(const Pack& pack, const F& of_voltage) {
  constexpr unsigned kMaxDepth = 14;
  constexpr double kTolerance = 2e-8;
  const Cell& cell = pack.cell;
  double sum = 0;
  double a = cell.usable_to;
  const auto piece = [&](double b) {
    if (b <= a) return;
    const auto f = [&](double soc) {
      return of_voltage(pack.series * open_circuit_voltage(cell.open_circuit, soc));
    };
    sum += boost::math::quadrature::gauss_kronrod<double, 15>::integrate(f, a, b, kMaxDepth,
                                                                         kTolerance);
    a = b;
  };
  for (const OpenCircuitPoint& p : cell.open_circuit) {
    piece(std::min(p.state_of_charge, cell.usable_from));
  }
  piece(cell.usable_from);
  return sum;
}

}  // namespace

ChargeLaw::ChargeLaw(const DriveLimits& limits, double largest_force, const Gearing& gearing,
                     const PackSide& side, const RideWork& work)
    : limits_(&limits), side_(&side), work_(&work) {
  const Cell& cell = side.pack->cell;
  reference_current_ = side.pack->parallel * cell.capacity / (cell.rated_hours * 3600.0);
  held_torque_ = largest_force / gearing.lever;
  const double back = limits.torque_constant;
  for (std::size_t i = 0; i < work.current.size(); ++i) {
    largest_current_ = std::max(largest_current_, work.current[i]);
    largest_power_ = std::max(largest_power_, work.power[i]);
    largest_duty_voltage_ =
        std::max(largest_duty_voltage_,
                 work.current[i] * limits.duty_resistance + back * work.motor_speed[i]);
    force_followed_ = force_followed_ && work.force[i] <= largest_force;
  }
}

double ChargeLaw::motor_power(double voltage) const {
  const double current = largest_battery_current(voltage, limits_->pack_resistance,
                                                 side_->low_voltage, side_->stated_limit);
  return limits_->efficiency * current * (voltage - current * limits_->pack_resistance);
}

bool ChargeLaw::follows(double voltage) const {
  return force_followed_ && largest_current_ <= limits_->phase_current &&
         largest_duty_voltage_ <= voltage && largest_power_ <= motor_power(voltage);
}

bool ChargeLaw::follows(std::size_t i, double voltage, double motor_power) const {
  const DriveLimits& d = *limits_;
  const double current = work_->current[i];
  return current <= d.phase_current && work_->power[i] <= motor_power &&
         current * d.duty_resistance + d.torque_constant * work_->motor_speed[i] <= voltage &&
         current <= (held_torque_ + d.loss.at(work_->motor_speed[i])) / d.torque_constant;
}

double ChargeLaw::motor_current(std::size_t i, double voltage, double motor_power) const {
  if (follows(i, voltage, motor_power)) return work_->current[i];
  DriveLimits d = *limits_;
  d.voltage = voltage;
  d.motor_power = motor_power;
  const double w = work_->motor_speed[i];
  const double held = (held_torque_ + d.loss.at(w)) / d.torque_constant;
  return std::min({work_->current[i], held, largest_motor_current(d, w)});
}

double ChargeLaw::weighted(double current, double duration) const {
  if (!weighs() || current <= reference_current_) return current * duration;
  const double exponent = side_->pack->cell.peukert_exponent - 1.0;
  return current * duration * std::pow(current / reference_current_, exponent);
}

double ChargeLaw::followed(double voltage) const {
  const DriveLimits& d = *limits_;
  const double idle = battery_current(voltage, d.pack_resistance, side_->accessories);
  double charge = weighted(idle, work_->idle_duration);
  const double square = voltage * voltage;
  const double four = 4.0 * d.pack_resistance;
  const double per_efficiency = 1.0 / d.efficiency;
  const double* power = work_->power.data();
  const double* duration = work_->duration.data();
  const std::size_t count = work_->power.size();
  if (weighs()) {
    for (std::size_t i = 0; i < count; ++i) {
      const double total = power[i] * per_efficiency + side_->accessories;
      charge += weighted(battery_current(voltage, d.pack_resistance, total), duration[i]);
    }
    return charge;
  }
  // The hot loop: one root and one division a point, two points at a time.
  double even = 0;
  double odd = 0;
  const auto drawn = [&](std::size_t i) {
    const double total = power[i] * per_efficiency + side_->accessories;
    const double root = std::sqrt(std::max(square - four * total, 0.0));
    return 2.0 * total * duration[i] / (voltage + root);
  };
  std::size_t i = 0;
  for (; i + 1 < count; i += 2) {
    even += drawn(i);
    odd += drawn(i + 1);
  }
  if (i < count) even += drawn(i);
  return charge + even + odd;
}

double ChargeLaw::limited(double voltage) const {
  const DriveLimits& d = *limits_;
  const double most = motor_power(voltage);
  const double idle = battery_current(voltage, d.pack_resistance, side_->accessories);
  double charge = weighted(idle, work_->idle_duration);
  for (std::size_t i = 0; i < work_->current.size(); ++i) {
    const double current = motor_current(i, voltage, most);
    const double power =
        current * (current * d.resistance + d.torque_constant * work_->motor_speed[i]);
    const double total = power / d.efficiency + side_->accessories;
    charge += weighted(battery_current(voltage, d.pack_resistance, total), work_->duration[i]);
  }
  return charge;
}

bool ChargeLaw::crosses_reference(double low, double high) const {
  if (!weighs()) return false;
  // At the reference current a power P is drawn from E = P/I + I R_b, rising with P.
  const auto crosses = [&](double power) {
    const double at = power / reference_current_ + reference_current_ * limits_->pack_resistance;
    return at > low && at < high;
  };
  if (work_->idle_duration > 0 && crosses(side_->accessories)) return true;
  return std::ranges::any_of(work_->power, [&](double power) {
    return crosses(power / limits_->efficiency + side_->accessories);
  });
}

double inverse_charge_integral(const ChargeLaw& law) {
  const Pack& pack = *law.side().pack;
  const auto& curve = pack.cell.open_circuit;
  const double low = pack.series * open_circuit_voltage(curve, pack.cell.usable_to);
  const double high = pack.series * open_circuit_voltage(curve, pack.cell.usable_from);
  if (law.follows(low) && !law.crosses_reference(low, high)) {
    double sum = 0;
    for (const ChargeNode& node : pack.nodes) {
      sum += node.weight / law.followed(pack.series * node.voltage);
    }
    return sum;
  }
  return integrate_window(pack, [&](double voltage) { return 1.0 / law.limited(voltage); });
}

}  // namespace sprocketry::model
