#pragma once

#include <functional>

namespace sprocketry::cli {

// What `work` returns. Memory or threads that the system does not grant are said on standard error:
// kStopped. Wrong input is no exception anywhere in this program, so any other that escapes from
// `work` is a defect: says so on standard error and returns kDefect.
int guarded(const std::function<int()>& work);

}  // namespace sprocketry::cli
