#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>

namespace sprocketry::model {

// Edges of a box in m, in the order in which they were measured.
struct Box {
  double length = 0;
  double width = 0;
  double height = 0;

  [[nodiscard]] double volume() const { return length * width * height; }
};

// Diameter and length of a cylinder in m.
struct Cylinder {
  double diameter = 0;
  double length = 0;

  [[nodiscard]] double volume() const;
};

// A body that is to be packed: the box that it occupies on a grid, and its own volume in m3.
struct Body {
  Box box;
  double volume = 0;
  bool round = false;  // a cylinder, axis along the box's length
};
Body body_of(const Box& box);
// A cylinder occupies its square prism, axis along the box's length.
Body body_of(const Cylinder& cylinder);

// Bodies set on a grid parallel to the edges of a room, all turned the same way.
struct GridFit {
  // Which edge of the body lies along the room's length, width and height: 0 its length, 1 its
  // width, 2 its height.
  std::array<int, 3> edge{0, 1, 2};
  std::array<std::int64_t, 3> along{};  // bodies along length, width and height

  [[nodiscard]] std::int64_t count() const { return along[0] * along[1] * along[2]; }
};

// The most of the six ways to turn the body; of equal counts the first in the order of `edge`. A
// body that is longer than the room by less than a millionth of itself still fits: no tape shows
// it. No body at all fits where an edge is too short. Edges must be above 0.
GridFit best_grid(const Box& room, const Box& body);

// Bodies that the rooms hold, each room on its own best grid.
std::int64_t grid_count(std::span<const Box> rooms, const Box& body);

// Volume of all rooms in m3.
double room_volume(std::span<const Box> rooms);

// Share by which bodies on a grid may exceed their room's volume because of the millionths that
// best_grid() overlooks: three edges of at least one body each.
inline constexpr double kVolumeRounding = 4e-6;

}  // namespace sprocketry::model
