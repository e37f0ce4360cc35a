#include "written_files.hpp"

#include <unistd.h>

#include <cerrno>
#include <system_error>

#include "complain.hpp"

namespace sprocketry::cli {
namespace {

namespace fs = std::filesystem;

bool refused(const std::string& path, const std::string& why) {
  complain("'" + path + "' cannot be written: " + why);
  return false;
}

std::string reason() { return std::generic_category().message(errno); }

// Whether one cannot be written without losing the other: the same file, or, where there is none
// yet, the same name. A device or a pipe takes both.
bool collide(const std::string& one, const std::string& other) {
  std::error_code ignored;
  if (fs::exists(one, ignored) && !fs::is_regular_file(one, ignored)) return false;
  if (fs::equivalent(one, other, ignored)) return true;
  const auto target = [&](const std::string& path) {
    return fs::weakly_canonical(fs::absolute(target_of(path).value_or(path), ignored), ignored);
  };
  return target(one) == target(other);
}

}  // namespace

std::optional<fs::path> target_of(const fs::path& path) {
  constexpr int kMostLinks = 40;  // as many as the system follows
  fs::path target = path;
  std::error_code error;
  for (int links = 0; links <= kMostLinks; ++links) {
    if (!fs::is_symlink(target, error)) return target;
    target = target.parent_path() / fs::read_symlink(target, error);
  }
  return std::nullopt;
}

bool can_write(const std::string& path) {
  std::error_code ignored;
  if (path.empty() || fs::is_directory(path, ignored)) {
    complain("'" + path + "' is not a file that can be written; name a file");
    return false;
  }
  const auto target = target_of(path);
  if (!target) return refused(path, std::generic_category().message(ELOOP));
  const fs::path folder = target->has_parent_path() ? target->parent_path() : ".";
  if (!fs::is_directory(folder, ignored)) {
    complain("there is no folder '" + folder.string() + "' to write '" + path + "' into; make it");
    return false;
  }
  if (access(folder.c_str(), W_OK | X_OK) != 0) return refused(path, reason());
  // Its folder would let it be replaced; but who took the right to write from a file meant that.
  if (access(target->c_str(), W_OK) != 0 && errno != ENOENT) return refused(path, reason());
  return true;
}

bool can_write(const WrittenFiles& files) {
  for (const WrittenFile& file : files) {
    if (!file.path) continue;
    if (!can_write(*file.path)) return false;
    for (const WrittenFile& other : files) {
      if (&other == &file) break;
      if (!other.path || !collide(*other.path, *file.path)) continue;
      complain(other.option + " and " + file.option + " name the same file; give each its own");
      return false;
    }
  }
  return true;
}

bool spares(const std::vector<fs::path>& read, const WrittenFiles& files) {
  std::error_code ignored;
  for (const WrittenFile& file : files) {
    for (const fs::path& input : read) {
      if (!file.path || !fs::equivalent(input, *file.path, ignored)) continue;
      complain(file.option + " " + *file.path + " is the file '" + input.string() +
               "' that this reads, which would be lost; name another");
      return false;
    }
  }
  return true;
}

bool spares(const document::Diagnostics& read, const WrittenFiles& files) {
  std::vector<fs::path> inputs;
  for (const document::Source& source : read.sources()) {
    if (!source.file.empty()) inputs.push_back(source.file);
  }
  return spares(inputs, files);
}

}  // namespace sprocketry::cli
