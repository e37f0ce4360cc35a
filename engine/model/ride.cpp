#include "model/ride.hpp"

#include <algorithm>
#include <cmath>

#include "model/constants.hpp"
#include "model/performance.hpp"
#include "model/range.hpp"

namespace sprocketry::model {
namespace {

// Fills the work with the points at which the motor drives.
void demand(const RideColumns& c, const DriveLimits& d, const Gearing& g, const Rolling& r,
            RideWork& work) {
  const std::size_t count = c.speed.size();
  for (auto* column :
       {&work.motor_speed, &work.current, &work.power, &work.duration, &work.force}) {
    column->resize(count);
  }
  const double spin = r.wheel_mass + r.rotor_inertia * g.ratio * g.ratio;
  const double inertia = r.mass + spin;
  const double per_torque = 1.0 / d.torque_constant;
  const double per_lever = 1.0 / g.lever;
  for (std::size_t i = 0; i < count; ++i) {
    const double force = inertia * c.acceleration[i] +
                         r.mass * (c.weight_on[i] * r.load.rolling_resistance + c.weight_along[i]) +
                         r.load.linear * c.speed[i] + r.load.drag_area * c.wind[i];
    const double w = g.ratio * c.speed[i];
    const double current = (force * per_lever + d.loss.constant + d.loss.viscous * w) * per_torque;
    work.force[i] = force;
    work.motor_speed[i] = w;
    work.current[i] = current;
    work.power[i] = current * (current * d.resistance + d.torque_constant * w);
  }
  std::size_t kept = 0;
  double driving = 0;
  for (std::size_t i = 0; i < count; ++i) {
    work.force[kept] = work.force[i];
    work.motor_speed[kept] = work.motor_speed[i];
    work.current[kept] = work.current[i];
    work.power[kept] = work.power[i];
    work.duration[kept] = c.duration[i];
    const bool drives = work.force[i] > 0 && c.speed[i] > 0;
    driving += drives ? c.duration[i] : 0.0;
    kept += drives ? 1 : 0;
  }
  for (auto* column :
       {&work.motor_speed, &work.current, &work.power, &work.duration, &work.force}) {
    column->resize(kept);
  }
  work.idle_duration = kept == count ? 0.0 : c.total_duration - driving;
}

}  // namespace

RideColumns ride_columns(const RideDemand& demanded, const Surroundings& air) {
  RideColumns c;
  c.total_duration = demanded.duration;
  c.distance = demanded.distance;
  for (const OperatingPoint& p : demanded.points) {
    const double cosine = 1.0 / std::sqrt(1.0 + p.grade * p.grade);
    const double wind = p.speed + air.headwind;
    c.speed.push_back(p.speed);
    c.acceleration.push_back(p.acceleration);
    c.weight_along.push_back(kGravity * p.grade * cosine);
    c.weight_on.push_back(kGravity * cosine);
    c.wind.push_back(0.5 * air.air_density * wind * std::abs(wind));
    c.duration.push_back(p.duration);
    c.square_speed_time += p.speed * p.speed * p.duration;
  }
  return c;
}

RideResult ride_currents(const RideColumns& columns, const DriveLimits& d, const Gearing& g,
                         const Rolling& rolling, const PackSide& side, RideWork& work) {
  demand(columns, d, g, rolling, work);
  ChargeLaw law(d, rolling.largest_force, g, side, work);
  RideResult result;
  result.follows_all = law.follows(d.voltage);
  const double idle = battery_current(d.voltage, d.pack_resistance, side.accessories);
  double charge = idle * work.idle_duration;
  double energy = charge * (d.voltage - idle * d.pack_resistance);
  double square = 0;
  double behind = 0;
  for (std::size_t i = 0; i < work.current.size(); ++i) {
    double current = work.current[i];
    double power = work.power[i];
    if (!result.follows_all && !law.follows(i, d.voltage, d.motor_power)) {
      behind += work.duration[i];
      current = law.motor_current(i, d.voltage, d.motor_power);
      power = current * (current * d.resistance + d.torque_constant * work.motor_speed[i]);
    }
    const double total = power / d.efficiency + side.accessories;
    const double drawn = battery_current(d.voltage, d.pack_resistance, total);
    const double passed = drawn * work.duration[i];
    if (i == 0) {
      result.first_current = drawn;
      result.first_motor = current;
    }
    charge += passed;
    energy += passed * (d.voltage - drawn * d.pack_resistance);
    square += current * current * work.duration[i];
  }
  if (work.current.empty()) result.first_current = idle;
  result.consumption = energy / columns.distance;
  result.keeps_up = 1.0 - behind / columns.total_duration;
  result.pack_mean = charge / columns.total_duration;
  result.heat.mean_square_current = square / columns.total_duration;
  result.heat.friction_power =
      g.ratio *
      (d.loss.constant * columns.distance + d.loss.viscous * g.ratio * columns.square_speed_time) /
      columns.total_duration;
  result.range = kNone;
  return result;
}

double ride_range(const RideColumns& columns, const DriveLimits& d, const Gearing& g,
                  const Rolling& rolling, const PackSide& side, RideWork& work) {
  ChargeLaw law(d, rolling.largest_force, g, side, work);
  const double range = side.pack->capacity * columns.distance * inverse_charge_integral(law);
  return std::isfinite(range) ? range : kNone;
}

RideResult ride(const RideColumns& columns, const DriveLimits& d, const Gearing& g,
                const Rolling& rolling, const PackSide& side, RideWork& work) {
  RideResult result = ride_currents(columns, d, g, rolling, side, work);
  result.range = ride_range(columns, d, g, rolling, side, work);
  return result;
}

}  // namespace sprocketry::model
