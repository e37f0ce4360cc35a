#include "model/guard_outline.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "model/chain.hpp"
#include "model/constants.hpp"
#include "model/sprocket.hpp"

namespace sprocketry::model {
namespace {

struct Circle {
  double x = 0;
  double radius = 0;
};

// Half the circles of which the hull consists and the direction from which on each of them is the
// farthest, from 0 (along x) to pi.
struct Stretch {
  Circle circle;
  double from = 0;
  double to = 0;
};

// The farthest point in direction t lies on the circle of greatest x cos t + radius. Going round
// from t = 0 the farthest rear position leads, then the nearest, then the front circle, as far as
// each leads at all: cos t at which two of equal lead meet is (r_b - r_a)/(x_a - x_b).
std::vector<Stretch> upper_half(Circle far, Circle near, Circle front) {
  const auto meet = [](Circle a, Circle b) {
    return std::acos(std::clamp((b.radius - a.radius) / (a.x - b.x), -1.0, 1.0));
  };
  const double far_front = meet(far, front);
  // The near position leads between pi/2, where far and near are level, and its own end.
  if (near.x >= far.x || meet(near, front) <= 0.5 * kPi) {
    return {{far, 0, far_front}, {front, far_front, kPi}};
  }
  const double near_front = meet(near, front);
  return {{far, 0, 0.5 * kPi}, {near, 0.5 * kPi, near_front}, {front, near_front, kPi}};
}

PlanePoint on(const Circle& circle, double angle) {
  return {circle.x + circle.radius * std::cos(angle), circle.radius * std::sin(angle)};
}

void add_arc(std::vector<OutlinePiece>& outline, const Circle& circle, double from, double to) {
  if (to <= from) return;
  outline.push_back(
      {on(circle, from), on(circle, to), true, {circle.x, 0}, circle.radius, from, to});
}

void add_line(std::vector<OutlinePiece>& outline, const PlanePoint& to) {
  const PlanePoint from = outline.back().to;
  outline.push_back({from, to, false, {}, 0, 0, 0});
}

}  // namespace

double chain_outer_radius(double pitch, int teeth) {
  return std::max(0.5 * (pitch_diameter(pitch, teeth) + kPlateHeight * pitch),
                  0.5 * outside_diameter(pitch, teeth));
}

std::vector<OutlinePiece> drive_outline(double front_radius, double rear_radius, double least,
                                        double most) {
  if (!(least > std::abs(front_radius - rear_radius)) || !(most >= least)) {
    throw std::invalid_argument("one circle of a drive's outline lies inside the other");
  }
  const std::vector<Stretch> upper =
      upper_half({most, rear_radius}, {least, rear_radius}, {0, front_radius});
  std::vector<OutlinePiece> outline;
  for (std::size_t i = 0; i < upper.size(); ++i) {
    if (i > 0) add_line(outline, on(upper[i].circle, upper[i].from));
    add_arc(outline, upper[i].circle, upper[i].from, upper[i].to);
  }
  // The lower half is its mirror image, run backwards.
  for (std::size_t i = upper.size(); i-- > 0;) {
    const Stretch& s = upper[i];
    if (i + 1 < upper.size()) add_line(outline, on(s.circle, 2.0 * kPi - s.to));
    add_arc(outline, s.circle, 2.0 * kPi - s.to, 2.0 * kPi - s.from);
  }
  return outline;
}

double outline_length(const std::vector<OutlinePiece>& outline) {
  double sum = 0;
  for (const OutlinePiece& p : outline) {
    sum += p.arc ? p.radius * (p.end_angle - p.start_angle)
                 : std::hypot(p.to.x - p.from.x, p.to.y - p.from.y);
  }
  return sum;
}

double outline_area(const std::vector<OutlinePiece>& outline) {
  double sum = 0;
  for (const OutlinePiece& p : outline) {
    sum += 0.5 * (p.from.x * p.to.y - p.to.x * p.from.y);
    if (!p.arc) continue;
    // The segment between the arc and its chord.
    const double angle = p.end_angle - p.start_angle;
    sum += 0.5 * p.radius * p.radius * (angle - std::sin(angle));
  }
  return sum;
}

}  // namespace sprocketry::model
