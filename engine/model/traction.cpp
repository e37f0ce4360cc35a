#include "model/traction.hpp"

#include <algorithm>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>
#include <limits>

#include "model/constants.hpp"
#include "model/performance.hpp"

namespace sprocketry::model {
namespace {

double uncapped_force(const DriveLimits& d, const Gearing& g, double speed) {
  const double w = g.ratio * speed;
  return (d.torque_constant * largest_motor_current(d, w) - d.loss.at(w)) * g.lever;
}

// Inserts a road speed in order.
void add_corner(Corners& corners, double speed) {
  // NaN and infinity fail the comparison: no such corner.
  if (!(speed > 0 && speed < std::numeric_limits<double>::max())) return;
  std::size_t place = corners.count++;
  for (; place > 0 && corners.speed[place - 1] > speed; --place) {
    corners.speed[place] = corners.speed[place - 1];
  }
  corners.speed[place] = speed;
}

// Motor speed at which full duty leaves a motor current.
double duty_speed(const DriveLimits& d, double motor_current) {
  return (d.voltage - motor_current * d.duty_resistance) / d.torque_constant;
}

// Motor speed at which the battery limit's torque, less the loss, is `torque`: with the current
// I = c0 + c1 w that this torque needs, R I^2 + K w I = P is a quadratic in w.
double battery_speed_for_torque(const DriveLimits& d, double torque) {
  const double c0 = (torque + d.loss.constant) / d.torque_constant;
  const double c1 = d.loss.viscous / d.torque_constant;
  const double a = c1 * (d.resistance * c1 + d.torque_constant);
  const double b = c0 * (2.0 * d.resistance * c1 + d.torque_constant);
  const double c = d.resistance * c0 * c0 - d.motor_power;
  const double root = std::sqrt(b * b - 4.0 * a * c);
  return -2.0 * c / (b + root);
}

// Motor speed at which the phase-limited torque, less the loss, has fallen to `torque`.
double phase_speed_for_torque(const DriveLimits& d, double torque) {
  return (d.torque_constant * d.phase_current - d.loss.constant - torque) / d.loss.viscous;
}

// The same on full duty: K (E - K w)/R' - T_c - B w = torque.
double duty_speed_for_torque(const DriveLimits& d, double torque) {
  const double k = d.torque_constant;
  return (k * d.voltage / d.duty_resistance - d.loss.constant - torque) /
         (k * k / d.duty_resistance + d.loss.viscous);
}

// Where the force leaves the largest force: full throttle is the least of three falling laws, so it
// reaches a torque at the least of the speeds at which the laws reach it.
double cap_motor_speed(const DriveLimits& d, double torque) {
  double speed = duty_speed_for_torque(d, torque);
  const double battery = battery_speed_for_torque(d, torque);
  if (battery < speed) speed = battery;
  if (d.loss.viscous > 0) speed = std::min(speed, phase_speed_for_torque(d, torque));
  return speed;
}

using Panel = boost::math::quadrature::gauss<double, 10>;

// Integral of 1/surplus from a to b, halving the way to the end while the surplus falls more than
// 2.5-fold: on such a panel a straight fall to zero lies far enough outside for ten nodes to reach
// 1e-8.
template <typename Surplus>
double inverse_integral(const Surplus& surplus, double a, double b) {
  constexpr double kLargestFall = 2.5;
  constexpr int kMaxPanels = 64;
  double total = 0;
  double at_a = surplus(a);
  const double at_b = surplus(b);
  if (!(at_a > 0) || !(at_b > 0)) return kNone;
  for (int panel = 0; panel < kMaxPanels; ++panel) {
    double end = b;
    double at_end = at_b;
    // Where a straight line has fallen that far; a curved law needs a step or two more.
    for (int step = 0; step < 60 && at_a > kLargestFall * at_end; ++step) {
      const double part = (at_a - at_a / kLargestFall) / (at_a - at_end);
      end = a + std::min(part, 0.9) * (end - a);
      at_end = surplus(end);
    }
    total += Panel::integrate([&](double v) { return 1.0 / surplus(v); }, a, end);
    if (end >= b) break;
    a = end;
    at_a = at_end;
  }
  return total;
}

// One smooth stretch of full throttle; the law that holds in its middle holds throughout.
double stretch_integral(const DriveLimits& d, const Gearing& g, const Rolling& rolling, double a,
                        double b) {
  const double middle = 0.5 * (a + b);
  const auto road = [&](double v) {
    return road_force(rolling.load, rolling.air, rolling.mass, 0, v);
  };
  const double force_there = uncapped_force(d, g, middle);
  // Beyond its idle speed the motor gives nothing, and only a tail wind pushes.
  if (force_there <= 0) return inverse_integral([&](double v) { return -road(v); }, a, b);
  if (force_there >= rolling.largest_force) {
    return inverse_integral([&](double v) { return rolling.largest_force - road(v); }, a, b);
  }
  const double w = g.ratio * middle;
  const double current = largest_motor_current(d, w);
  if (current >= d.phase_current) {
    const double force = (d.torque_constant * d.phase_current - d.loss.constant) * g.lever;
    const double slope = d.loss.viscous * g.ratio * g.lever;
    return inverse_integral([&](double v) { return force - slope * v - road(v); }, a, b);
  }
  return inverse_integral([&](double v) { return uncapped_force(d, g, v) - road(v); }, a, b);
}

}  // namespace

Gearing gearing(double reduction, double efficiency, double rolling_circumference) {
  const double ratio = reduction * 2.0 * kPi / rolling_circumference;
  return {ratio, ratio * efficiency};
}

double largest_drive_force(const Stance& s, double mass) {
  const double weight = mass * kGravity;
  const double lift =
      weight * (s.wheelbase - s.centre_of_gravity_behind) / s.centre_of_gravity_height;
  const double transfer = s.grip * s.centre_of_gravity_height / s.wheelbase;
  if (transfer >= 1.0) return lift;
  const double grip =
      s.grip * weight * (s.centre_of_gravity_behind / s.wheelbase) / (1.0 - transfer);
  return std::min(grip, lift);
}

double effective_mass(const Rolling& rolling, const Gearing& g) {
  return rolling.mass + rolling.wheel_mass + rolling.rotor_inertia * g.ratio * g.ratio;
}

double drive_force(const DriveLimits& d, const Gearing& g, double largest_force, double speed) {
  return std::max(0.0, std::min(uncapped_force(d, g, speed), largest_force));
}

double full_throttle_current(const DriveLimits& d, const Gearing& g, double largest_force,
                             double speed) {
  const double w = g.ratio * speed;
  const double held = (largest_force / g.lever + d.loss.at(w)) / d.torque_constant;
  return std::min(largest_motor_current(d, w), held);
}

Corners throttle_corners(const DriveLimits& d, const Gearing& g, double largest_force) {
  const double phase = d.phase_current;
  const double matched = d.voltage / d.pack_resistance;
  const double motor_speeds[] = {
      (d.motor_power - phase * phase * d.resistance) / (d.torque_constant * phase),
      duty_speed(d, phase),
      // Battery limit and full duty meet where the pack gives I_bmax, and at the mirror current
      // beyond the matched load, which gives the same power.
      duty_speed(d, d.efficiency * d.battery_current),
      duty_speed(d, d.efficiency * (matched - d.battery_current)), d.voltage / d.torque_constant,
      cap_motor_speed(d, largest_force / g.lever), cap_motor_speed(d, 0.0)};
  Corners corners;
  for (const double w : motor_speeds) add_corner(corners, w / g.ratio);
  return corners;
}

double acceleration_time(const DriveLimits& d, const Gearing& g, const Rolling& rolling,
                         Corners corners, double from, double to) {
  // Drag's second derivative jumps where a tail wind is as fast as the bike.
  add_corner(corners, -rolling.air.headwind);
  const auto surplus = [&](double v) {
    return drive_force(d, g, rolling.largest_force, v) -
           road_force(rolling.load, rolling.air, rolling.mass, 0, v);
  };
  // The surplus falls with speed, so the end decides whether the speed is reached.
  if (!(surplus(to) > 0)) return kNone;
  double sum = 0;
  double a = from;
  for (std::size_t i = 0; i <= corners.count && a < to; ++i) {
    const double b = i < corners.count ? std::min(corners.speed[i], to) : to;
    if (b <= a) continue;
    sum += stretch_integral(d, g, rolling, a, b);
    a = b;
  }
  return effective_mass(rolling, g) * sum;
}

double peak_battery_current(const DriveLimits& d, const Gearing& g, double largest_force,
                            const Corners& corners, double top_speed) {
  const auto at = [&](double speed) {
    const double w = g.ratio * speed;
    const double current = full_throttle_current(d, g, largest_force, speed);
    const double power = current * (current * d.resistance + d.torque_constant * w);
    return battery_current(d.voltage, d.pack_resistance, power / d.efficiency);
  };
  double peak = std::max(at(0.0), at(top_speed));
  for (std::size_t i = 0; i < corners.count && corners.speed[i] < top_speed; ++i) {
    peak = std::max(peak, at(corners.speed[i]));
  }
  // The battery limit is met to a rounding error; it is never exceeded.
  return std::min(peak, d.battery_current);
}

}  // namespace sprocketry::model
