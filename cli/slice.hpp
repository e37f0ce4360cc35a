#pragma once

#include <optional>
#include <string>

#include "document/diagnostics.hpp"
#include "options.hpp"
#include "search/slice.hpp"

namespace sprocketry::cli {

// Reads --slice ("3/16"); nothing, with a word on standard error, when it is none.
std::optional<search::Slice> read_slice(const std::string& text);

// A digest of all that an answer depends on: this program's version, every file that was read, the
// overrides and what is shown of each design.
std::string question_digest(const document::Diagnostics& read, const JobOptions& job,
                            const std::string& rules);

}  // namespace sprocketry::cli
