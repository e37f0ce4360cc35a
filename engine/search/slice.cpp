#include "search/slice.hpp"

#include <algorithm>
#include <numeric>

namespace sprocketry::search {
namespace {

// Keeps every `step`-th number, beginning with the one at `first`.
void thin_out(std::vector<std::uint32_t>& numbers, std::size_t first, std::size_t step) {
  std::vector<std::uint32_t> kept;
  for (std::size_t i = first; i < numbers.size(); i += step) kept.push_back(numbers[i]);
  numbers = std::move(kept);
}

template <typename Option>
void keep(std::vector<Option>& options, const std::vector<std::uint32_t>& numbers) {
  std::vector<Option> kept;
  kept.reserve(numbers.size());
  for (const std::uint32_t number : numbers) kept.push_back(std::move(options[number]));
  options = std::move(kept);
}

}  // namespace

SliceOptions slice_options(const Space& space, const Slice& slice) {
  SliceOptions options;
  const std::array<std::size_t, 7> sizes = {
      space.motors.size(), space.controllers.size(), space.packs.size(), space.chargers.size(),
      space.chains.size(), space.fronts.size(),      space.rears.size()};
  for (std::size_t slot = 0; slot < options.size(); ++slot) {
    options[slot].resize(sizes[slot]);
    std::iota(options[slot].begin(), options[slot].end(), 0U);
  }
  std::size_t number = slice.index - 1;
  std::size_t slices = slice.of;
  while (slices > 1) {
    auto& longest = *std::ranges::max_element(options, {}, &std::vector<std::uint32_t>::size);
    const std::size_t most = longest.size();
    if (most <= 1) {
      if (number > 0) options.front().clear();
      break;
    }
    // With more slices than options that keeps one.
    thin_out(longest, number % most, slices);
    if (slices <= most) break;
    slices = slices / most + (number % most < slices % most ? 1 : 0);
    number /= most;
  }
  return options;
}

Space slice_of(const Space& space, const SliceOptions& options) {
  Space part = space;
  keep(part.motors, options[0]);
  keep(part.controllers, options[1]);
  keep(part.packs, options[2]);
  keep(part.chargers, options[3]);
  keep(part.chains, options[4]);
  keep(part.fronts, options[5]);
  keep(part.rears, options[6]);
  return part;
}

Space slice_of(const Space& space, const Slice& slice) {
  return slice_of(space, slice_options(space, slice));
}

Combination in_whole(const SliceOptions& options, const Combination& c) {
  return {options[0][c.motor], options[1][c.controller], options[2][c.pack], options[3][c.charger],
          options[4][c.chain], options[5][c.front],      options[6][c.rear]};
}

}  // namespace sprocketry::search
