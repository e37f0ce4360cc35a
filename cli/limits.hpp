#pragma once

#include <chrono>
#include <optional>
#include <string>

namespace sprocketry::cli {

// Reads --near, a share above 0 and at most a half, 0 when it is not given; nothing, with a word on
// standard error, when it is no such share.
std::optional<double> read_near(const std::optional<std::string>& text);

// Reads --time-limit into `limit`; false, with a word on standard error, when it is none.
bool read_limit(const std::optional<std::string>& text,
                std::optional<std::chrono::duration<double>>& limit);

}  // namespace sprocketry::cli
