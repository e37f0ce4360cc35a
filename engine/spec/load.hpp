#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "document/node.hpp"
#include "parts/catalogue.hpp"
#include "parts/load.hpp"
#include "parts/values.hpp"
#include "spec/requirement.hpp"

namespace sprocketry::spec {

// A requirement with the catalogue of its parts files; what every command works on.
struct Job {
  Requirement requirement;
  parts::Catalogue catalogue;
};

// What a job was loaded from.
struct WrittenJob {
  document::Node requirement;   // overrides applied
  std::filesystem::path trace;  // of the ride; empty when it is not a file
  parts::WrittenParts parts;
  std::vector<parts::Input> inputs;  // every number that was read, by path; each path once
};

// Another value for one key ("must.top_speed.min=80 km/h"), and the option that was typed for it.
struct Override {
  std::string assignment;
  std::string_view option = "--set";
};

// Reads a requirement file, applies overrides ("must.top_speed.min=80 km/h"), reads its parts files
// (relative to it) and checks that everything the requirement names exists. All that is wrong is
// reported in one run; nothing is returned when there was an error.
std::optional<Job> load_job(const std::filesystem::path& path,
                            const std::vector<std::string>& overrides,
                            document::Diagnostics& diagnostics, WrittenJob* written = nullptr);
// The same with overrides that were not typed as --set.
std::optional<Job> load_overridden(const std::filesystem::path& path,
                                   const std::vector<Override>& overrides,
                                   document::Diagnostics& diagnostics,
                                   WrittenJob* written = nullptr);

// A requirement that is kept inside another document, with parts as they once were.
struct KeptJob {
  const document::Node& requirement;
  const std::vector<parts::WrittenPart>& parts;
  const document::Source* trace = nullptr;  // the text of the ride, when it was a file
  std::filesystem::path folder;             // that files are relative to, and as it is shown
  std::filesystem::path shown_folder;
};
enum class PartsFrom { kKept, kFiles };

// Loads such a requirement: with the kept parts alone, or with today's parts files and of the kept
// parts those whose names the files no longer have. What `owned` and `choose` name need not exist,
// and `spread` is passed over. Values in `replaced` take the place of what is read.
std::optional<Job> load_kept_job(const KeptJob& kept, PartsFrom from,
                                 document::Diagnostics& diagnostics,
                                 parts::WrittenParts* written = nullptr,
                                 const parts::Replaced* replaced = nullptr);

// The parts files that a file stands for: those that a requirement names, or the file itself when
// it is a parts file. Errors as in load_job(); a parts file takes no overrides.
std::vector<parts::PartsFile> parts_files_of(const std::filesystem::path& path,
                                             const std::vector<std::string>& overrides,
                                             document::Diagnostics& diagnostics);

}  // namespace sprocketry::spec
