#include "document/node.hpp"

#include <algorithm>

#include "document/file.hpp"

namespace sprocketry::document {

const Node* Node::find(std::string_view key) const {
  const auto at = std::find_if(entries.begin(), entries.end(),
                               [key](const Entry& entry) { return entry.key == key; });
  return at == entries.end() ? nullptr : &at->value;
}

std::optional<Node> load_yaml(const std::filesystem::path& path, const std::string& shown_name,
                              const Mark& mentioned, Diagnostics& diagnostics) {
  const Source* const source = read_file(path, shown_name, mentioned, diagnostics);
  if (source == nullptr) return std::nullopt;
  return compose(*source, diagnostics);
}

}  // namespace sprocketry::document
