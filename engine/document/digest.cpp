#include "document/digest.hpp"

#include <openssl/evp.h>

#include <array>
#include <memory>
#include <stdexcept>

#include "document/file.hpp"

namespace sprocketry::document {
namespace {

[[noreturn]] void fail() { throw std::runtime_error("the library of digests gives no SHA-256"); }

// One computation of the library's.
class Digest {
 public:
  Digest() : context_(EVP_MD_CTX_new(), &EVP_MD_CTX_free) {
    if (!context_ || EVP_DigestInit_ex(context_.get(), EVP_sha256(), nullptr) != 1) fail();
  }
  void add(std::string_view bytes) {
    if (EVP_DigestUpdate(context_.get(), bytes.data(), bytes.size()) != 1) fail();
  }
  std::string text() {
    std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
    unsigned int length = 0;
    if (EVP_DigestFinal_ex(context_.get(), digest.data(), &length) != 1) fail();
    constexpr std::string_view kDigits = "0123456789abcdef";
    std::string text;
    for (unsigned int i = 0; i < length; ++i) {
      text += kDigits[digest[i] >> 4U];
      text += kDigits[digest[i] & 15U];
    }
    return text;
  }

 private:
  std::unique_ptr<EVP_MD_CTX, decltype(&EVP_MD_CTX_free)> context_;
};

}  // namespace

std::string sha256(std::string_view bytes) {
  Digest digest;
  digest.add(bytes);
  return digest.text();
}

std::string sha256_of_all(std::span<const std::string_view> texts) {
  Digest digest;
  for (const std::string_view text : texts) {
    digest.add(std::to_string(text.size()) + ':');
    digest.add(text);
  }
  return digest.text();
}

std::optional<std::string> sha256_of_file(const std::filesystem::path& path) {
  Diagnostics ignored;
  const Source* source = read_file(path, path.string(), {}, ignored);
  if (source == nullptr) return std::nullopt;
  return sha256(source->text);
}

}  // namespace sprocketry::document
