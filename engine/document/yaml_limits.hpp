#pragma once

#include <cstddef>
#include <string_view>

#include "document/diagnostics.hpp"

namespace sprocketry::document {

// Signs of structure that a document may hold: brackets, braces, commas, colons, dashes of list
// items, '?', '&', '*' and '!'; a quote counts half.
inline constexpr std::size_t kMaxSigns = 1'000'000;

// Whether the text stays within kMaxSigns, wherever the signs stand; reports it otherwise. The YAML
// parser keeps up to 240 bytes for every sign of a bracket that is not closed yet (measured: 4 GB
// for 16 MiB of '['), and no value can be written without one, so this bounds memory and time.
bool check_signs(std::string_view text, const Mark& origin, Diagnostics& diagnostics);

// Whether no line begins with '%' but a %YAML directive ahead of the document; reports the first
// that does. The parser takes such a line for a directive anywhere, and passes over it in silence.
bool check_directives(std::string_view text, const Mark& origin, Diagnostics& diagnostics);

}  // namespace sprocketry::document
