#include "document/emit.hpp"

#include <yaml-cpp/emitter.h>
#include <yaml-cpp/emittermanip.h>

#include <algorithm>
#include <array>

namespace sprocketry::document {
namespace {

bool is_letter_or_digit(char c) {
  return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
}

// Whether a text reads back as itself without quotes, anywhere in a document. Stricter than the
// standard: what is in doubt is quoted.
bool is_plain(std::string_view text) {
  constexpr std::string_view kSafe = " ./%()+-_*";
  constexpr std::array<std::string_view, 3> kNulls = {"null", "Null", "NULL"};
  if (text.empty() || text.back() == ' ' || text.back() == '-') return false;
  const bool negative = text.size() > 1 && text[0] == '-' && text[1] >= '0' && text[1] <= '9';
  if (!is_letter_or_digit(text.front()) && !negative) return false;
  if (std::ranges::find(kNulls, text) != kNulls.end()) return false;
  return std::ranges::all_of(text, [&](char c) {
    return is_letter_or_digit(c) || kSafe.find(c) != std::string_view::npos;
  });
}

// How long a tree is on one line, about.
std::size_t length_of(const Node& node) {
  std::size_t length = node.scalar.size() + 2;
  for (const Node& item : node.items) length += length_of(item) + 2;
  for (const Entry& entry : node.entries) length += entry.key.size() + 2 + length_of(entry.value);
  return length;
}

void emit_text(YAML::Emitter& out, const std::string& text, bool quoted) {
  if (quoted || !is_plain(text)) out << YAML::DoubleQuoted;
  out << text;
}

// `on_line`: whatever holds this stands on one line.
void emit(YAML::Emitter& out, const Node& node, std::size_t depth, bool on_line) {
  constexpr std::size_t kLongestLine = 96;
  const bool flow = on_line || (depth > 0 && length_of(node) + 2 * depth <= kLongestLine);
  switch (node.kind) {
    case NodeKind::kEmpty:
      out << YAML::Null;
      return;
    case NodeKind::kScalar:
      emit_text(out, node.scalar, node.quoted);
      return;
    case NodeKind::kList:
      if (flow || node.items.empty()) out << YAML::Flow;
      out << YAML::BeginSeq;
      for (const Node& item : node.items) emit(out, item, depth + 1, flow);
      out << YAML::EndSeq;
      return;
    case NodeKind::kMap:
      if (flow || node.entries.empty()) out << YAML::Flow;
      out << YAML::BeginMap;
      for (const Entry& entry : node.entries) {
        out << YAML::Key;
        emit_text(out, entry.key, false);
        out << YAML::Value;
        emit(out, entry.value, depth + 1, flow);
      }
      out << YAML::EndMap;
      return;
  }
}

}  // namespace

Node make_map() {
  Node node;
  node.kind = NodeKind::kMap;
  return node;
}

Node make_list() {
  Node node;
  node.kind = NodeKind::kList;
  return node;
}

Node make_scalar(std::string text, bool quoted) {
  Node node;
  node.kind = NodeKind::kScalar;
  node.scalar = std::move(text);
  node.quoted = quoted;
  return node;
}

void add(Node& map, std::string key, Node value) {
  map.entries.push_back({std::move(key), {}, std::move(value)});
}

void add(Node& map, std::string key, std::string value) {
  add(map, std::move(key), make_scalar(std::move(value)));
}

std::string to_yaml(const Node& root) {
  YAML::Emitter out;
  emit(out, root, 0, false);
  return std::string(out.c_str(), out.size()) + '\n';
}

std::string flow_text(const Node& node) {
  std::string text;
  switch (node.kind) {
    case NodeKind::kEmpty:
      return "nothing";
    case NodeKind::kScalar:
      return node.scalar;
    case NodeKind::kList:
      for (const Node& item : node.items) text += (text.empty() ? "" : ", ") + flow_text(item);
      return '[' + text + ']';
    case NodeKind::kMap:
      for (const Entry& entry : node.entries) {
        text += (text.empty() ? "" : ", ") + entry.key + ": " + flow_text(entry.value);
      }
      break;
  }
  return '{' + text + '}';
}

bool same_tree(const Node& a, const Node& b) {
  if (a.kind != b.kind || a.scalar != b.scalar) return false;
  const auto same_entry = [&](const Entry& entry) {
    const Node* other = b.find(entry.key);
    return other != nullptr && same_tree(entry.value, *other);
  };
  return std::ranges::equal(a.items, b.items, same_tree) && a.entries.size() == b.entries.size() &&
         std::ranges::all_of(a.entries, same_entry);
}

}  // namespace sprocketry::document
