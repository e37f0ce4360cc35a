#pragma once

#include <string_view>

#include "parts/values.hpp"

namespace sprocketry::spec {

// Whether a path of `spread` means an input: itself, or all of its kind ("motors.*.resistance").
bool names(std::string_view path, const parts::Input& input);

// Whether an input is known only so well (of the bike, the rider, the conditions, a part), not
// asked for (a demand, a cruise speed, a choice).
bool may_be_uncertain(std::string_view path);

}  // namespace sprocketry::spec
