#pragma once

#include <optional>
#include <string_view>

#include "parts/catalogue.hpp"

namespace sprocketry::spec {

// What an id of the catalogue names, for messages about an id in the wrong place.
struct PartKind {
  std::string_view name;       // "a controller"
  std::string_view chosen_by;  // "write it under `controller`"
};

// The kind of the part of that id, or nothing when no part has it. Packs generated from cells have
// no entry of their own and count as unknown.
std::optional<PartKind> part_kind(const parts::Catalogue& catalogue, std::string_view id);

}  // namespace sprocketry::spec
