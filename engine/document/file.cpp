#include "document/file.hpp"

#include <algorithm>
#include <cerrno>
#include <cstdint>
#include <cstdio>
#include <memory>
#include <system_error>
#include <utility>

#include "document/large_pages.hpp"
#include "document/node.hpp"

namespace sprocketry::document {
namespace {

namespace fs = std::filesystem;

struct Reading {
  std::string text;
  std::string problem;  // empty: read
  std::string hint;
};

std::string reason(int error_number) { return std::generic_category().message(error_number); }

Reading read_open(std::FILE* file, std::size_t expected, std::size_t most) {
  Reading reading;
  reading.text.reserve(expected);
  wish_large_pages(reading.text.data(), expected);
  std::string chunk(std::size_t{1} << 16U, '\0');
  while (reading.text.size() <= most) {
    errno = 0;
    const std::size_t got = std::fread(chunk.data(), 1, chunk.size(), file);
    reading.text.append(chunk, 0, got);
    if (got == chunk.size()) continue;
    if (std::ferror(file) != 0) reading.problem = "cannot be read: " + reason(errno);
    return reading;
  }
  reading.problem = "is larger than " + std::to_string(most >> 20U) + " MiB";
  reading.hint = "split it, or check that this is the file you meant";
  return reading;
}

Reading read(const fs::path& path, std::size_t most) {
  std::error_code failure;
  const fs::file_status status = fs::status(path, failure);
  if (status.type() == fs::file_type::not_found) {
    return {{}, "does not exist", "check the name and the folder"};
  }
  if (status.type() == fs::file_type::none) {
    return {{}, "cannot be read: " + failure.message(), {}};
  }
  if (fs::is_directory(status)) return {{}, "is a folder, not a file", "name a file in it"};
  // A pipe without a writer would be waited for without end.
  if (!fs::is_regular_file(status)) {
    return {{}, "is a pipe or a device, not a file", "save it as a file and name that"};
  }
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file(std::fopen(path.c_str(), "rb"),
                                                             &std::fclose);
  if (!file) return {{}, "cannot be read: " + reason(errno), "check its permissions"};
  const std::uintmax_t size = fs::file_size(path, failure);
  return read_open(file.get(),
                   failure ? 0 : static_cast<std::size_t>(std::min<std::uintmax_t>(size, most)),
                   most);
}

}  // namespace

const Source* read_file(const fs::path& path, const std::string& shown_name, const Mark& mentioned,
                        Diagnostics& diagnostics, std::size_t most) {
  Reading reading = read(path, most);
  if (reading.problem.empty()) {
    return &diagnostics.add_source(shown_name, std::move(reading.text), path);
  }
  if (mentioned.source != nullptr) {
    if (!reading.hint.empty()) reading.hint += "; it is looked up from the folder of this file";
    diagnostics.error(mentioned, "the file '" + shown_name + "' " + reading.problem,
                      std::move(reading.hint));
  } else {
    const Source& nameless = diagnostics.add_source(shown_name, {});
    diagnostics.error({&nameless, 0, 0}, "the file " + reading.problem, std::move(reading.hint));
  }
  return nullptr;
}

}  // namespace sprocketry::document
