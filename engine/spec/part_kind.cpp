#include "spec/part_kind.hpp"

#include <algorithm>

namespace sprocketry::spec {
namespace {

template <typename Part>
bool holds(const std::vector<Part>& parts, std::string_view id) {
  return std::ranges::any_of(parts, [&](const Part& part) { return part.id == id; });
}

}  // namespace

std::optional<PartKind> part_kind(const parts::Catalogue& catalogue, std::string_view id) {
  if (holds(catalogue.motors, id)) return {{"a motor", "write it under `motor`"}};
  if (holds(catalogue.controllers, id)) return {{"a controller", "write it under `controller`"}};
  if (holds(catalogue.cells, id)) {
    return {{"a cell", "write it under `pack: {cells: [...], series: [...]}`"}};
  }
  if (holds(catalogue.packs, id)) return {{"a pack", "write it under `pack: [...]`"}};
  if (holds(catalogue.chargers, id)) return {{"a charger", "write it under `charger`"}};
  if (holds(catalogue.chains, id)) return {{"a chain", "write it under `chain`"}};
  if (holds(catalogue.front_sprockets, id)) {
    return {{"a front sprocket", "write it under `front_sprocket`"}};
  }
  if (holds(catalogue.rear_sprockets, id)) {
    return {{"a rear sprocket", "write it under `rear_sprocket`"}};
  }
  if (holds(catalogue.extras, id)) {
    return {{"an extra", "leave it out: extras come with what they are needed for"}};
  }
  return {};
}

}  // namespace sprocketry::spec
