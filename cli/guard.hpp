#pragma once

#include <functional>

namespace sprocketry::cli {

// What `work` returns. Wrong input is no exception anywhere in this program, so one that escapes
// from `work` is a defect: says so on standard error and returns kDefect.
int guarded(const std::function<int()>& work);

}  // namespace sprocketry::cli
