#include "model/shaft_torque.hpp"

#include <algorithm>
#include <limits>

#include "model/traction.hpp"

namespace sprocketry::model {
namespace {

double torque_at(const DriveLimits& d, double speed) {
  return d.torque_constant * largest_motor_current(d, speed) - d.loss.at(speed);
}

// d(torque x speed)/d speed in N m at a speed, with the limit that holds at `inside`.
//   full duty: I = (E - K w)/R'          K (I + w I') with I' = -K/R'
//   phase:     I constant
//   battery:   K w I = P - I^2 R, so     K (w I)' = -2 I R I' with I' = -K I/(2 I R + K w)
double power_slope(const DriveLimits& d, double speed, double inside) {
  const double k = d.torque_constant;
  const double loss = d.loss.constant + 2.0 * d.loss.viscous * speed;
  const double duty = (d.voltage - k * inside) / d.duty_resistance;
  const double battery = current_from_power(d.resistance, k, inside, d.motor_power);
  if (duty <= battery && duty <= d.phase_current) {
    return k * (d.voltage - 2.0 * k * speed) / d.duty_resistance - loss;
  }
  if (d.phase_current <= battery) return k * d.phase_current - loss;
  const double current = current_from_power(d.resistance, k, speed, d.motor_power);
  return 2.0 * current * current * d.resistance * k / (2.0 * current * d.resistance + k * speed) -
         loss;
}

// The speed in [low, high] at which the power is greatest.
double strongest_speed(const DriveLimits& d, double low, double high) {
  const double inside = 0.5 * (low + high);
  if (power_slope(d, low, inside) <= 0) return low;
  if (power_slope(d, high, inside) >= 0) return high;
  for (int step = 0; step < 60; ++step) {
    const double middle = 0.5 * (low + high);
    if (!(middle > low && middle < high)) break;
    (power_slope(d, middle, inside) > 0 ? low : high) = middle;
  }
  return low;
}

}  // namespace

double largest_shaft_power(const DriveLimits& d, const TorqueCurve& curve) {
  double most = 0;
  const auto corners = curve.corners();
  for (std::size_t i = 1; i < corners.size(); ++i) {
    const double speed = strongest_speed(d, corners[i - 1].speed, corners[i].speed);
    most = std::max(most, speed * torque_at(d, speed));
  }
  return most;
}

TorqueCurve torque_curve(const DriveLimits& d) {
  const double stall = torque_at(d, 0.0);
  TorqueCurve curve;
  curve.corner[curve.count++] = {0.0, std::max(0.0, stall)};
  if (!(stall > 0)) return curve;
  // The corners in road speed at a gearing of 1 are those in motor speed; nothing grips here.
  const Corners corners = throttle_corners(d, {1.0, 1.0}, std::numeric_limits<double>::infinity());
  // The last corners lie beyond the speed at which the loss takes all torque, but that speed itself
  // may come out a rounding error below zero.
  const double least = -1e-9 * stall;
  for (std::size_t i = 0; i < corners.count; ++i) {
    const double torque = torque_at(d, corners.speed[i]);
    if (torque >= least) curve.corner[curve.count++] = {corners.speed[i], std::max(0.0, torque)};
  }
  return curve;
}

ShaftTorque shaft_torque(const DriveLimits& burst, const DriveLimits& lasting,
                         double continuous_current) {
  ShaftTorque t;
  t.burst = torque_curve(burst);
  t.peak = t.burst.corner[0].torque;
  t.peak_power = largest_shaft_power(burst, t.burst);
  DriveLimits rated = lasting;
  rated.phase_current = std::min(lasting.phase_current, continuous_current);
  t.continuing = torque_curve(rated);
  t.continuous = t.continuing.corner[0].torque;
  t.continuous_power = largest_shaft_power(rated, t.continuing);
  return t;
}

}  // namespace sprocketry::model
