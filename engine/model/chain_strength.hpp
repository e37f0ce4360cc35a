#pragma once

#include "model/chain.hpp"
#include "model/shaft_torque.hpp"

namespace sprocketry::model {

// Pull of the tight side in N that a torque (N m) on a sprocket makes when the polygon stands at
// its smallest radius: 2 T/(PD cos(pi/N)) = 2 T tan(pi/N)/p. `pitch` in m. Slack-side tension is
// left out.
double tight_side_pull(double pitch, int teeth, double torque);

// Part of the tension in N that is due to the chain going round: q v^2, q in kg/m, chain speed v in
// m/s (Jiang, Analysis and Design of Machine Elements, Eq. 7.15).
double centrifugal_pull(double mass_per_length, double chain_speed);

// Mean chain speed in m/s: sprocket speed (rad/s) in turns times N p.
double chain_speed(double pitch, int teeth, double sprocket_speed);

// Largest pull in N on the tight side at any speed, with centrifugal part, on a front sprocket that
// turns `speed_ratio` times as fast as the motor with `torque_ratio` times its torque. Both parts
// are convex in speed between the corners of `curve`, so it is the greatest of the corners' pulls.
double largest_pull(const Chain& chain, int front_teeth, double torque_ratio, double speed_ratio,
                    const TorqueCurve& curve);

}  // namespace sprocketry::model
