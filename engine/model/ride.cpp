#include "model/ride.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>

#include "model/column_sum.hpp"
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

// Moves the driving points behind the first `kept`, which all drive, up to them; returns how many
// drive.
std::size_t move_up(const RideColumns& c, std::size_t kept, RideWork& work) {
  for (std::size_t i = kept; i < c.speed.size(); ++i) {
    work.force[kept] = work.force[i];
    work.motor_speed[kept] = work.motor_speed[i];
    work.current[kept] = work.current[i];
    work.power[kept] = work.power[i];
    work.duration[kept] = work.duration[i];
    kept += work.force[i] > 0 ? 1U : 0U;
  }
  return kept;
}

double largest_of(const std::vector<double>& column) {
  return Eigen::Map<const Eigen::ArrayXd>(column.data(), static_cast<Eigen::Index>(column.size()))
      .maxCoeff();
}

// The extremes that ChargeLaw asks for.
void note_largest(const DriveLimits& d, RideWork& work) {
  work.largest_current = work.largest_power = work.largest_force = work.largest_duty_voltage = 0;
  if (work.current.empty()) return;
  const auto count = static_cast<Eigen::Index>(work.current.size());
  const Eigen::Map<const Eigen::ArrayXd> current(work.current.data(), count);
  const Eigen::Map<const Eigen::ArrayXd> speed(work.motor_speed.data(), count);
  work.largest_current = std::max(0.0, largest_of(work.current));
  work.largest_power = std::max(0.0, largest_of(work.power));
  work.largest_force = largest_of(work.force);
  work.largest_duty_voltage =
      std::max(0.0, (current * d.duty_resistance + d.torque_constant * speed).maxCoeff());
}

// Fills the work with the points at which the motor drives.
void demand(const RideColumns& c, const DriveLimits& d, const Gearing& g, const Rolling& r,
            RideWork& work) {
  const std::size_t count = c.speed.size();
  work.duration = c.duration;
  for (auto* column : {&work.motor_speed, &work.current, &work.power, &work.force}) {
    column->resize(count);
  }
  demand_points(point_law(d, g, r), count, c.acceleration.data(), c.weight_on.data(),
                c.weight_along.data(), c.speed.data(), c.wind.data(), work.force.data(),
                work.motor_speed.data(), work.current.data(), work.power.data());
  // The columns are in an order that leaves little to move.
  std::size_t first_idle = 0;
  while (first_idle < count && work.force[first_idle] > 0) ++first_idle;
  const std::size_t kept = move_up(c, first_idle, work);
  for (auto* column :
       {&work.motor_speed, &work.current, &work.power, &work.duration, &work.force}) {
    column->resize(kept);
  }
  work.idle_duration = std::max(0.0, c.total_duration - column_sum(work.duration));
  note_largest(d, work);
}

// What each driving point really takes when some cannot be followed; returns the time that falls
// behind, in s.
double hold_back(const ChargeLaw& law, const DriveLimits& d, RideWork& work) {
  work.held_current = work.current;
  work.held_power = work.power;
  const std::vector<double>& left = law.left(d.voltage, d.motor_power);
  double behind = 0;
  for (std::size_t i = 0; i < work.current.size(); ++i) {
    if (left[i] >= 0) continue;
    behind += work.duration[i];
    const double current = law.motor_current(i);
    work.held_current[i] = current;
    work.held_power[i] =
        current * (current * d.resistance + d.torque_constant * work.motor_speed[i]);
  }
  return behind;
}

// Charge in C and energy in J of one pass at the limits' open-circuit voltage.
struct Passed {
  double charge, energy;
};

Passed passed(const DriveLimits& d, const PackSide& side, const std::vector<double>& powers,
              RideWork& work) {
  const double e = d.voltage;
  const double resistance = d.pack_resistance;
  const double idle = battery_current(e, resistance, side.accessories);
  Passed sum{idle * work.idle_duration, 0};
  sum.energy = sum.charge * (e - idle * resistance);
  if (powers.empty()) return sum;
  // As columns: battery_current(), the power cut to what the matched load takes.
  const auto count = static_cast<Eigen::Index>(powers.size());
  work.drawn.resize(powers.size());
  const Eigen::Map<const Eigen::ArrayXd> power(powers.data(), count);
  const Eigen::Map<const Eigen::ArrayXd> duration(work.duration.data(), count);
  Eigen::Map<Eigen::ArrayXd> drawn(work.drawn.data(), count);
  drawn = (power * (1.0 / d.efficiency) + side.accessories).min(0.25 * e * e / resistance);
  drawn = 2.0 * drawn / (e + (e * e - 4.0 * resistance * drawn).max(0.0).sqrt());
  sum.charge += (drawn * duration).sum();
  sum.energy += (drawn * duration * (e - resistance * drawn)).sum();
  return sum;
}

