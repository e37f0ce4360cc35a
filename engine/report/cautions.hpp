#pragma once

#include <span>
#include <string_view>

namespace sprocketry::report {

// What can hurt a person who builds what the program computes; printed with every result.
std::span<const std::string_view> cautions();

}  // namespace sprocketry::report
