#include "search/slice.hpp"

#include <algorithm>
#include <array>

namespace sprocketry::search {
namespace {

template <typename Visit>
void each_slot(Space& space, Visit visit) {
  visit(space.motors);
  visit(space.controllers);
  visit(space.packs);
  visit(space.chargers);
  visit(space.chains);
  visit(space.fronts);
  visit(space.rears);
}

// Keeps every `step`-th option, beginning with number `first`.
template <typename Option>
void thin_out(std::vector<Option>& options, std::size_t first, std::size_t step) {
  std::size_t kept = 0;
  for (std::size_t i = first; i < options.size(); i += step, ++kept) {
    if (kept != i) options[kept] = std::move(options[i]);
  }
  options.resize(kept);
}

// The longest slot's size.
std::size_t most_options(Space& space) {
  std::size_t most = 0;
  each_slot(space, [&](const auto& options) { most = std::max(most, options.size()); });
  return most;
}

void thin_out_longest(Space& space, std::size_t most, std::size_t first, std::size_t step) {
  bool done = false;
  each_slot(space, [&](auto& options) {
    if (done || options.size() != most) return;
    thin_out(options, first, step);
    done = true;
  });
}

}  // namespace

Space slice_of(const Space& space, const Slice& slice) {
  Space part = space;
  std::size_t number = slice.index - 1;
  std::size_t slices = slice.of;
  while (slices > 1) {
    const std::size_t most = most_options(part);
    if (most <= 1) {
      if (number > 0) part.motors.clear();
      break;
    }
    thin_out_longest(part, most, number % most, slices);
    if (slices <= most) break;
    slices = slices / most + (number % most < slices % most ? 1 : 0);
    number /= most;
  }
  return part;
}

}  // namespace sprocketry::search
