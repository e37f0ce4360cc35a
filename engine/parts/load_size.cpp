#include "parts/limits.hpp"
#include "parts/load_parts.hpp"

namespace sprocketry::parts {

std::optional<model::Box> read_box(Reader& box) {
  const auto length = box.quantity("length", limits::kEdge);
  const auto width = box.quantity("width", limits::kEdge);
  const auto height = box.quantity("height", limits::kEdge);
  box.finish();
  if (!length || !width || !height) return std::nullopt;
  return model::Box{*length, *width, *height};
}

std::optional<model::Cylinder> read_cylinder(Reader& cylinder) {
  const auto diameter = cylinder.quantity("diameter", limits::kEdge);
  const auto length = cylinder.quantity("length", limits::kEdge);
  cylinder.finish();
  if (!diameter || !length) return std::nullopt;
  return model::Cylinder{*diameter, *length};
}

std::optional<model::Body> read_body(Reader& owner, std::string_view key) {
  auto size = owner.optional_map(key);
  if (!size) return std::nullopt;
  if (size->has("diameter")) {
    const auto cylinder = read_cylinder(*size);
    return cylinder ? std::optional(model::body_of(*cylinder)) : std::nullopt;
  }
  const auto box = read_box(*size);
  return box ? std::optional(model::body_of(*box)) : std::nullopt;
}

}  // namespace sprocketry::parts
