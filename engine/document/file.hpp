#pragma once

#include <filesystem>
#include <string>

#include "document/diagnostics.hpp"
#include "document/node.hpp"

namespace sprocketry::document {

// Reads a whole file of at most `most` bytes and keeps it under `shown_name`. A file that is
// missing, is a folder, a pipe or a device, cannot be read or is too large is reported at
// `mentioned`, the place that names it; without such a place, under its own name. Returns null when
// it reported.
const Source* read_file(const std::filesystem::path& path, const std::string& shown_name,
                        const Mark& mentioned, Diagnostics& diagnostics,
                        std::size_t most = kMaxFileSize);

}  // namespace sprocketry::document
