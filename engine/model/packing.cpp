#include "model/packing.hpp"

#include <algorithm>
#include <cmath>

#include "model/constants.hpp"

namespace sprocketry::model {
namespace {

std::int64_t along_edge(double room, double body) {
  constexpr double kOverlooked = 1e-6;
  return static_cast<std::int64_t>(std::floor(room / body + kOverlooked));
}

}  // namespace

double Cylinder::volume() const { return kPi / 4 * diameter * diameter * length; }

Body body_of(const Box& box) { return {box, box.volume(), false}; }

Body body_of(const Cylinder& c) { return {{c.length, c.diameter, c.diameter}, c.volume(), true}; }

GridFit best_grid(const Box& room, const Box& body) {
  const std::array<double, 3> edges = {body.length, body.width, body.height};
  const std::array<double, 3> sides = {room.length, room.width, room.height};
  GridFit best;
  std::array<int, 3> turn = {0, 1, 2};
  do {
    GridFit fit{turn, {}};
    for (std::size_t i = 0; i < sides.size(); ++i) {
      fit.along[i] = along_edge(sides[i], edges[static_cast<std::size_t>(turn[i])]);
    }
    if (fit.count() > best.count()) best = fit;
  } while (std::next_permutation(turn.begin(), turn.end()));
  return best;
}

std::int64_t grid_count(std::span<const Box> rooms, const Box& body) {
  std::int64_t count = 0;
  for (const Box& room : rooms) count += best_grid(room, body).count();
  return count;
}

double room_volume(std::span<const Box> rooms) {
  double volume = 0;
  for (const Box& room : rooms) volume += room.volume();
  return volume;
}

}  // namespace sprocketry::model
