#pragma once

#include <cstddef>
#include <vector>

namespace sprocketry::test {

// A point's objectives, all to be made small.
using PointList = std::vector<std::vector<double>>;

inline bool plainly_dominates(const std::vector<double>& a, const std::vector<double>& b) {
  bool better = false;
  for (std::size_t i = 0; i < a.size(); ++i) {
    if (a[i] > b[i]) return false;
    better = better || a[i] < b[i];
  }
  return better;
}

// The indices of the points that no other dominates, every pair compared.
inline std::vector<std::size_t> plain_front(const PointList& points) {
  std::vector<std::size_t> front;
  for (std::size_t i = 0; i < points.size(); ++i) {
    bool beaten = false;
    for (std::size_t j = 0; j < points.size() && !beaten; ++j) {
      beaten = plainly_dominates(points[j], points[i]);
    }
    if (!beaten) front.push_back(i);
  }
  return front;
}

}  // namespace sprocketry::test
