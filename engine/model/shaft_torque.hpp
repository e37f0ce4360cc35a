#pragma once

#include <array>
#include <cstddef>
#include <span>

#include "model/drive.hpp"

namespace sprocketry::model {

// A motor speed (rad/s) and the torque at the shaft (N m, losses taken off, never below 0).
struct TorquePoint {
  double speed = 0;
  double torque = 0;
};

// The corners of the torque at full throttle over motor speed: standstill, where the limit on the
// current changes, and where no torque is left. Between two of them the torque is a convex function
// of speed, so whatever grows with torque and is convex in speed is greatest at one of these
// points.
struct TorqueCurve {
  std::array<TorquePoint, 9> corner{};
  std::size_t count = 0;

  [[nodiscard]] std::span<const TorquePoint> corners() const { return {corner.data(), count}; }
};
TorqueCurve torque_curve(const DriveLimits& limits);

// The largest power in W at the motor's shaft, torque times speed, of a curve made of these limits.
// Between two corners it is a concave function of speed whatever limits the current, so it is
// greatest where its slope changes sign.
double largest_shaft_power(const DriveLimits& limits, const TorqueCurve& curve);

// What a motor, controller and pack put on the motor's shaft.
struct ShaftTorque {
  double peak = 0;              // N m, at standstill: K I_m - T_loss, nowhere larger
  double continuous = 0;        // N m, at standstill with the continuous motor current
  TorqueCurve burst;            // with the peak current
  TorqueCurve continuing;       // with the continuous current
  double peak_power = 0;        // W at the shaft, of `burst`
  double continuous_power = 0;  // W, of `continuing`
};

// With the peak phase current in `burst` and `lasting`, which differ in how warm the motor is;
// `continuous_current` in A is the lesser of motor's and controller's continuous rating.
ShaftTorque shaft_torque(const DriveLimits& burst, const DriveLimits& lasting,
                         double continuous_current);

}  // namespace sprocketry::model
