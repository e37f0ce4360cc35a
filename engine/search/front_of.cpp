#include "search/front_of.hpp"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <numeric>
#include <optional>

#include "search/cover_grid.hpp"
#include "search/dominance_forest.hpp"
#include "search/lexicographic.hpp"
#include "search/pivots.hpp"
#include "search/points.hpp"
#include "search/staircase.hpp"

namespace sprocketry::search {
namespace {

// One, two or three objectives: the second and third of what came before, as a staircase.
class PlaneSweep {
 public:
  [[nodiscard]] bool covers(const Point& point) const { return steps_.covers(point[1], point[2]); }
  void add(const Point& point) { steps_.add(point[1], point[2]); }

 private:
  Staircase steps_;
};

// Four to six: all but the first objective of what came before, reduced to its own front now and
// then.
class ForestSweep {
 public:
  explicit ForestSweep(std::size_t objectives) : forest_(objectives - 1) {}

  [[nodiscard]] bool covers(const Point& point) const { return forest_.covers(point.data() + 1); }
  void add(const Point& point) { forest_.add(point.data() + 1); }

 private:
  DominanceForest forest_;
};

// In lexicographic order what dominates a point comes before it, and what comes before it and is
// nowhere above it in the other objectives dominates it or equals it. Equal points are neighbours.
template <typename Before>
std::vector<std::uint32_t> sweep(const Points& points, Before before) {
  constexpr std::size_t kAtOnce = 256;
  const std::vector<std::uint32_t> order = lexicographic_order(points);
  std::vector<std::uint32_t> front;
  std::array<Point, kAtOnce> next{};
  Point last{};
  bool kept = false;
  for (std::size_t first = 0; first < order.size(); first += kAtOnce) {
    const auto batch = std::span(order).subspan(first, std::min(kAtOnce, order.size() - first));
    // Fetched some at a time, so that the memory's delays overlap.
    for (std::size_t j = 0; j < points.columns.size(); ++j) {
      const double* const column = points.columns[j].data();
      for (std::size_t i = 0; i < batch.size(); ++i) next[i][j] = column[batch[i]];
    }
    for (std::size_t i = 0; i < batch.size(); ++i) {
      const Point& point = next[i];
      if (first + i == 0 || point != last) {
        kept = !before.covers(point);
        if (kept) before.add(point);
      }
      if (kept) front.push_back(points.places[batch[i]]);
      last = point;
    }
  }
  return front;
}

// Keeps what a grid of all of them leaves.
CoverGrid thin_out(Points& points) {
  CoverGrid grid(points);
  std::vector<std::uint32_t> places(points.count());
  places.resize(grid.survivors(points, places));
  points.keep(places);
  return grid;
}

// The points less most of the dominated ones.
Points candidates(Columns columns, std::size_t count) {
  constexpr std::size_t kWorthPivots = 1024;
  constexpr std::size_t kWorthGrid = 8192;
  Points kept(columns.size());
  std::vector<std::uint32_t> places;
  if (count < kWorthPivots) {
    places.resize(count);
    std::iota(places.begin(), places.end(), std::uint32_t{0});
    kept.add(columns, places);
    return kept;
  }
  const Pivots pivots(columns, count);
  const bool by_grid = columns.size() == 3 && pivots.points() > 0;
  // Made anew as it gains from more points: what it drops at once need not be stored first.
  std::optional<CoverGrid> grid;
  std::size_t next_grid = kWorthGrid;
  constexpr std::size_t kGrowth = 4;
  constexpr std::size_t kAtOnce = 4096;
  for (std::size_t first = 0; first < count; first += kAtOnce) {
    places.clear();
    pivots.survivors(columns, first, std::min(count, first + kAtOnce), places);
    if (grid) grid->drop(columns, places);
    kept.add(columns, places);
    if (!by_grid || kept.count() < next_grid) continue;
    grid = thin_out(kept);
    next_grid = kGrowth * std::max(kept.count(), kWorthGrid);
  }
  if (by_grid && kept.count() >= kWorthGrid) thin_out(kept);
  return kept;
}

Points front_points(Columns columns, std::size_t first, std::size_t last) {
  std::vector<const double*> part;
  for (const double* column : columns) part.push_back(column + first);
  std::vector<std::uint32_t> places = front_of(part, last - first);
  for (std::uint32_t& place : places) place += static_cast<std::uint32_t>(first);
  Points points(columns.size());
  points.add(columns, places);
  return points;
}

}  // namespace

std::vector<std::uint32_t> front_of(Columns columns, std::size_t count, std::size_t pieces) {
  if (pieces <= 1) {
    const Points points = candidates(columns, count);
    return columns.size() <= 3 ? sweep(points, PlaneSweep{})
                               : sweep(points, ForestSweep(columns.size()));
  }
  std::vector<Points> fronts(pieces, Points(columns.size()));
  tbb::parallel_for(std::size_t{0}, pieces, [&](std::size_t i) {
    fronts[i] = front_points(columns, i * count / pieces, (i + 1) * count / pieces);
  });
  Points all(columns.size());
  for (const Points& front : fronts) all.append(front);
  std::vector<std::uint32_t> places = front_of(all.pointers(), all.count());
  for (std::uint32_t& place : places) place = all.places[place];
  return places;
}

}  // namespace sprocketry::search
