#include "document/digest.hpp"

#include <openssl/evp.h>

#include <array>
#include <stdexcept>

#include "document/file.hpp"

namespace sprocketry::document {

std::string sha256(std::string_view bytes) {
  std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
  unsigned int length = 0;
  if (EVP_Digest(bytes.data(), bytes.size(), digest.data(), &length, EVP_sha256(), nullptr) != 1) {
    throw std::runtime_error("the library of digests gives no SHA-256");
  }
  constexpr std::string_view kDigits = "0123456789abcdef";
  std::string text;
  for (unsigned int i = 0; i < length; ++i) {
    text += kDigits[digest[i] >> 4U];
    text += kDigits[digest[i] & 15U];
  }
  return text;
}

std::optional<std::string> sha256_of_file(const std::filesystem::path& path) {
  Diagnostics ignored;
  const Source* source = read_file(path, path.string(), {}, ignored);
  if (source == nullptr) return std::nullopt;
  return sha256(source->text);
}

}  // namespace sprocketry::document
