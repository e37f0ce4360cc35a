#pragma once

#include <filesystem>
#include <string>
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

// An entry of a list of parts as it was written.
struct WrittenPart {
  std::string list;  // "motors"
  std::string name;  // its id, a tyre's size; "" when it has none
  document::Node node;
};

// What was read, for whoever keeps or compares it: every entry in the order of reading, and the
// files (parts files, tables).
struct WrittenParts {
  std::vector<WrittenPart> entries;
  std::vector<std::filesystem::path> files;

  // The entry of that list and name, or nullptr.
  [[nodiscard]] const WrittenPart* find(std::string_view list, std::string_view name) const;
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
