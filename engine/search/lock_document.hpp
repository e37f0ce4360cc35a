#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "search/lock.hpp"

namespace sprocketry::search {

// The format of a lock that this program writes; it reads this and older ones.
inline constexpr int kLockVersion = 2;  // 1 had no mark at its end

// A lock as the text of a YAML file.
std::string lock_text(const Lock& lock);

// Reads a lock file. What it lacks because an older version wrote it is left empty; what is wrong
// with it, and a format that is newer than this program, is reported with what to do.
std::optional<Lock> load_lock(const std::filesystem::path& path,
                              document::Diagnostics& diagnostics);

// The command that writes the lock anew from its requirement, when the requirement is where it was.
std::string renewal(const Lock& lock, const std::filesystem::path& lock_file);

}  // namespace sprocketry::search
