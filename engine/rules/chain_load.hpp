#pragma once

#include "rules/rule.hpp"

namespace sprocketry::rules {

// Tension and strength of the chain, N.
struct ChainLoad {
  double peak = model::kNone;        // largest pull at full throttle
  double continuous = model::kNone;  // largest pull with the continuous motor current
  double strength = model::kNone;  // least breaking load of the chain as built, half link counted;
                                   // kNone when its link count is open
};
ChainLoad chain_load(const Context& context);
// Its peak and strength alone.
double peak_pull(const Context& context);
double built_strength(const Context& context);

// The chain's power at the fastest cruise speed, or without cruise speeds at the corner of the
// continuous torque where it gives most power, against the published rating.
struct ChainDuty {
  double power = model::kNone;     // W at the front sprocket; kNone when the speed is not held
  double speed = model::kNone;     // rad/s of the front sprocket
  double capacity = model::kNone;  // W; kNone where no table reaches
  double galling = model::kNone;   // rad/s; kNone likewise
  const char* unrated = nullptr;   // why there is no capacity
};
ChainDuty chain_duty(const Context& context);

}  // namespace sprocketry::rules
