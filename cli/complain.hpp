#pragma once

#include <string_view>

namespace sprocketry::cli {

// "sprocketry: TEXT" on standard error. Of what a person typed, bytes that could move a cursor or
// colour a terminal are shown as U+FFFD.
void complain(std::string_view text);

}  // namespace sprocketry::cli
