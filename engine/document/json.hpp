#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "document/diagnostics.hpp"

namespace sprocketry::document {

enum class JsonKind { kNull, kFlag, kNumber, kText, kList, kObject };

// A value of a JSON document, and where it was written.
struct JsonNode {
  JsonKind kind = JsonKind::kNull;
  std::string key;                 // in an object; else empty
  std::string text;                // kText: what it says; kNumber and kFlag: as it was written
  std::string_view raw;            // its bytes in the source
  std::vector<JsonNode> children;  // of a list or an object, in written order

  // The member of that name in an object, or nullptr.
  [[nodiscard]] const JsonNode* find(std::string_view name) const;
};

// Reads one JSON document (RFC 8259). The items of the root's list `closed` are checked too, but of
// each only those members are kept that are no list and no object, so that a document of hundreds
// of megabytes takes little memory. Refused with a diagnostic: what is no JSON, an end in the
// middle, the same name twice in an object that is kept, nesting beyond kMaxNesting. Returns
// nothing when it added an error. The source must outlive the nodes.
std::optional<JsonNode> compose_json(const Source& source, std::string_view closed,
                                     Diagnostics& diagnostics);

// Where a value begins.
Mark mark_of(const JsonNode& node, const Source& source);

}  // namespace sprocketry::document
