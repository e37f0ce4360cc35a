#pragma once

#include <string_view>

#include "document/diagnostics.hpp"

namespace sprocketry::document {

// Whether the bytes are text that a parser may see: at most kMaxFileSize of them, UTF-8 (a byte
// order mark may lead), no control characters except tab, LF and CR. Reports the first offence.
// `origin` is the mark of the first byte.
bool check_text(std::string_view text, const Mark& origin, Diagnostics& diagnostics);

}  // namespace sprocketry::document
