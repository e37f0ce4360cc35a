#pragma once

#include <array>
#include <string_view>

#include "search/design.hpp"

namespace sprocketry::search {

// A design on a day when its pack is in some state.
struct PackDay {
  std::string_view name;  // "new", "cold", "aged", "cold and aged"
  model::CellState state;
  Design design;  // without its chain order; parts point into the space that was asked about
};
using PackDays = std::array<PackDay, 4>;

// What the combination does with its pack new at 25 degC, new at 0 degC, with 80 % of its capacity
// left at 25 degC, and both, whatever state the requirement names: same parts, same settings.
PackDays pack_days(const spec::Job& job, const Space& space, const Combination& combination);

}  // namespace sprocketry::search
