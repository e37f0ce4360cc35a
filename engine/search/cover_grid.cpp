#include "search/cover_grid.hpp"

#include <algorithm>
#include <limits>

namespace sprocketry::search {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

// Bounds between cells with about as many points in each.
template <std::size_t Side>
std::array<double, Side> quantiles(const std::vector<double>& values) {
  constexpr std::size_t kPerCell = 8;
  std::vector<double> some;
  const std::size_t size = std::min(values.size(), Side * kPerCell);
  for (std::size_t i = 0; i < size; ++i) some.push_back(values[i * values.size() / size]);
  std::ranges::sort(some);
  std::array<double, Side> bounds;
  for (std::size_t i = 0; i + 1 < Side; ++i) bounds[i] = some[(i + 1) * size / Side];
  bounds[Side - 1] = kInfinity;
  return bounds;
}

// How many of the bounds but the last are at or below the value. Rises with the value, so a lower
// cell means a lower value. Without branches, which would be toss-ups.
template <std::size_t Side>
std::size_t place_in(const std::array<double, Side>& bounds, double value) {
  std::size_t count = 0;
  for (std::size_t step = Side / 2; step > 0; step /= 2) {
    count += bounds[count + step - 1] <= value ? step : 0;
  }
  return count;
}

}  // namespace

CoverGrid::CoverGrid(const Points& points)
    : first_(quantiles<kSide>(points.columns[0])),
      second_(quantiles<kSide>(points.columns[1])),
      cells_(points.count()),
      lowest_(kSide * kSide, kInfinity) {
  for (std::size_t i = 0; i < points.count(); ++i) {
    const std::size_t c = cell(points.columns[0][i], points.columns[1][i]);
    cells_[i] = static_cast<std::uint16_t>(c);
    lowest_[c] = std::min(lowest_[c], points.columns[2][i]);
  }
  // From the cells' own lowest to that of all cells lower in both: first at most as high, ...
  for (std::size_t a = 0; a < kSide; ++a) {
    for (std::size_t b = 0; b < kSide; ++b) {
      double& here = lowest_[a * kSide + b];
      if (a > 0) here = std::min(here, lowest_[(a - 1) * kSide + b]);
      if (b > 0) here = std::min(here, lowest_[a * kSide + b - 1]);
    }
  }
  // ... then one cell up in both, from the far corner so that nothing is read after it is written.
  for (std::size_t a = kSide; a-- > 0;) {
    for (std::size_t b = kSide; b-- > 0;) {
      double& here = lowest_[a * kSide + b];
      here = kInfinity;
      if (a > 0 && b > 0) here = lowest_[(a - 1) * kSide + b - 1];
    }
  }
}

std::size_t CoverGrid::cell(double first, double second) const {
  return place_in(first_, first) * kSide + place_in(second_, second);
}

void CoverGrid::drop(Columns columns, std::vector<std::uint32_t>& places) const {
  std::size_t count = 0;
  for (const std::uint32_t place : places) {
    places[count] = place;
    const std::size_t c = cell(columns[0][place], columns[1][place]);
    count += static_cast<std::size_t>(!dominates(c, columns[2][place]));
  }
  places.resize(count);
}

}  // namespace sprocketry::search
