#pragma once

#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace sprocketry::document {

// SHA-256 (FIPS 180-4) of some bytes, as 64 hexadecimal digits.
std::string sha256(std::string_view bytes);

// The same of several texts, each with its length before it: other texts give another digest, also
// when they are the same bytes one after the other.
std::string sha256_of_all(std::span<const std::string_view> texts);

// SHA-256 of a whole file; nothing when it cannot be read.
std::optional<std::string> sha256_of_file(const std::filesystem::path& path);

}  // namespace sprocketry::document
