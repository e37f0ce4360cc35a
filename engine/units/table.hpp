#pragma once

#include <cstdint>
#include <span>
#include <string_view>

#include "units/factor.hpp"
#include "units/units.hpp"

namespace sprocketry::units {

// How a number x in a unit becomes a value in SI.
enum class Scale {
  kProportional,  // factor x
  kShifted,       // factor (x + shift), a point on a scale with a zero of its own
  kReciprocal,    // factor / x
};

// The shift of a scale is counted in hundredths of its unit: 273.15 K, 459.67 degF.
constexpr std::uint64_t kShiftSteps = 100;

struct Unit {
  Dimension dimension;
  std::string_view symbol;  // UTF-8, as people write it; words are separated by one blank
  Factor factor;
  Scale scale = Scale::kProportional;
  std::uint32_t shift = 0;  // in 1/kShiftSteps of the unit
};

struct DimensionText {
  Dimension dimension;
  std::string_view name;     // "a speed"
  std::string_view example;  // "72 km/h"
};

// Every spelling, grouped by dimension.
std::span<const Unit> all_units();
std::span<const Unit> units_of(Dimension dimension);
const DimensionText& text_of(Dimension dimension);

// The row of a spelling, or nullptr.
const Unit* find_unit(Dimension dimension, std::string_view symbol);
// The unit of a dimension in which every double has a text; it is SI wherever another is not
// proportional.
const Unit& plain_unit(Dimension dimension);

}  // namespace sprocketry::units
