#include "model/ride.hpp"

#include <algorithm>
#include <cmath>

#include "model/constants.hpp"
#include "model/performance.hpp"
#include "model/range.hpp"

namespace sprocketry::model {
namespace {

// What one bike makes of a point: the factors of its force and motor current.
struct PointLaw {
  double inertia, mass, rolling, linear, drag;         // of the force
  double ratio, per_lever, loss, viscous, per_torque;  // of the current
  double resistance, back;                             // of the power
};

PointLaw point_law(const DriveLimits& d, const Gearing& g, const Rolling& r) {
  const double spin = r.wheel_mass + r.rotor_inertia * g.ratio * g.ratio;
  return {r.mass + spin,           r.mass,           r.load.rolling_resistance,
          r.load.linear,           r.load.drag_area, g.ratio,
          1.0 / g.lever,           d.loss.constant,  d.loss.viscous,
          1.0 / d.torque_constant, d.resistance,     d.torque_constant};
}

// Force, motor speed, current and power of every point. No column overlaps another, which the
// parameters tell the compiler: it then takes two points at a time.
void demand_points(const PointLaw& given, std::size_t count, const double* __restrict acceleration,
                   const double* __restrict weight_on, const double* __restrict weight_along,
                   const double* __restrict speed, const double* __restrict wind,
                   double* __restrict forces, double* __restrict motor_speeds,
                   double* __restrict currents, double* __restrict powers) {
  const PointLaw k = given;
  for (std::size_t i = 0; i < count; ++i) {
    const double force = k.inertia * acceleration[i] +
                         k.mass * (weight_on[i] * k.rolling + weight_along[i]) +
                         k.linear * speed[i] + k.drag * wind[i];
    const double w = k.ratio * speed[i];
    const double current = (force * k.per_lever + k.loss + k.viscous * w) * k.per_torque;
    forces[i] = force;
    motor_speeds[i] = w;
    currents[i] = current;
    powers[i] = current * (current * k.resistance + k.back * w);
  }
}

// Fills the work with the points at which the motor drives.
void demand(const RideColumns& c, const DriveLimits& d, const Gearing& g, const Rolling& r,
            RideWork& work) {
  const std::size_t count = c.speed.size();
  for (auto* column :
       {&work.motor_speed, &work.current, &work.power, &work.duration, &work.force}) {
    column->resize(count);
  }
  demand_points(point_law(d, g, r), count, c.acceleration.data(), c.weight_on.data(),
                c.weight_along.data(), c.speed.data(), c.wind.data(), work.force.data(),
                work.motor_speed.data(), work.current.data(), work.power.data());
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

// What each driving point really takes when some cannot be followed; returns the time that falls
// behind, in s.
double hold_back(const ChargeLaw& law, const DriveLimits& d, RideWork& work) {
  work.held_current = work.current;
  work.held_power = work.power;
  double behind = 0;
  for (std::size_t i = 0; i < work.current.size(); ++i) {
    if (law.follows(i, d.voltage, d.motor_power)) continue;
    behind += work.duration[i];
    const double current = law.motor_current(i, d.voltage, d.motor_power);
    work.held_current[i] = current;
    work.held_power[i] =
        current * (current * d.resistance + d.torque_constant * work.motor_speed[i]);
  }
  return behind;
}

// Battery current of each motor power. Apart from the sums so that it runs two points at a time.
void battery_currents(const DriveLimits& d, const PackSide& side, const std::vector<double>& powers,
                      std::vector<double>& drawn) {
  const double* __restrict power = powers.data();
  double* __restrict result = drawn.data();
  const double per_efficiency = 1.0 / d.efficiency;
  const double voltage = d.voltage;
  const double resistance = d.pack_resistance;
  const double accessories = side.accessories;
  for (std::size_t i = 0; i < powers.size(); ++i) {
    result[i] = battery_current(voltage, resistance, power[i] * per_efficiency + accessories);
  }
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
  if (!result.follows_all) behind = hold_back(law, d, work);
  const std::vector<double>& current = result.follows_all ? work.current : work.held_current;
  const std::vector<double>& power = result.follows_all ? work.power : work.held_power;
  work.drawn.resize(power.size());
  battery_currents(d, side, power, work.drawn);
  for (std::size_t i = 0; i < power.size(); ++i) {
    const double passed = work.drawn[i] * work.duration[i];
    charge += passed;
    energy += passed * (d.voltage - work.drawn[i] * d.pack_resistance);
    square += current[i] * current[i] * work.duration[i];
  }
  if (!current.empty()) {
    result.first_current = work.drawn.front();
    result.first_motor = current.front();
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
