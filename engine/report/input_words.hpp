#pragma once

#include <string>
#include <string_view>

#include "parts/values.hpp"

namespace sprocketry::report {

// What riders call an input ("drag area of bike and rider", "resistance of hollin-48"), and how it
// is measured or found out; "" where there is nothing to say.
struct InputWords {
  std::string name;
  std::string_view how;
};
InputWords words_of(const parts::Input& input);

// Whether it can be measured at all; conditions are what the weather makes of them.
bool is_measured(const parts::Input& input);

// Its value as a person writes it: "0.6 m2", "0.018".
std::string value_text(const parts::Input& input);

}  // namespace sprocketry::report
