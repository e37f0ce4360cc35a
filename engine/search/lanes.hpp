#pragma once

#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <limits>
#include <vector>

namespace sprocketry::search {

inline constexpr std::size_t kMostObjectives = 6;
inline constexpr std::size_t kLanes = 8;

namespace lanes {

using Pair = double __attribute__((vector_size(16)));
using Mask = std::int64_t __attribute__((vector_size(16)));

// One bit for each of eight points of which the comparison with one point holds in every objective.
// `row` gives eight numbers of an objective. Two to a vector: every machine has that without a
// flag, and four or eight gain a sixth on the filter by pivots (measured), not worth three builds
// of it.
template <typename Row, typename Holds>
inline unsigned compare_rows(Row row, std::size_t objectives, const double* point, Holds holds) {
  Mask a = {1, 2}, b = {4, 8}, c = {16, 32}, d = {64, 128};
  for (std::size_t i = 0; i < objectives; ++i) {
    std::array<Pair, 4> kept;
    std::memcpy(kept.data(), row(i), sizeof kept);
    a &= holds(kept[0], point[i]);
    b &= holds(kept[1], point[i]);
    c &= holds(kept[2], point[i]);
    d &= holds(kept[3], point[i]);
  }
  const Mask all = (a | b) | (c | d);
  return static_cast<unsigned>(all[0] | all[1]);
}

// The same of rows that stand one behind the other.
template <typename Holds>
inline unsigned compare(const double* rows, std::size_t objectives, const double* point,
                        Holds holds) {
  const auto row = [rows](std::size_t i) { return rows + i * kLanes; };
  return compare_rows(row, objectives, point, holds);
}

// Of the eight points from `first` on, each objective in a column of its own, those that are above
// the point in every one.
inline unsigned above(const double* const* columns, std::size_t first, std::size_t objectives,
                      const double* point) {
  const auto row = [&](std::size_t i) { return columns[i] + first; };
  return compare_rows(row, objectives, point, [](const Pair& x, double y) { return x > y; });
}

inline unsigned at_most(const double* rows, std::size_t objectives, const double* point) {
  return compare(rows, objectives, point, [](const Pair& x, double y) { return x <= y; });
}

inline unsigned at_least(const double* rows, std::size_t objectives, const double* point) {
  return compare(rows, objectives, point, [](const Pair& x, double y) { return x >= y; });
}

inline unsigned equal(const double* rows, std::size_t objectives, const double* point) {
  return compare(rows, objectives, point, [](const Pair& x, double y) { return x == y; });
}

// True when one of the eight is nowhere above the point and somewhere below it.
inline bool dominate(const double* rows, std::size_t objectives, const double* point) {
  const unsigned below = at_most(rows, objectives, point);
  if (below == 0) return false;
  // Nearly always the first one found differs in the first objective already.
  const double* found = rows + std::countr_zero(below);
  for (std::size_t i = 0; i < objectives; ++i, found += kLanes) {
    if (*found != point[i]) return true;
  }
  return (below & ~equal(rows, objectives, point)) != 0;
}

}  // namespace lanes

// Points eight at a time, each block one row of eight per objective. Lanes without a point hold
// infinity, which dominates nothing.
class Blocks {
 public:
  explicit Blocks(std::size_t objectives = 0) : objectives_(objectives) {}

  [[nodiscard]] std::size_t objectives() const { return objectives_; }
  [[nodiscard]] std::size_t points() const { return points_; }
  [[nodiscard]] std::size_t blocks() const { return (points_ + kLanes - 1) / kLanes; }
  [[nodiscard]] const double* rows(std::size_t block) const {
    return values_.data() + block * objectives_ * kLanes;
  }
  [[nodiscard]] double at(std::size_t point, std::size_t objective) const {
    return rows(point / kLanes)[objective * kLanes + point % kLanes];
  }

  void add(const double* point) {
    const std::size_t lane = points_ % kLanes;
    if (lane == 0) {
      values_.resize(values_.size() + objectives_ * kLanes,
                     std::numeric_limits<double>::infinity());
    }
    double* const row = values_.data() + (points_ / kLanes) * objectives_ * kLanes + lane;
    for (std::size_t i = 0; i < objectives_; ++i) row[i * kLanes] = point[i];
    ++points_;
  }

  void clear() {
    values_.clear();
    points_ = 0;
  }

 private:
  std::size_t objectives_;
  std::size_t points_ = 0;
  std::vector<double> values_;
};

}  // namespace sprocketry::search