// Takes the series of a ride that is followed throughout, when it has points enough to pay.
void take_series(const DriveLimits& d, const PackSide& side, RideWork& work) {
  constexpr std::size_t kFewest = 8;
  work.series.clear();
  const std::size_t count = work.power.size();
  if (count < kFewest) return;
  work.pack_power.resize(count);
  const double per_efficiency = 1.0 / d.efficiency;
  for (std::size_t i = 0; i < count; ++i) {
    work.pack_power[i] = work.power[i] * per_efficiency + side.accessories;
  }
  double lowest = d.voltage;
  for (const ChargeNode& node : side.pack->nodes) {
    lowest = std::min(lowest, side.pack->series * node.voltage);
  }
  const double most = work.largest_power * per_efficiency + side.accessories;
  work.series.take(work.pack_power, work.duration, side.accessories, work.idle_duration, most,
                   d.pack_resistance, lowest, work.drawn);
}

Passed passed_followed(const DriveLimits& d, const PackSide& side, RideWork& work) {
  take_series(d, side, work);
  if (!work.series.holds()) return passed(d, side, work.power, work);
  Passed result{0, work.series.energy()};
  work.series.charges({&d.voltage, 1}, {&result.charge, 1});
  return result;
}

}  // namespace

RideColumns ride_columns(const RideDemand& demanded, const Surroundings& air) {
  RideColumns c;
  c.total_duration = demanded.duration;
  c.distance = demanded.distance;
  std::vector<OperatingPoint> points;
  for (const OperatingPoint& p : demanded.points) {
    if (p.speed > 0) points.push_back(p);  // a standing bike draws accessories only
  }
  // A road bike's push by rolling and drag, in m/s2, decides where coasting begins.
  const auto push = [](const OperatingPoint& p) {
    return p.acceleration + kGravity * p.grade + 0.15 + 0.0018 * p.speed * p.speed;
  };
  std::ranges::stable_sort(points, std::ranges::greater(), push);
  for (const OperatingPoint& p : points) {
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
  const ChargeLaw law(d, rolling.largest_force, g, side, work);
  RideResult result;
  result.follows_all = law.follows(d.voltage);
  work.series.clear();
  const double behind = result.follows_all ? 0.0 : hold_back(law, d, work);
  const std::vector<double>& current = result.follows_all ? work.current : work.held_current;
  const std::vector<double>& power = result.follows_all ? work.power : work.held_power;
  const Passed sum =
      result.follows_all ? passed_followed(d, side, work) : passed(d, side, power, work);
  const auto count = static_cast<Eigen::Index>(current.size());
  const Eigen::Map<const Eigen::ArrayXd> currents(current.data(), count);
  const Eigen::Map<const Eigen::ArrayXd> durations(work.duration.data(), count);
  const double square = (currents * currents * durations).sum();
  const double first = power.empty() ? 0.0 : power.front() / d.efficiency;
  result.first_current = battery_current(d.voltage, d.pack_resistance, first + side.accessories);
  result.first_motor = current.empty() ? 0.0 : current.front();
  result.consumption = sum.energy / columns.distance;
  result.keeps_up = 1.0 - behind / columns.total_duration;
  result.pack_mean = sum.charge / columns.total_duration;
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

std::optional<RangeBounds> ride_range_bounds(const RideColumns& columns, const DriveLimits& d,
                                             const Gearing& g, const Rolling& rolling,
                                             const PackSide& side, RideWork& work) {
  ChargeLaw law(d, rolling.largest_force, g, side, work);
  const auto bounds = inverse_charge_bounds(law);
  if (!bounds) return std::nullopt;
  const double reach = side.pack->capacity * columns.distance;
  const RangeBounds result{reach * bounds->least / kRangeSlack, reach * bounds->most * kRangeSlack};
  if (!std::isfinite(result.most)) return std::nullopt;
  return result;
}

RideResult ride(const RideColumns& columns, const DriveLimits& d, const Gearing& g,
                const Rolling& rolling, const PackSide& side, RideWork& work) {
  RideResult result = ride_currents(columns, d, g, rolling, side, work);
  result.range = ride_range(columns, d, g, rolling, side, work);
  return result;
}

}  // namespace sprocketry::model
