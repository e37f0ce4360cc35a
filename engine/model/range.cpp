#include "model/range.hpp"

#include <algorithm>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>
#include <limits>

namespace sprocketry::model {
namespace {

// A stretch of the usable window on which the voltage is linear in the state of charge.
struct Stretch {
  double low_charge, high_charge;    // states of charge
  double low_voltage, high_voltage;  // V of the pack

  [[nodiscard]] double voltage(double charge) const {
    const double part = (charge - low_charge) / (high_charge - low_charge);
    return low_voltage + part * (high_voltage - low_voltage);
  }
};

// The window cut where the voltage's slope changes and where it reaches `follow_voltage`, above
// which the whole ride is followed.
std::vector<Stretch> stretches(const Pack& pack, double follow_voltage) {
  const Cell& cell = pack.cell;
  const auto voltage = [&](double charge) {
    return pack.series * open_circuit_voltage(cell.open_circuit, charge);
  };
  std::vector<Stretch> result;
  double a = cell.usable_to;
  const auto add = [&](double b) {
    if (b <= a) return;
    Stretch s{a, b, voltage(a), voltage(b)};
    if (follow_voltage > s.low_voltage && follow_voltage < s.high_voltage) {
      const double part = (follow_voltage - s.low_voltage) / (s.high_voltage - s.low_voltage);
      const double cut = a + part * (b - a);
      result.push_back({a, cut, s.low_voltage, follow_voltage});
      s = {cut, b, follow_voltage, s.high_voltage};
    }
    result.push_back(s);
    a = b;
  };
  for (const OpenCircuitPoint& p : cell.open_circuit) {
    add(std::min(p.state_of_charge, cell.usable_from));
  }
  add(cell.usable_from);
  return result;
}

// The lowest voltage in [low, high] from which on all points are followed; infinity when not even
// `high` is enough. What the drive gives rises with the voltage, so bisection finds it.
double follow_voltage(const ChargeLaw& law, double low, double high) {
  if (!law.follows(high)) return std::numeric_limits<double>::infinity();
  if (law.follows(low)) return low;
  while (true) {
    const double middle = 0.5 * (low + high);
    if (!(middle > low && middle < high)) return high;
    (law.follows(middle) ? high : low) = middle;
  }
}

}  // namespace

ChargeLaw::ChargeLaw(const DriveLimits& limits, double largest_force, const Gearing& gearing,
                     const PackSide& side, RideWork& work)
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

double ChargeLaw::drawn(const std::vector<double>& powers, const std::vector<double>& durations,
                        double voltage) const {
  const DriveLimits& d = *limits_;
  const double per_efficiency = 1.0 / d.efficiency;
  const double* power = powers.data();
  const double* duration = durations.data();
  const std::size_t count = powers.size();
  const auto current = [&](std::size_t i) {
    return battery_current(voltage, d.pack_resistance,
                           power[i] * per_efficiency + side_->accessories);
  };
  if (weighs()) {
    double charge = 0;
    for (std::size_t i = 0; i < count; ++i) charge += weighted(current(i), duration[i]);
    return charge;
  }
  // The hot loop, in chunks: first the currents, two points at a time, then their sum.
  constexpr std::size_t kChunk = 64;
  double drawn[kChunk];
  double charge = 0;
  for (std::size_t first = 0; first < count; first += kChunk) {
    const std::size_t size = std::min(kChunk, count - first);
    for (std::size_t i = 0; i < size; ++i) drawn[i] = current(first + i) * duration[first + i];
    double even = 0;
    double odd = 0;
    for (std::size_t i = 0; i + 1 < size; i += 2) {
      even += drawn[i];
      odd += drawn[i + 1];
    }
    if (size % 2 == 1) even += drawn[size - 1];
    charge += even + odd;
  }
  return charge;
}

double ChargeLaw::followed(double voltage) const {
  const double idle = battery_current(voltage, limits_->pack_resistance, side_->accessories);
  return weighted(idle, work_->idle_duration) + drawn(work_->power, work_->duration, voltage);
}

void ChargeLaw::split(double voltage) {
  work_->easy_power.clear();
  work_->easy_duration.clear();
  work_->hard.clear();
  const double most = motor_power(voltage);
  for (std::size_t i = 0; i < work_->power.size(); ++i) {
    if (follows(i, voltage, most)) {
      work_->easy_power.push_back(work_->power[i]);
      work_->easy_duration.push_back(work_->duration[i]);
    } else {
      work_->hard.push_back(static_cast<std::uint32_t>(i));
    }
  }
}

double ChargeLaw::limited(double voltage) const {
  const DriveLimits& d = *limits_;
  const double most = motor_power(voltage);
  const double idle = battery_current(voltage, d.pack_resistance, side_->accessories);
  double charge = weighted(idle, work_->idle_duration) +
                  drawn(work_->easy_power, work_->easy_duration, voltage);
  for (const std::uint32_t i : work_->hard) {
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

double inverse_charge_integral(ChargeLaw& law) {
  const Pack& pack = *law.side().pack;
  const auto& curve = pack.cell.open_circuit;
  const double low = pack.series * open_circuit_voltage(curve, pack.cell.usable_to);
  const double high = pack.series * open_circuit_voltage(curve, pack.cell.usable_from);
  double sum = 0;
  if (law.follows(low) && !law.crosses_reference(low, high)) {
    for (const ChargeNode& node : pack.nodes) {
      sum += node.weight / law.followed(pack.series * node.voltage);
    }
    return sum;
  }
  // Kinks inside: where points fall behind, where limits change, where Peukert's weight begins.
  constexpr unsigned kMaxDepth = 12;
  constexpr double kTolerance = 1e-7;
  law.split(low);
  const double follow = follow_voltage(law, low, high);
  const std::vector<Stretch> parts = stretches(pack, follow);
  const auto inverse = [&](double voltage) {
    return 1.0 / (voltage >= follow ? law.followed(voltage) : law.limited(voltage));
  };
  const double whole = (pack.cell.usable_from - pack.cell.usable_to) * inverse(0.5 * (low + high));
  for (const Stretch& part : parts) {
    const double width = part.high_charge - part.low_charge;
    const double size = width * inverse(0.5 * (part.low_voltage + part.high_voltage));
    // The library's tolerance is relative to the stretch; ours is to the whole.
    const double tolerance = std::min(1e-2, kTolerance * whole / size);
    sum += boost::math::quadrature::gauss_kronrod<double, 15>::integrate(
        [&](double charge) { return inverse(part.voltage(charge)); }, part.low_charge,
        part.high_charge, kMaxDepth, tolerance);
  }
  return sum;
}

}  // namespace sprocketry::model
