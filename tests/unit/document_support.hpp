#pragma once

#include <gtest/gtest.h>

#include <optional>
#include <string>

#include "document/node.hpp"

namespace sprocketry::document {

// A text composed under the name "bike.yaml", with what was found in it.
struct Composed {
  Diagnostics diagnostics;
  std::optional<Node> root;

  explicit Composed(const std::string& text) {
    root = compose(diagnostics.add_source("bike.yaml", text), diagnostics);
  }

  // The first finding, which must exist.
  [[nodiscard]] const Diagnostic& first() const { return diagnostics.all().at(0); }
};

// A tree on one line: maps in {}, lists in [], empty values as ~, texts as they are and quoted ones
// in quotes.
inline std::string outline(const Node& node) {
  std::string text;
  switch (node.kind) {
    case NodeKind::kEmpty:
      return "~";
    case NodeKind::kScalar:
      return node.quoted ? '"' + node.scalar + '"' : node.scalar;
    case NodeKind::kList:
      for (const Node& item : node.items) text += (text.empty() ? "" : ", ") + outline(item);
      return "[" + text + "]";
    case NodeKind::kMap:
      for (const Entry& entry : node.entries) {
        text += (text.empty() ? "" : ", ") + entry.key + ": " + outline(entry.value);
      }
      return "{" + text + "}";
  }
  return text;
}

inline std::string place(const Mark& mark) {
  return std::to_string(mark.line) + ":" + std::to_string(mark.column);
}

}  // namespace sprocketry::document
