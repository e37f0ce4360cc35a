#include "document/yaml_limits.hpp"

#include <array>
#include <string>

#include "document/text.hpp"

namespace sprocketry::document {
namespace {

// In half signs, by byte. A dash counts only as that of a list item.
constexpr std::array<unsigned char, 256> make_weights() {
  std::array<unsigned char, 256> weights{};
  for (const char sign : std::string_view("[]{},:?&*!")) {
    weights[static_cast<unsigned char>(sign)] = 2;
  }
  weights[static_cast<unsigned char>('"')] = 1;
  weights[static_cast<unsigned char>('\'')] = 1;
  return weights;
}

constexpr std::array<unsigned char, 256> kWeights = make_weights();

bool is_item_dash(std::string_view text, std::size_t offset) {
  if (text[offset] != '-') return false;
  return offset + 1 == text.size() || text[offset + 1] == ' ' || text[offset + 1] == '\t' ||
         text[offset + 1] == '\n' || text[offset + 1] == '\r';
}

}  // namespace

bool check_signs(std::string_view text, const Mark& origin, Diagnostics& diagnostics) {
  std::size_t half_signs = 0;
  for (std::size_t offset = 0; offset < text.size(); ++offset) {
    half_signs += kWeights[static_cast<unsigned char>(text[offset])];
    if (is_item_dash(text, offset)) half_signs += 2;
    if (half_signs <= 2 * kMaxSigns) continue;
    diagnostics.error(LineIndex(text, origin).mark(offset),
                      "this holds more than " + std::to_string(kMaxSigns) +
                          " brackets, commas, colons and other signs of structure",
                      "keep long lists of parts in CSV files, or split the file");
    return false;
  }
  return true;
}

bool check_directives(std::string_view text, const Mark& origin, Diagnostics& diagnostics) {
  constexpr std::string_view kVersion = "%YAML ";
  bool ahead = true;  // nothing but directives, comments and blank lines so far
  for (std::size_t at = 0; at < text.size(); at = skip_line_end(text, line_end(text, at))) {
    if (text[at] == '%') {
      if (ahead && text.substr(at, kVersion.size()) == kVersion) continue;
      diagnostics.error(LineIndex(text, origin).mark(at), "a line cannot begin with '%' here",
                        "put the text in double quotes; directives but %YAML are not allowed");
      return false;
    }
    const std::size_t first = text.find_first_not_of(" \t", at);
    ahead = ahead && (first == std::string_view::npos || text[first] == '#' ||
                      text[first] == '\n' || text[first] == '\r');
  }
  return true;
}

}  // namespace sprocketry::document
