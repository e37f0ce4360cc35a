#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "search/lanes.hpp"
#include "search/points.hpp"

namespace sprocketry::search {

// A few points spread along a front that between them dominate most of what lies behind it.
class Pivots {
 public:
  // From the front of a sample of the points: each the one that dominates most of what those before
  // it leave of the sample, so the first ones reject the most. None where they would reject little.
  Pivots(Columns columns, std::size_t count);

  [[nodiscard]] std::size_t points() const { return blocks_.points(); }

  // Appends the places from `first` to before `last` that no pivot dominates.
  void survivors(Columns columns, std::size_t first, std::size_t last,
                 std::vector<std::uint32_t>& places) const;

 private:
  Blocks blocks_;
};

}  // namespace sprocketry::search
