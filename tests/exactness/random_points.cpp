#include "exactness/random_points.hpp"

#include <cmath>
#include <limits>

namespace sprocketry::test {
namespace {

// splitmix64 (Steele, Lea, Flood 2014).
class Random {
 public:
  explicit Random(std::uint64_t seed) : state_(seed * 0x2545f4914f6cdd1du) {}
  std::uint64_t next() {
    std::uint64_t z = (state_ += 0x9e3779b97f4a7c15u);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
  }
  std::size_t below(std::size_t end) { return static_cast<std::size_t>(next() % end); }
  double uniform() { return static_cast<double>(next() >> 11) * 0x1p-53; }

 private:
  std::uint64_t state_;
};

std::vector<double> uniform_point(Random& r, std::size_t objectives) {
  std::vector<double> point;
  for (std::size_t i = 0; i < objectives; ++i) point.push_back(r.uniform());
  return point;
}

// On the unit sphere, or up to `depth` of the radius outside it.
std::vector<double> sphere_point(Random& r, std::size_t objectives, double depth) {
  std::vector<double> point = uniform_point(r, objectives);
  double square = 0;
  for (double& x : point) square += x * x;
  for (double& x : point) x *= (1 + depth * r.uniform()) / std::sqrt(square);
  return point;
}

double wide(Random& r) {
  const double sign = r.below(2) == 0 ? 1 : -1;
  return sign * std::ldexp(1 + r.uniform(), static_cast<int>(r.below(2000)) - 1000);
}

double odd(Random& r) {
  constexpr double kInfinity = std::numeric_limits<double>::infinity();
  constexpr double kOdd[] = {-kInfinity, -1, -0.0, 0.0, 1, kInfinity};
  return kOdd[r.below(6)];
}

}  // namespace

PointList random_points(std::uint64_t seed, std::size_t objectives, std::size_t count) {
  Random r(seed);
  const std::uint64_t shape = seed % kShapes;
  const std::size_t constant = r.below(objectives);
  PointList points;
  for (std::size_t i = 0; i < count; ++i) {
    std::vector<double> p = shape == 8   ? sphere_point(r, objectives, 0)
                            : shape == 9 ? sphere_point(r, objectives, 0.3)
                                         : uniform_point(r, objectives);
    for (double& x : p) {
      if (shape == 1) x = std::floor(x * 6);
      if (shape == 2) x = 7;
      if (shape == 5) x = wide(r);
      if (shape == 6) x = r.below(2) == 0 ? (r.below(2) == 0 ? 0.0 : -0.0) : x - 0.5;
      if (shape == 7) x = odd(r);
    }
    if (shape == 3 && i > 0 && r.below(2) == 0) p = points[r.below(i)];
    if (shape == 4) p[constant] = 3;
    points.push_back(p);
  }
  return points;
}

}  // namespace sprocketry::test
