#pragma once

#include <optional>

#include "model/chain_line.hpp"
#include "rules/rule.hpp"

namespace sprocketry::rules {

// The chain line of a combination, or the field that it lacks.
struct LineUp {
  std::optional<model::ChainLineFit> fit;
  const char* missing = nullptr;
};
LineUp line_up(const Context& context);

}  // namespace sprocketry::rules
