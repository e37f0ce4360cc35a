#pragma once

#include "model/drive.hpp"
#include "model/traction.hpp"

namespace sprocketry::model {

// Highest speed in m/s on the flat at which full throttle still meets the road load, found as the
// least of the speeds at which each limit is reached (all limits are met below one speed and
// missed above it, since road load and motor current rise with speed). 0 when it cannot move.
double top_speed(const DriveLimits& limits, const Gearing& gearing, const Rolling& rolling);

// What may be asked for ever, besides the limits of the drive.
struct ContinuousLimits {
  double motor_current = 0;    // A, lesser of motor and controller continuous
  double pack_current = 0;     // A, parallel x cell continuous; accessories count
  double accessories = 0;      // W
  double hot_resistance = 0;   // ohm at the highest allowed winding temperature
  double copper_to_air = 0;    // K/W, winding to air
  double friction_to_air = 0;  // K/W, body to air
  double allowed_rise = 0;     // K, highest winding temperature less the air's
};
ContinuousLimits continuous_limits(const Motor& motor, const Controller& controller,
                                   const Pack& pack, double accessories, double air_temperature);

// Highest speed in m/s on the flat that it, and every lower speed, can hold for ever: full throttle
// meets the road load, motor current within its continuous rating, pack current within the cells',
// steady winding within its maximum. At that maximum the copper loss is I^2 R(max), which makes the
// condition a polynomial: steady winding <= max exactly when the loss at max holds it at most
// there.
double sustained_speed(const DriveLimits& limits, const ContinuousLimits& continuous,
                       const Gearing& gearing, const Rolling& rolling);

// Wheel force needed (N) turned into motor current in A: (F/lever + T_loss)/K; 0 when no force is
// needed, since the motor then draws nothing.
double demanded_current(const DriveLimits& limits, const Gearing& gearing, double force,
                        double speed);

}  // namespace sprocketry::model
