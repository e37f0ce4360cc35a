#include "model/shaft_torque.hpp"

#include <algorithm>
#include <limits>

#include "model/traction.hpp"

namespace sprocketry::model {
namespace {

double torque_at(const DriveLimits& d, double speed) {
  return d.torque_constant * largest_motor_current(d, speed) - d.loss.at(speed);
}

}  // namespace

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

ShaftTorque shaft_torque(const DriveLimits& limits, double continuous_current) {
  ShaftTorque t;
  t.burst = torque_curve(limits);
  t.peak = t.burst.corner[0].torque;
  DriveLimits lasting = limits;
  lasting.phase_current = std::min(limits.phase_current, continuous_current);
  t.continuing = torque_curve(lasting);
  t.continuous = t.continuing.corner[0].torque;
  return t;
}

}  // namespace sprocketry::model
