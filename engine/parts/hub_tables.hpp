#pragma once

#include <optional>
#include <span>
#include <string_view>

namespace sprocketry::parts {

// Wall that must be left in a hub over the key, m: 0.06 in, a cross-check to the bore table of
// Machinery's Handbook (31st ed., Table 10).
inline constexpr double kKeyWall = 1.5e-3;

// The largest bore of a front sprocket with the standard key, in m.
struct LargestBore {
  double bore = 0;
  std::string_view source;
};

// By the table of Machinery's Handbook where it has the pitch (m) and tooth count, else by the
// wall: half of bore and key and kKeyWall within half of the largest hub, with the key that ANSI
// B17.1 gives that bore. Nothing when not even the smallest standard key leaves a wall.
std::optional<LargestBore> largest_bore(double pitch, int teeth);

// What one set screw holds, tangential to the shaft, in N: cup point of alloy steel seated with the
// tabulated torque on a steel shaft. `screw` is the row taken for a size: the largest that is not
// thicker. Nothing for a screw under #0 (1.524 mm).
struct SetScrew {
  double diameter = 0;        // m, of the row
  double seating_torque = 0;  // N m
  double holding_power = 0;   // N
};
std::optional<SetScrew> set_screw(double diameter);
std::span<const SetScrew> set_screws();

}  // namespace sprocketry::parts
