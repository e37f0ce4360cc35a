#include "model/bounds.hpp"

#include <algorithm>
#include <cmath>

#include "model/constants.hpp"
#include "model/heat.hpp"
#include "model/range.hpp"

namespace sprocketry::model {
namespace {

struct Drawn {
  double mean_square_current = 0;  // A2
  double pack_mean = 0;            // A
  double consumption = 0;          // J/m
  double first_motor = 0;          // A
  double first_current = 0;        // A
  double range = kNone;            // m
};

// Least force in N of a point over the range.
double least_force(const RideColumns& c, std::size_t i, const BuildRange& range) {
  const double a = c.acceleration[i];
  const double ratio = a >= 0 ? range.least_ratio : range.most_ratio;
  const auto force = [&](const Rolling& r) {
    return (r.mass + r.wheel_mass) * a +
           r.mass * (c.weight_on[i] * r.load.rolling_resistance + c.weight_along[i]) +
           r.load.linear * c.speed[i] + r.load.drag_area * c.wind[i];
  };
  const double spin = range.light.rotor_inertia * ratio * ratio * a;
  return std::min(force(range.light), force(range.heavy)) + spin;
}

// Fills the work with the least motor powers of the points that drive.
double least_powers(const RideColumns& c, const BuildRange& range, RideWork& work) {
  const DriveLimits& d = range.best->full;
  work.power.clear();
  work.duration.clear();
  work.current.clear();
  const double per_lever = 1.0 / range.most_lever;
  const double held = std::min(range.light.largest_force, range.heavy.largest_force) * per_lever;
  double square = 0;
  for (std::size_t i = 0; i < c.speed.size(); ++i) {
    const double force = least_force(c, i, range);
    if (!(force > 0) || !(c.speed[i] > 0)) continue;
    const double w = range.least_ratio * c.speed[i];
    const double torque = std::min(force * per_lever, held) + d.loss.at(w);
    const double given = largest_motor_current(range.weakest, range.most_ratio * c.speed[i]);
    const double current = std::min(torque / d.torque_constant, given);
    work.current.push_back(current);
    work.power.push_back(current * (current * d.resistance + d.torque_constant * w));
    work.duration.push_back(c.duration[i]);
    square += current * current * c.duration[i];
  }
  return square;
}

// Least charge in C of one pass at open-circuit voltage E, Peukert's weight included.
double least_charge(const RideColumns& c, const BuildRange& range, const RideWork& work,
                    double voltage) {
  const DriveLimits& d = range.best->full;
  const Pack& pack = *range.best->pack;
  const double accessories = range.best->side.accessories;
  const double rated = pack.capacity / (pack.cell.rated_hours * 3600.0);
  const double exponent = pack.cell.peukert_exponent - 1.0;
  const auto weighted = [&](double current) {
    if (!(exponent > 0) || current <= rated) return current;
    return current * std::pow(current / rated, exponent);
  };
  double driving = 0;
  double charge = 0;
  for (std::size_t i = 0; i < work.power.size(); ++i) {
    const double power = work.power[i] / d.efficiency + accessories;
    charge += weighted(battery_current(voltage, d.pack_resistance, power)) * work.duration[i];
    driving += work.duration[i];
  }
  const double idle = std::max(0.0, c.total_duration - driving);
  if (!(idle > 0)) return charge;
  return charge + weighted(battery_current(voltage, d.pack_resistance, accessories)) * idle;
}

double most_range(const RideColumns& c, const BuildRange& range, const RideWork& work) {
  const DriveLimits& d = range.best->full;
  const Pack& pack = *range.best->pack;
  const Cell& cell = pack.cell;
  const double largest = work.power.empty() ? 0.0 : *std::ranges::max_element(work.power);
  const double power = largest / d.efficiency + range.best->side.accessories;
  const bool smooth = 2.0 * std::sqrt(d.pack_resistance * power) <= pack.series * pack.nodes_reach;
  double per_charge = 0;
  if (smooth && !(cell.peukert_exponent > 1.0)) {
    for (const ChargeNode& node : pack.nodes) {
      per_charge += node.weight / least_charge(c, range, work, pack.series * node.voltage);
    }
  } else {
    // The charge falls as the voltage rises, so the full pack's bounds it all over the window.
    const double full = pack.series * open_circuit_voltage(cell.open_circuit, cell.usable_from);
    per_charge = (cell.usable_from - cell.usable_to) / least_charge(c, range, work, full);
  }
  return pack.capacity * c.distance * per_charge * kRangeSlack;
}

Drawn least_drawn(const RideColumns& c, const BuildRange& range, RideWork& work, bool with_range) {
  const DriveLimits& d = range.best->full;
  const double accessories = range.best->side.accessories;
  // A pack gives no more than at the matched load.
  const double most = 0.25 * d.voltage * d.voltage / d.pack_resistance;
  Drawn result;
  result.mean_square_current = least_powers(c, range, work) / c.total_duration;
  double energy = 0;
  double charge = 0;
  double driving = 0;
  for (std::size_t i = 0; i < work.power.size(); ++i) {
    const double power = work.power[i] / d.efficiency + accessories;
    energy += std::min(power, most) * work.duration[i];
    charge += battery_current(d.voltage, d.pack_resistance, power) * work.duration[i];
    driving += work.duration[i];
  }
  const double idle = std::max(0.0, c.total_duration - driving);
  const double standing = battery_current(d.voltage, d.pack_resistance, accessories);
  result.consumption = (energy + std::min(accessories, most) * idle) / c.distance;
  result.pack_mean = (charge + standing * idle) / c.total_duration;
  if (!work.current.empty()) {
    result.first_motor = work.current.front();
    result.first_current = battery_current(d.voltage, d.pack_resistance,
                                           work.power.front() / d.efficiency + accessories);
  } else {
    result.first_current = standing;
  }
  if (with_range) result.range = most_range(c, range, work);
  return result;
}

void bound_climbs(const Questions& q, const BuildRange& range, const HeatLoad& heat,
                  Performance& p) {
  const Motor& motor = *range.best->motor;
  const MotorTemperature start = steady_temperature(motor, heat, q.air_temperature);
  p.winding_ride = start.winding;
  if (q.climbs.empty()) return;
  const Build best = best_build(range);
  for (std::size_t i = 0; i < q.climbs.size(); ++i) {
    const ClimbQuestion& asked = q.climbs[i];
    const auto needed_by = [&](const Rolling& r) {
      return road_force(r.load, r.air, r.mass, asked.grade, asked.speed);
    };
    const double needed = std::min(needed_by(range.light), needed_by(range.heavy));
    const auto margin = [&](DriveLimits limits) {
      limits.phase_current = range.best->climb_current[i];
      return drive_force(limits, best.gearing, best.rolling.largest_force, asked.speed) - needed;
    };
    ClimbResult& c = p.climbs[i];
    c.grade = asked.grade;
    c.speed = asked.speed;
    c.duration = asked.duration;
    c.force_margin = margin(range.best->full);
    c.force_margin_low = margin(range.best->low);
    const double current = demanded_current(range.best->full, best.gearing, needed, asked.speed);
    const double w = range.least_ratio * asked.speed;
    const HeatLoad load{current * current, motor.loss.at(w) * w};
    c.winding = temperature_after(motor, load, q.air_temperature, start, asked.duration).winding;
  }
}

}  // namespace

DriveLimits weakest_limits(const Questions& q, const Motor& motor, const Controller& controller,
                           const Pack& pack) {
  return drive_limits(motor, controller, pack, std::min(pack.cell.usable_to, q.state_of_charge),
                      settled_at(motor, q.winding_temperature, q.air_temperature), q.ceiling,
                      std::min(motor.peak_current, controller.motor_current));
}

Build best_build(const BuildRange& range) {
  Rolling rolling = range.light;
  rolling.largest_force = std::max(range.light.largest_force, range.heavy.largest_force);
  return make_build(*range.best, {range.least_ratio, range.most_lever}, rolling);
}

void bound_ride(const Questions& q, const BuildRange& range, RideWork& work, Performance& p) {
  const Drawn drawn = least_drawn(q.ride, range, work, true);
  p.consumption = drawn.consumption;
  p.keeps_up = 1.0;
  p.ride_motor_rms = std::sqrt(drawn.mean_square_current);
  p.ride_pack_mean = drawn.pack_mean;
  p.range = drawn.range;
  const LossTorque& loss = range.best->motor->loss;
  const HeatLoad heat{drawn.mean_square_current,
                      range.least_ratio *
                          (loss.constant * q.ride.distance +
                           loss.viscous * range.least_ratio * q.ride.square_speed_time) /
                          q.ride.total_duration};
  bound_climbs(q, range, heat, p);
}

void bound_cruise(const Questions& q, const BuildRange& range, RideWork& work, Performance& p) {
  for (std::size_t i = 0; i < q.cruise.size(); ++i) {
    const Drawn drawn = least_drawn(q.cruise_rides[i], range, work, true);
    CruiseResult& c = p.cruise[i];
    c.speed = q.cruise[i];
    c.motor_speed = range.least_ratio * q.cruise[i];
    c.battery_current = drawn.first_current;
    c.motor_current = drawn.first_motor;
    c.range = drawn.range;
  }
}

}  // namespace sprocketry::model
