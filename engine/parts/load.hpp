#pragma once

#include <filesystem>
#include <vector>

#include "document/node.hpp"
#include "parts/catalogue.hpp"

namespace sprocketry::parts {

// A parts file to read: where it is, how the person named it, and the place that names it.
struct PartsFile {
  std::filesystem::path path;
  std::string shown_name;
  document::Mark mentioned;
};

// Reads and merges parts files (YAML; any list may name a CSV file instead, relative to the parts
// file). Everything wrong is reported, all files in one run: unknown keys, wrong units, values out
// of range, an id used twice (across lists and files) with both places. The catalogue's lists are
// sorted by id, so the order of files and entries does not matter. Implausible combinations of a
// part's own numbers become warnings when `check_plausibility`. Look at diagnostics.has_errors()
// before use.
Catalogue load_catalogue(const std::vector<PartsFile>& files, bool check_plausibility,
                         document::Diagnostics& diagnostics);

}  // namespace sprocketry::parts
