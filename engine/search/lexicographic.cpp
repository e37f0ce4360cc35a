#include "search/lexicographic.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <utility>

namespace sprocketry::search {
namespace {

// A number whose order is the value's; -0 counts as 0.
std::uint64_t ordered_bits(double value) {
  const auto bits = std::bit_cast<std::uint64_t>(value + 0.0);
  constexpr std::uint64_t kSign = std::uint64_t{1} << 63;
  return bits & kSign ? ~bits : bits | kSign;
}

// The first objective's upper 32 bits of what varies, above the index.
std::vector<std::uint64_t> keys(const std::vector<double>& first) {
  const auto [lowest, highest] = std::ranges::minmax(first);
  const std::uint64_t base = ordered_bits(lowest);
  const int unused = std::countl_zero(ordered_bits(highest) - base);
  std::vector<std::uint64_t> keys(first.size());
  for (std::size_t i = 0; i < first.size(); ++i) {
    const std::uint64_t above = ordered_bits(first[i]) - base;
    const std::uint64_t upper = unused < 64 ? (above << unused) >> 32 : 0;
    keys[i] = upper << 32 | i;
  }
  return keys;
}

// Eleven bits at a time from the lowest; three passes are faster than a sort by comparison.
void sort_by_upper_half(std::vector<std::uint64_t>& keys) {
  constexpr int kBits = 11;
  constexpr std::uint64_t kMask = (1u << kBits) - 1;
  std::vector<std::uint64_t> other(keys.size());
  for (int shift = 32; shift < 64; shift += kBits) {
    std::array<std::uint32_t, std::size_t{1} << kBits> place{};
    for (const std::uint64_t key : keys) ++place[(key >> shift) & kMask];
    std::uint32_t sum = 0;
    for (std::uint32_t& p : place) sum += std::exchange(p, sum);
    for (const std::uint64_t key : keys) other[place[(key >> shift) & kMask]++] = key;
    keys.swap(other);
  }
}

}  // namespace

std::vector<std::uint32_t> lexicographic_order(const Points& points) {
  if (points.count() == 0) return {};
  std::vector<std::uint64_t> sorted = keys(points.columns[0]);
  constexpr std::size_t kWorthPasses = 2048;
  if (sorted.size() < kWorthPasses) {
    std::ranges::sort(sorted);
  } else {
    sort_by_upper_half(sorted);
  }
  std::vector<std::uint32_t> order(sorted.size());
  std::ranges::transform(sorted, order.begin(),
                         [](std::uint64_t key) { return static_cast<std::uint32_t>(key); });
  const auto before = [&](std::uint32_t a, std::uint32_t b) {
    for (const auto& column : points.columns) {
      if (column[a] != column[b]) return column[a] < column[b];
    }
    return a < b;
  };
  // What the upper bits leave open.
  for (std::size_t first = 0; first < sorted.size();) {
    std::size_t last = first + 1;
    while (last < sorted.size() && sorted[last] >> 32 == sorted[first] >> 32) ++last;
    if (last - first > 1) {
      std::sort(order.begin() + static_cast<std::ptrdiff_t>(first),
                order.begin() + static_cast<std::ptrdiff_t>(last), before);
    }
    first = last;
  }
  return order;
}

}  // namespace sprocketry::search
