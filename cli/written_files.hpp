#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "document/diagnostics.hpp"

namespace sprocketry::cli {

// A file that a command is to write, as the person named it, and the option that names it. Without
// a path the option was not given.
struct WrittenFile {
  std::string option;
  std::optional<std::string> path;
};
using WrittenFiles = std::vector<WrittenFile>;

// The file that a path stands for: of links, also of one to a file that is not there yet, what the
// last one names. Nothing where links lead in a circle.
std::optional<std::filesystem::path> target_of(const std::filesystem::path& path);

// Whether a file may be written there: its folder exists and can be written to, and so can the
// file if there is one. If not, says why on standard error.
bool can_write(const std::string& path);

// Whether each can be written, to a place of its own. If not, says why on standard error.
bool can_write(const WrittenFiles& files);

// Whether none would take the place of one of these, under whatever name or link. If one would,
// says so on standard error: what was read is somebody's work, which no answer may replace.
bool spares(const std::vector<std::filesystem::path>& read, const WrittenFiles& files);
// Of all files that were read into `read`.
bool spares(const document::Diagnostics& read, const WrittenFiles& files);

}  // namespace sprocketry::cli
