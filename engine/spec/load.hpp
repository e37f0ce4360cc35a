#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "document/node.hpp"
#include "parts/catalogue.hpp"
#include "parts/load.hpp"
#include "spec/requirement.hpp"

namespace sprocketry::spec {

// A requirement with the catalogue of its parts files; what every command works on.
struct Job {
  Requirement requirement;
  parts::Catalogue catalogue;
};

// Reads a requirement file, applies overrides ("must.top_speed.min=80 km/h"), reads its parts files
// (relative to it) and checks that everything the requirement names exists. All that is wrong is
// reported in one run; nothing is returned when there was an error.
std::optional<Job> load_job(const std::filesystem::path& path,
                            const std::vector<std::string>& overrides,
                            document::Diagnostics& diagnostics);

// The parts files that a file stands for: those that a requirement names, or the file itself when
// it is a parts file. Errors as in load_job(); a parts file takes no overrides.
std::vector<parts::PartsFile> parts_files_of(const std::filesystem::path& path,
                                             const std::vector<std::string>& overrides,
                                             document::Diagnostics& diagnostics);

}  // namespace sprocketry::spec
