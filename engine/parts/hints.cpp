#include "parts/hints.hpp"

#include <algorithm>
#include <cstddef>

namespace sprocketry::parts {

using document::Node;
using document::NodeKind;

std::string map_hint(const Node& found, std::string_view key, std::string_view example) {
  constexpr std::size_t kLongest = 40;
  if (example.empty()) return "write one `key: value` a line, or {key: value, key: value}";
  std::string value(example);
  const bool one_key = example.find(',') == std::string_view::npos;
  if (one_key && found.kind == NodeKind::kScalar && found.scalar.size() <= kLongest) {
    value = std::string(example.substr(0, example.find(':'))) + ": " + found.scalar + "}";
  }
  return "write `" + std::string(key) + ": " + value + "`";
}

std::string comma_hint(const document::Entry& before, const document::Entry& entry) {
  const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
  const std::string& value = before.value.scalar;
  if (entry.value.kind != NodeKind::kEmpty || entry.key.empty() || value.empty()) return "";
  if (before.value.quoted || !is_digit(value.back()) || !is_digit(entry.key.front())) return "";
  constexpr std::ptrdiff_t kThousands = 3;
  const auto digits = std::ranges::find_if_not(entry.key, is_digit) - entry.key.begin();
  const std::string point = "`" + before.key + ": " + value + "." + entry.key + "`";
  if (digits != kThousands) return "a comma ends a value here: write " + point;
  return "a comma ends a value here: write `" + before.key + ": " + value + entry.key + "`, or " +
         point + " if it stands before decimals";
}

std::string table_hint(const std::string& column, std::string_view example) {
  const bool is_map = example.starts_with('{');
  const bool is_whole = is_map || example.starts_with('[');
  const std::string quote = is_whole ? "\"" : "";
  std::string text = "fill the column `" + column + "` of this row, for example with " + quote +
                     std::string(example) + quote;
  if (is_whole) text += ", quotes included";
  if (!is_map) return text;
  return text + ", or columns such as `" + column + "." +
         std::string(example.substr(1, example.find(':') - 1)) + "`";
}

}  // namespace sprocketry::parts
