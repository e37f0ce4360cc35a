#include "spec/cycles.hpp"

#include <algorithm>

namespace sprocketry::spec {

const Cycle* find_cycle(std::string_view id) {
  const std::span<const Cycle> all = cycles();
  const auto found = std::ranges::find(all, id, &Cycle::id);
  return found == all.end() ? nullptr : &*found;
}

}  // namespace sprocketry::spec
