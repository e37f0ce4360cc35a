#pragma once

#include "model/shaft_torque.hpp"
#include "spec/requirement.hpp"

// What lies between the motor's shaft and the front sprocket: the one place where `bike.primary`
// enters. Without one the sprocket sits on the motor's shaft.
namespace sprocketry::rules {

struct FrontShaft {
  double torque = 1;  // sprocket torque per motor torque
  double speed = 1;   // sprocket speed per motor speed
};
inline FrontShaft front_shaft(const spec::Requirement& requirement) {
  const auto& primary = requirement.bike.primary;
  if (!primary) return {};
  return {primary->ratio * primary->efficiency, 1.0 / primary->ratio};
}

// The shaft that carries the front sprocket; nothing when it is not stated.
inline const std::optional<parts::Shaft>& front_sprocket_shaft(const spec::Requirement& requirement,
                                                               const parts::MotorPart& motor) {
  const auto& primary = requirement.bike.primary;
  return primary ? primary->output : motor.shaft;
}

// Torque in N m on the shaft that carries the front sprocket, of a torque (N m) at the motor's
// shaft.
inline double front_sprocket_torque(const spec::Requirement& requirement, double motor_torque) {
  return motor_torque * front_shaft(requirement).torque;
}

// Speed in rad/s of the front sprocket, of a motor speed (rad/s).
inline double front_sprocket_speed(const spec::Requirement& requirement, double motor_speed) {
  return motor_speed * front_shaft(requirement).speed;
}

}  // namespace sprocketry::rules
