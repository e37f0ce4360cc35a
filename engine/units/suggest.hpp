#pragma once

#include <string_view>

#include "units/units.hpp"

namespace sprocketry::units {

// The symbol of the dimension that a person meant who wrote `written` out of habit ("kph", "inch",
// "F" for a temperature) or with other case, blanks or marks ("KM/H", "kg m^2"); empty if none.
std::string_view habitual_symbol(std::string_view written, Dimension dimension);

// The same, and else the symbol nearest by edit distance if it is near: at most a third of its
// length, at least one edit. Empty if none is.
std::string_view nearest_symbol(std::string_view written, Dimension dimension);

}  // namespace sprocketry::units
