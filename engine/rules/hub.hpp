#pragma once

#include <optional>

#include "model/sprocket.hpp"
#include "parts/hub_tables.hpp"
#include "rules/rule.hpp"

namespace sprocketry::rules {

// The shaft that carries the front sprocket; nothing when it is not stated.
const std::optional<parts::Shaft>& front_sprocket_shaft(const Context& context);

// The key between that shaft and the front sprocket at the largest torque. Lengths in m, stresses
// in Pa; NaN where it is not known. Without a key (width 0) the stresses are 0.
struct KeyLoad {
  const char* missing = nullptr;  // the field without which the stresses are not known
  double torque = 0;              // N m, peak, at the sprocket
  double width = model::kNone;
  double height = model::kNone;
  double length = model::kNone;  // that carries
  double shear = model::kNone;
  double bearing = model::kNone;
  double shear_limit = model::kNone;
  double bearing_limit = model::kNone;
};
KeyLoad key_load(const Context& context);

// What a builder needs to make or check both sprockets and the hub. Lengths in m.
struct SprocketNumbers {
  double pitch = 0;            // of the chain
  double roller_diameter = 0;  // of the chain, NaN when not known
  model::SprocketSize front;   // root, caliper and tooth by the size that the sprocket is cut for
  model::SprocketSize rear;
  std::optional<parts::LargestBore> largest_bore;  // of the front sprocket with the standard key
  double bore = model::kNone;
  double hub_diameter = model::kNone;
  double hub_length = model::kNone;
  KeyLoad key;
  double set_screw_size = model::kNone;
  int set_screws = 0;
  double set_screw_torque = model::kNone;  // N m, what one set screw holds; NaN without
};
SprocketNumbers sprocket_numbers(const Context& context);

}  // namespace sprocketry::rules
