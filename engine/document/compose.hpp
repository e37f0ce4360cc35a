#pragma once

#include <optional>
#include <string_view>

#include "document/node.hpp"

namespace sprocketry::document {

// compose() for a text that stands inside another one (a CSV cell, the value of an override):
// `origin` is the mark of its first character. An empty text gives an empty node without an error.
std::optional<Node> compose_fragment(std::string_view text, const Mark& origin,
                                     Diagnostics& diagnostics);

}  // namespace sprocketry::document
