#pragma once

#include <vector>

#include "model/evaluate.hpp"

namespace sprocketry::model {

// What holds full throttle back at a speed.
enum class ThrottleLimit {
  kMotorCurrent,       // the motor's peak rating
  kControllerCurrent,  // the controller's motor current
  kControllerDraw,     // the controller's battery current
  kPackCurrent,        // cells or management board
  kCeiling,            // the largest battery current that is asked for
  kLowVoltage,         // the pack sags to the cut-off
  kMatchedLoad,        // the pack gives its greatest power: more current would give less
  kFullDuty,           // the motor's back-EMF has come near the pack's voltage
  kGrip,               // the rear tyre slips
  kLiftOff             // the front wheel lifts
};

// What the bike does at full throttle at one road speed. SI.
struct ThrottlePoint {
  double speed = 0;            // m/s
  double force = 0;            // N at the wheel
  double motor_current = 0;    // A
  double battery_current = 0;  // A, accessories not counted
};

// A stretch of road speeds over which one limit holds.
struct ThrottleBand {
  ThrottlePoint from;
  ThrottlePoint to;
  ThrottleLimit limit = ThrottleLimit::kMotorCurrent;
};

// Full throttle on the flat from rest to `top_speed` (m/s), cut where the limit changes; adjoining
// bands differ in their limit. Empty when the top speed is 0. `ceiling` in A, infinity: none. Of
// two limits that allow exactly the same the one named first in the enumeration is given.
std::vector<ThrottleBand> throttle_bands(const Build& build, const Stance& stance, double ceiling,
                                         double top_speed);

}  // namespace sprocketry::model
