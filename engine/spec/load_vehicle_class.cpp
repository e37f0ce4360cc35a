#include <algorithm>

#include "spec/limits.hpp"
#include "spec/load_sections.hpp"
#include "spec/vehicle_class.hpp"

namespace sprocketry::spec {
namespace {

namespace rule = limits::must;

std::optional<VehicleClass> named_class(Reader& must, const std::string& name) {
  const auto classes = vehicle_classes();
  const auto known =
      std::ranges::find_if(classes, [&](const VehicleClass& c) { return c.name == name; });
  if (known != classes.end()) return *known;
  std::string names;
  for (const VehicleClass& c : classes) names += (names.empty() ? "" : ", ") + c.name;
  must.error("vehicle_class", "no vehicle class `" + name + "` is known",
             "name one of " + names +
                 ", or write your own as {name: my class, top_speed: 45 km/h, power: 4 kW}");
  return {};
}

std::optional<VehicleClass> own_class(Reader& must) {
  auto map = must.optional_map("vehicle_class", "`vehicle_class`");
  if (!map) return {};
  VehicleClass own;
  own.name = map->text("name", "moped").value_or("");
  own.top_speed = map->optional_quantity("top_speed", limits::riding::kSpeed);
  own.power = map->optional_quantity("power", rule::kClassPower);
  own.power_per_mass = map->optional_quantity("power_per_mass", rule::kClassPowerPerMass);
  if (map->is_map() && !map->has("top_speed") && !map->has("power") &&
      !map->has("power_per_mass")) {
    must.error("vehicle_class", "`vehicle_class` limits nothing",
               "give `top_speed`, `power` or `power_per_mass`");
  }
  map->finish();
  return own;
}

}  // namespace

void read_vehicle_class(Reader& must, Demands& demands) {
  const document::Node* node = must.take("vehicle_class");
  if (node == nullptr) return;
  demands.vehicle_class =
      node->kind == document::NodeKind::kScalar ? named_class(must, node->scalar) : own_class(must);
}

}  // namespace sprocketry::spec
