#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "document/diagnostics.hpp"

namespace sprocketry::document {

enum class NodeKind { kEmpty, kScalar, kList, kMap };

struct Entry;

// A located value of a document: what was written and where. Values stay text; whoever knows the
// meaning of a key turns it into a quantity.
struct Node {
  NodeKind kind = NodeKind::kEmpty;
  Mark mark;
  std::string scalar;          // kScalar: the text
  bool quoted = false;         // kScalar: written in quotes or as a block
  std::vector<Node> items;     // kList
  std::vector<Entry> entries;  // kMap, in written order, keys unique

  // The value of `key` in a map, or nullptr.
  [[nodiscard]] const Node* find(std::string_view key) const;
};

struct Entry {
  std::string key;
  Mark key_mark;
  Node value;
};

inline constexpr std::size_t kMaxFileSize = std::size_t{16} << 20;  // bytes
inline constexpr std::size_t kMaxNesting = 64;

// Reads one YAML document (YAML 1.2 core subset: maps with scalar keys, lists, scalars). Refused
// with a diagnostic that says what to do: duplicate keys (both places shown), aliases and anchors,
// tags, more than one document, merge keys, non-scalar keys, nesting beyond kMaxNesting, text
// beyond kMaxFileSize, bytes that are not UTF-8, control characters. Returns nothing when it added
// an error.
std::optional<Node> compose(const Source& source, Diagnostics& diagnostics);

// Reads a file whole and composes it. A file that is missing, is a folder, cannot be read or is too
// large is reported at `mentioned` (the place that names it), or without a place.
std::optional<Node> load_yaml(const std::filesystem::path& path, const std::string& shown_name,
                              const Mark& mentioned, Diagnostics& diagnostics);

// Replaces or adds the value at a dotted path ("must.top_speed.min", "cruise.0"); `value_text` is
// composed as YAML. Intermediate maps are made; a list index must exist or be one past the end.
// Errors point into a source named "--set PATH=VALUE", or by the option that was typed in its
// place.
void set_path(Node& root, const std::string& assignment, Diagnostics& diagnostics,
              std::string_view option = "--set");

}  // namespace sprocketry::document
