#pragma once

#include "model/shaft_torque.hpp"
#include "spec/requirement.hpp"

namespace sprocketry::rules {

// Turns and torque pass from the motor's shaft to the front sprocket by this much: the one place
// where a stage between the two enters. The sprocket sits on the motor's shaft, so both are 1.
struct FrontShaft {
  double torque = 1;  // sprocket torque per motor torque
  double speed = 1;   // sprocket speed per motor speed
};
inline FrontShaft front_shaft(const spec::Requirement&) { return {}; }

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
