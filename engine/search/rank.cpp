#include "search/rank.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace sprocketry::search {

std::vector<double> unit_ranks(std::span<const double> values) {
  const std::size_t count = values.size();
  std::vector<std::size_t> order(count);
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::sort(order, {}, [&](std::size_t i) { return values[i]; });
  std::vector<double> ranks(count);
  const double middle = (static_cast<double>(count) - 1) / 2;
  for (std::size_t begin = 0; begin < count;) {
    std::size_t end = begin + 1;
    while (end < count && values[order[end]] == values[order[begin]]) ++end;
    const double shared = static_cast<double>(begin + end - 1) / 2 - middle;
    for (std::size_t i = begin; i < end; ++i) ranks[order[i]] = shared;
    begin = end;
  }
  const double length =
      std::sqrt(std::transform_reduce(ranks.begin(), ranks.end(), ranks.begin(), 0.0));
  if (length > 0) {
    for (double& rank : ranks) rank /= length;
  }
  return ranks;
}

double rank_correlation(std::span<const double> unit_ranks, std::span<const double> others) {
  return std::transform_reduce(unit_ranks.begin(), unit_ranks.end(), others.begin(), 0.0);
}

double quantile(std::span<const double> sorted, double share) {
  const double place = share * static_cast<double>(sorted.size() - 1);
  const auto below = static_cast<std::size_t>(place);
  const double rest = place - static_cast<double>(below);
  if (rest == 0) return sorted[below];
  const double low = sorted[below];
  const double high = sorted[below + 1];
  // Of infinite neighbours a mean would be none.
  if (std::isinf(high)) return high;
  return std::isinf(low) ? low : std::lerp(low, high, rest);
}

}  // namespace sprocketry::search
