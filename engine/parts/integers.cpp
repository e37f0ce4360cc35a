#include <algorithm>
#include <numeric>

#include "parts/reader.hpp"

namespace sprocketry::parts {

namespace {

std::vector<int> read_range(const document::Node& node, std::string_view name,
                            const IntegerRule& rule, Findings& findings) {
  Reader range(node, node.mark, std::string(name), "`" + std::string(name) + "`", findings);
  const auto from = range.integer("from", rule, std::to_string(rule.min));
  const auto to = range.integer("to", rule, std::to_string(rule.max));
  range.check_ascending("from", from, "to", to, "a range goes from the smaller to the larger");
  range.finish();
  if (!from || !to || *from > *to) return {};
  std::vector<int> values(static_cast<std::size_t>(*to - *from + 1));
  std::iota(values.begin(), values.end(), *from);
  return values;
}

}  // namespace

std::vector<int> read_integers(const document::Node& node, std::string_view name,
                               const IntegerRule& rule, Findings& findings) {
  if (node.kind == document::NodeKind::kMap) return read_range(node, name, rule, findings);
  std::vector<int> values;
  if (node.kind == document::NodeKind::kScalar) {
    if (const auto value = read_integer(node, name, rule, findings)) values.push_back(*value);
    return values;
  }
  const std::string example = "[" + std::to_string(rule.min) + "]";
  const auto* items = read_list(node, name, example, findings);
  if (items == nullptr) return {};
  for (const document::Node& item : *items) {
    if (const auto value = read_integer(item, name, rule, findings)) values.push_back(*value);
  }
  std::ranges::sort(values);
  values.erase(std::unique(values.begin(), values.end()), values.end());
  return values;
}

}  // namespace sprocketry::parts
