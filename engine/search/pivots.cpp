#include "search/pivots.hpp"

#include <algorithm>
#include <array>
#include <bit>

#include "search/front_of.hpp"

namespace sprocketry::search {
namespace {

using Bits = std::vector<std::uint64_t>;

Points sample(Columns columns, std::size_t count, std::size_t size) {
  std::vector<std::uint32_t> places;
  for (std::size_t i = 0; i < size; ++i) {
    places.push_back(static_cast<std::uint32_t>(i * count / size));
  }
  Points taken(columns.size());
  taken.add(columns, places);
  return taken;
}

// Which of the points one point dominates, a bit for each.
Bits reach(const Blocks& points, const Point& by) {
  Bits bits((points.points() + 63) / 64);
  for (std::size_t b = 0; b < points.blocks(); ++b) {
    const double* rows = points.rows(b);
    const std::uint64_t above = lanes::at_least(rows, points.objectives(), by.data()) &
                                ~lanes::equal(rows, points.objectives(), by.data());
    bits[b / 8] |= above << (b % 8 * 8);
  }
  return bits;
}

std::size_t common(const Bits& a, const Bits& b) {
  std::size_t sum = 0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    sum += static_cast<std::size_t>(std::popcount(a[i] & b[i]));
  }
  return sum;
}

template <std::size_t D>
void survivors(const Blocks& pivots, Columns columns, std::size_t first, std::size_t last,
               std::vector<std::uint32_t>& places) {
  constexpr std::size_t kAtOnce = 1024;
  constexpr unsigned kAllLanes = (1U << kLanes) - 1;
  std::array<std::uint32_t, kAtOnce> kept;
  std::array<const double*, D> column;
  std::copy_n(columns.begin(), D, column.begin());
  std::array<double, D> best{};
  for (std::size_t j = 0; j < D && pivots.points() > 0; ++j) best[j] = pivots.at(0, j);
  for (std::size_t from = first; from < last; from += kAtOnce) {
    const std::size_t end = std::min(last, from + kAtOnce);
    std::size_t count = 0;
    const auto ask = [&](std::size_t i) {
      std::array<double, D> point;
      for (std::size_t j = 0; j < D; ++j) point[j] = column[j][i];
      bool dominated = false;
      for (std::size_t b = 0; b < pivots.blocks() && !dominated; ++b) {
        dominated = lanes::dominate(pivots.rows(b), D, point.data());
      }
      kept[count] = static_cast<std::uint32_t>(i);
      count += dominated ? 0 : 1;
    };
    std::size_t i = from;
    // The first pivot dominates the most: whole groups of what it leaves nothing of are passed.
    for (; i + kLanes <= end && pivots.points() > 0; i += kLanes) {
      unsigned left = kAllLanes & ~lanes::above(column.data(), i, D, best.data());
      for (; left != 0; left &= left - 1) ask(i + static_cast<unsigned>(std::countr_zero(left)));
    }
    for (; i < end; ++i) ask(i);
    places.insert(places.end(), kept.begin(), kept.begin() + static_cast<std::ptrdiff_t>(count));
  }
}

}  // namespace

Pivots::Pivots(Columns columns, std::size_t count) : blocks_(columns.size()) {
  constexpr std::size_t kMostPivots = 32;
  constexpr std::size_t kMostAsked = 256;
  constexpr std::size_t kMostCounted = 1024;
  const Points taken = sample(columns, count, std::clamp<std::size_t>(count / 128, 256, 32768));
  const std::vector<const double*> own = taken.pointers();
  const std::vector<std::uint32_t> front = front_of(own, taken.count());
  const std::size_t counted = std::min(kMostCounted, taken.count()) / kLanes * kLanes;
  Blocks all(columns.size());
  for (std::size_t i = 0; i < counted; ++i) {
    all.add(point_at(own, i * taken.count() / counted).data());
  }
  std::vector<Point> asked;
  std::vector<Bits> reached;
  const std::size_t most = std::min(kMostAsked, front.size());
  for (std::size_t i = 0; i < most; ++i) {
    asked.push_back(point_at(own, front[i * front.size() / most]));
    reached.push_back(reach(all, asked.back()));
  }
  Bits open(reached.front().size(), ~std::uint64_t{0});
  // A gain only falls as others are chosen, so an old one is a bound.
  std::vector<std::size_t> bound(asked.size(), counted);
  while (blocks_.points() < kMostPivots) {
    std::size_t best = 0;
    std::size_t gain = 1;
    for (std::size_t i = 0; i < asked.size(); ++i) {
      if (bound[i] <= gain) continue;
      bound[i] = common(reached[i], open);
      if (bound[i] > gain) {
        gain = bound[i];
        best = i;
      }
    }
    if (gain == 1) break;
    blocks_.add(asked[best].data());
    for (std::size_t i = 0; i < open.size(); ++i) open[i] &= ~reached[best][i];
  }
}

void Pivots::survivors(Columns columns, std::size_t first, std::size_t last,
                       std::vector<std::uint32_t>& places) const {
  switch (columns.size()) {
    case 1:
      return search::survivors<1>(blocks_, columns, first, last, places);
    case 2:
      return search::survivors<2>(blocks_, columns, first, last, places);
    case 3:
      return search::survivors<3>(blocks_, columns, first, last, places);
    case 4:
      return search::survivors<4>(blocks_, columns, first, last, places);
    case 5:
      return search::survivors<5>(blocks_, columns, first, last, places);
    default:
      return search::survivors<6>(blocks_, columns, first, last, places);
  }
}

}  // namespace sprocketry::search
