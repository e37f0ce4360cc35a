// The exact chain length against the polygon that a chain's pins really make: pins on both pitch
// circles, one pitch of chord apart, and the tightest closed line round all of them. Nothing of it
// knows tangents, arcs or wrap angles.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "model/chain.hpp"
#include "support/random_bike.hpp"

namespace sprocketry::model {
namespace {

struct Point {
  double x = 0, y = 0;
};

// The sprocket's pins: corners of a polygon with sides of one pitch. Its radius by halving from the
// sides, not from a formula of the sine.
std::vector<Point> pins(double pitch, int teeth, Point centre, double phase) {
  const double step = 2 * kPi / teeth;
  const auto side = [&](double radius) {
    return std::hypot(radius - radius * std::cos(step), radius * std::sin(step));
  };
  double low = 0;
  double high = pitch * teeth;
  for (int i = 0; i < 200; ++i)
    (side(0.5 * (low + high)) < pitch ? low : high) = 0.5 * (low + high);
  std::vector<Point> list;
  for (int i = 0; i < teeth; ++i) {
    const double angle = phase + i * step;
    list.push_back({centre.x + low * std::cos(angle), centre.y + low * std::sin(angle)});
  }
  return list;
}

// Length of the convex hull by Andrew's monotone chain.
double hull_length(std::vector<Point> points) {
  std::ranges::sort(points, [](const Point& a, const Point& b) {
    return a.x < b.x || (a.x == b.x && a.y < b.y);
  });
  const auto half = [&](auto begin, auto end) {
    std::vector<Point> hull;
    for (auto p = begin; p != end; ++p) {
      const auto turns_left = [&] {
        const Point& a = hull[hull.size() - 2];
        const Point& b = hull.back();
        return (b.x - a.x) * (p->y - a.y) - (b.y - a.y) * (p->x - a.x) > 0;
      };
      while (hull.size() >= 2 && !turns_left()) hull.pop_back();
      hull.push_back(*p);
    }
    double length = 0;
    for (std::size_t i = 1; i < hull.size(); ++i) {
      length += std::hypot(hull[i].x - hull[i - 1].x, hull[i].y - hull[i - 1].y);
    }
    return length;
  };
  return half(points.begin(), points.end()) + half(points.rbegin(), points.rend());
}

// What the polygon may differ by, in pitches. With h = pi/N half a tooth's angle and r the pitch
// radius, each of the four ends of the straight runs is a pin at most h (and the run's own tilt)
// from the tangent point. Its way along the run, r sin(d), is counted as d in teeth, d r sin(h)/h:
// these differ by at most r h^3 / (9 sqrt(3)), at d = h/sqrt(3). The run's ends lie up to
// r (1 - cos h) inside the pitch circles, which tilts the run by their sum s over its length t,
// adding s^2/(2 t) to its length and r h^2/3 times the tilt to each end.
double tolerance(int front, int rear, double span) {
  const auto radius = [](double h) { return 0.5 / std::sin(h); };
  const double h1 = kPi / front;
  const double h2 = kPi / rear;
  const double sag = radius(h1) * (1 - std::cos(h1)) + radius(h2) * (1 - std::cos(h2));
  const auto end = [&](double h) {
    return radius(h) * h * h * (h / (9 * std::sqrt(3.0)) + sag / span / 3);
  };
  return 2 * (end(h1) + end(h2)) + sag * sag / span;
}

TEST(ChainLength, IsThatOfThePolygonOfItsPinsOn10000RandomDrives) {
  Dice dice(36);
  double largest = 0;
  double sum = 0;
  constexpr int kDrives = 10000;
  for (int i = 0; i < kDrives; ++i) {
    SCOPED_TRACE(i);
    constexpr double kPitches[] = {9.525e-3, 12.7e-3, 15.875e-3, 19.05e-3};
    const double pitch = kPitches[dice.between(0, 3)];
    const int front = dice.between(8, 24);
    const int rear = dice.between(8, 90);
    const double centre = least_centre_distance(pitch, front, rear) * dice.between(1.0, 5.0);
    auto points = pins(pitch, front, {0, 0}, dice.between(0.0, 7.0));
    const auto others = pins(pitch, rear, {centre, 0}, dice.between(0.0, 7.0));
    points.insert(points.end(), others.begin(), others.end());
    const double polygon = hull_length(points) / pitch;
    const double apart = (pitch_diameter(pitch, front) - pitch_diameter(pitch, rear)) / (2 * pitch);
    const double span = std::sqrt(centre * centre / (pitch * pitch) - apart * apart);
    const double difference = chain_length(pitch, front, rear, centre) - polygon;
    ASSERT_LE(std::abs(difference), tolerance(front, rear, span));
    largest = std::max(largest, std::abs(difference));
    sum += difference;
  }
  // The bound is not slack: some drive comes near what an 8-tooth sprocket can do.
  EXPECT_GT(largest, 0.003);
  // The differences of one sign only would mean a length that is wrong.
  EXPECT_LT(std::abs(sum / kDrives), 5e-4);
}

}  // namespace
}  // namespace sprocketry::model
