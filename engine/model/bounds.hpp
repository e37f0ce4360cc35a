#pragma once

#include "model/evaluate.hpp"

namespace sprocketry::model {

// Bikes of one motor and one pack whose controllers, gearings and masses lie within limits: what a
// search bounds before it looks at any one of them. Every bike of the range has motor speeds per
// road speed, forces per torque and masses inside these intervals.
struct BuildRange {
  const Level* best = nullptr;  // of a controller as good as the best in each rating
  DriveLimits weakest;     // of one that is as weak as the weakest, at the emptiest usable charge
  double least_ratio = 0;  // 1/m
  double most_ratio = 0;   // 1/m
  double most_lever = 0;   // 1/m
  Rolling light;           // of the least mass
  Rolling heavy;           // of the greatest mass
};

// The limits of the weakest controller where the pack is emptiest. Winding temperature and ceiling
// are the questions'.
DriveLimits weakest_limits(const Questions& questions, const Motor& motor,
                           const Controller& controller, const Pack& pack);

// A bike that no bike of the range surpasses at full throttle or in what it sustains: it turns its
// motor at the least speed (torque falls with motor speed), has the longest lever and the least
// mass, and may put down the force of the greatest mass. Force at every speed is then at least, and
// road load, inertia and demanded current at most, those of any bike of the range; so top speed,
// sustained speed and start grade are upper bounds and pull-away time is a lower one.
Build best_build(const BuildRange& range);

// Bounds of what evaluate_ride() gives: consumption, ride currents, winding temperatures from
// below, keeps_up (1), climbs' force margins and range from above. Each point's force is the least
// of both masses' (on a descent or under the brakes the heavier needs less), its motor current that
// of the longest lever and least motor speed, and never more than what the weakest drive gives at
// the highest motor speed and emptiest usable charge: then no bike of the range draws less there.
// Range takes the whole usable window. Fills only these fields of `performance`.
void bound_ride(const Questions& questions, const BuildRange& range, RideWork& work,
                Performance& performance);

// The same of each cruise: battery and motor current from below, range from above; also for speeds
// that no bike of the range reaches.
void bound_cruise(const Questions& questions, const BuildRange& range, RideWork& work,
                  Performance& performance);

}  // namespace sprocketry::model
