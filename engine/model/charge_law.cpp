#include "model/charge_law.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <numeric>

namespace sprocketry::model {

ChargeLaw::ChargeLaw(const DriveLimits& limits, double largest_force, const Gearing& gearing,
                     const PackSide& side, RideWork& work)
    : limits_(&limits), side_(&side), work_(&work) {
  const Cell& cell = side.pack->cell;
  reference_current_ = side.pack->parallel * cell.capacity / (cell.rated_hours * 3600.0);
  held_torque_ = largest_force / gearing.lever;
  force_followed_ = work.largest_force <= largest_force;
}

double ChargeLaw::motor_power(double voltage) const {
  const double current = largest_battery_current(voltage, limits_->pack_resistance,
                                                 side_->low_voltage, side_->stated_limit);
  return limits_->efficiency * current * (voltage - current * limits_->pack_resistance);
}

bool ChargeLaw::follows(double voltage) const {
  return force_followed_ && work_->largest_current <= limits_->phase_current &&
         work_->largest_duty_voltage <= voltage && work_->largest_power <= motor_power(voltage);
}

// Which limit fails is hard to guess from the point before: as columns nothing is guessed.
const std::vector<double>& ChargeLaw::left(double voltage, double motor_power) const {
  const std::size_t count = work_->current.size();
  work_->left.resize(count);
  const DriveLimits d = *limits_;
  const double held = held_torque_;
  const double* __restrict currents = work_->current.data();
  const double* __restrict speeds = work_->motor_speed.data();
  const double* __restrict powers = work_->power.data();
  double* __restrict left = work_->left.data();
  for (std::size_t i = 0; i < count; ++i) {
    const double current = currents[i];
    const double speed = speeds[i];
    const double of_current = d.phase_current - current;
    const double of_power = motor_power - powers[i];
    const double of_duty = voltage - (current * d.duty_resistance + d.torque_constant * speed);
    const double of_force = held + d.loss.at(speed) - current * d.torque_constant;
    left[i] = std::min(std::min(of_current, of_power), std::min(of_duty, of_force));
  }
  return work_->left;
}

double ChargeLaw::motor_current(std::size_t i) const {
  const DriveLimits& d = *limits_;
  const double w = work_->motor_speed[i];
  const double held = (held_torque_ + d.loss.at(w)) / d.torque_constant;
  return std::min({work_->current[i], held, largest_motor_current(d, w)});
}

double ChargeLaw::weighted(double current, double duration) const {
  if (!weighs() || current <= reference_current_) return current * duration;
  const double exponent = side_->pack->cell.peukert_exponent - 1.0;
  return current * duration * std::pow(current / reference_current_, exponent);
}

double ChargeLaw::drawn(const std::vector<double>& power, const std::vector<double>& duration,
                        double voltage) const {
  double charge = 0;
  for (std::size_t i = 0; i < power.size(); ++i) {
    const double total = power[i] / limits_->efficiency + side_->accessories;
    charge += weighted(battery_current(voltage, limits_->pack_resistance, total), duration[i]);
  }
  return charge;
}

void ChargeLaw::drawn(const std::vector<double>& power, const std::vector<double>& duration,
                      std::span<const double> voltages, std::span<double> charges) const {
  const double four_resistances = 4.0 * limits_->pack_resistance;
  const double per_efficiency = 1.0 / limits_->efficiency;
  const double accessories = side_->accessories;
  const double least = *std::ranges::min_element(voltages);
  const bool matched =
      four_resistances * (work_->largest_power * per_efficiency + accessories) >= least * least;
  if (weighs() || matched) {
    for (std::size_t k = 0; k < voltages.size(); ++k) {
      charges[k] = drawn(power, duration, voltages[k]);
    }
    return;
  }
  // The hot loop, two voltages at a time: battery_current() where nothing meets the matched load.
  for (std::size_t k = 0; k < voltages.size(); k += 2) {
    const std::size_t next = std::min(k + 1, voltages.size() - 1);
    const Eigen::Array2d voltage(voltages[k], voltages[next]);
    const Eigen::Array2d square = voltage * voltage;
    Eigen::Array2d charge(0.0, 0.0);
    for (std::size_t i = 0; i < power.size(); ++i) {
      const double total = power[i] * per_efficiency + accessories;
      charge += 2.0 * total * duration[i] / (voltage + (square - four_resistances * total).sqrt());
    }
    charges[k] = charge[0];
    charges[next] = charge[1];
  }
}

void ChargeLaw::followed(std::span<const double> voltages, std::span<double> charges) const {
  if (work_->series.holds() && !weighs()) {
    work_->series.charges(voltages, charges);
    return;
  }
  drawn(work_->power, work_->duration, voltages, charges);
  for (std::size_t k = 0; k < voltages.size(); ++k) {
    const double idle = battery_current(voltages[k], limits_->pack_resistance, side_->accessories);
    charges[k] += weighted(idle, work_->idle_duration);
  }
}

void ChargeLaw::sort_out(double low) {
  RideWork& w = *work_;
  const std::size_t count = w.power.size();
  for (auto* column : {&w.easy_power, &w.easy_duration, &w.hard_speed, &w.hard_current,
                       &w.hard_power, &w.hard_duration}) {
    column->resize(count);
  }
  const DriveLimits& d = *limits_;
  const std::vector<double>& rest = left(low, motor_power(low));
  const double per_torque = 1.0 / d.torque_constant;
  std::size_t easy = 0;
  std::size_t hard = 0;
  for (std::size_t i = 0; i < count; ++i) {
    if (rest[i] >= 0) {
      w.easy_power[easy] = w.power[i];
      w.easy_duration[easy] = w.duration[i];
      ++easy;
      continue;
    }
    const double speed = w.motor_speed[i];
    const double held = (held_torque_ + d.loss.at(speed)) * per_torque;
    const double current = std::min(std::min(w.current[i], held), d.phase_current);
    w.hard_speed[hard] = speed;
    w.hard_current[hard] = current;
    w.hard_power[hard] = current * (current * d.resistance + d.torque_constant * speed);
    w.hard_duration[hard] = w.duration[i];
    ++hard;
  }
  for (auto* column : {&w.easy_power, &w.easy_duration}) column->resize(easy);
  for (auto* column : {&w.hard_speed, &w.hard_current, &w.hard_power, &w.hard_duration}) {
    column->resize(hard);
  }
}

double ChargeLaw::limited(double voltage) const {
  held_powers(voltage);
  return held_charge(voltage);
}

void ChargeLaw::held_powers(double voltage) const {
  const std::size_t count = hard_points();
  work_->held_pack_power.resize(count);
  // Power rises with current, so the least of the limits' powers is the power of the least current.
  const double most = motor_power(voltage);
  const double* __restrict demanded = work_->hard_power.data();
  const double* __restrict speed = work_->hard_speed.data();
  double* __restrict held = work_->held_pack_power.data();
  const double constant = limits_->torque_constant;
  const double resistance = limits_->resistance;
  const double per_duty = 1.0 / limits_->duty_resistance;
  const double per_efficiency = 1.0 / limits_->efficiency;
  const double accessories = side_->accessories;
  for (std::size_t i = 0; i < count; ++i) {
    const double back = constant * speed[i];
    const double current = std::max(0.0, (voltage - back) * per_duty);
    const double power =
        std::min(std::min(demanded[i], most), current * (current * resistance + back));
    held[i] = power * per_efficiency + accessories;
  }
}

double ChargeLaw::held_charge(double voltage) const {
  const double resistance = limits_->pack_resistance;
  const double idle = battery_current(voltage, resistance, side_->accessories);
  double charge = weighted(idle, work_->idle_duration) +
                  drawn(work_->easy_power, work_->easy_duration, voltage);
  const std::vector<double>& power = work_->held_pack_power;
  for (std::size_t i = 0; i < power.size(); ++i) {
    charge += weighted(battery_current(voltage, resistance, power[i]), work_->hard_duration[i]);
  }
  return charge;
}

// Every point's power is fixed or rises with the voltage (pack and full duty give more), and the
// current that a power takes rises with the power and falls with the voltage. So the power at
// `high` drawn at `low` bounds the current above, and the power at `low` drawn at `high` below. The
// current stops falling where the pack meets its matched load, E/(2 R): there the first bound may
// be short by high/low and the second long by as much. Peukert's weight of s times a current is at
// most s^k times (s >= 1), at least (s <= 1), its weight.
ChargeLaw::Bounds ChargeLaw::bounds(double low, double high) const {
  const double largest = motor_power(high) / limits_->efficiency + side_->accessories;
  const bool matched = 4.0 * limits_->pack_resistance * largest >= low * low;
  const double stretch =
      matched ? std::pow(high / low, std::max(1.0, side_->pack->cell.peukert_exponent)) : 1.0;
  Bounds result;
  held_powers(high);
  result.most = held_charge(low) * stretch;
  held_powers(low);
  result.least = held_charge(high) / stretch;
  return result;
}

double ChargeLaw::pack_power(double motor_power) const {
  return motor_power / limits_->efficiency + side_->accessories;
}

double ChargeLaw::matched_at(double motor_power) const {
  return 2.0 * std::sqrt(limits_->pack_resistance * pack_power(motor_power));
}

double ChargeLaw::reference_at(double motor_power) const {
  return pack_power(motor_power) / reference_current_ +
         reference_current_ * limits_->pack_resistance;
}

ChargeLaw::Kinks ChargeLaw::kinks(std::size_t most) const {
  const RideWork& w = *work_;
  const std::size_t easy = w.easy_power.size();
  const auto duration = [&](std::size_t i) {
    return i < easy ? w.easy_duration[i] : w.hard_duration[i - easy];
  };
  std::vector<std::size_t> order(easy + hard_points());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const auto last = order.begin() + static_cast<std::ptrdiff_t>(std::min(most, order.size()));
  std::partial_sort(order.begin(), last, order.end(),
                    [&](std::size_t a, std::size_t b) { return duration(a) > duration(b); });
  const LimitLaws laws(*limits_, side_->low_voltage, side_->stated_limit);
  Kinks result;
  for (const double e : laws.battery_changes()) result.all.push_back(e);
  for (auto at = order.begin(); at != last; ++at) {
    const double power = *at < easy ? w.easy_power[*at] : w.hard_power[*at - easy];
    result.steep.push_back(matched_at(power));
    if (weighs()) result.all.push_back(reference_at(power));
    if (*at < easy) continue;
    const std::size_t i = *at - easy;
    const LimitChanges changes = laws.changes(w.hard_current[i], power / limits_->efficiency,
                                              limits_->torque_constant * w.hard_speed[i]);
    result.all.insert(result.all.end(), changes.from.begin(), changes.from.end());
  }
  result.all.insert(result.all.end(), result.steep.begin(), result.steep.end());
  std::ranges::sort(result.all);
  std::ranges::sort(result.steep);
  return result;
}

double ChargeLaw::singularity() const { return matched_at(work_->largest_power); }

bool ChargeLaw::crosses_reference(double low, double high) const {
  if (!weighs()) return false;
  const auto crosses = [&](double power) {
    const double at = reference_at(power);
    return at > low && at < high;
  };
  if (work_->idle_duration > 0 && crosses(0.0)) return true;
  return std::ranges::any_of(work_->power, crosses);
}

}  // namespace sprocketry::model
