#include "model/tyre.hpp"
#include "parts/tyre_size.hpp"
#include "spec/limits.hpp"
#include "spec/load_sections.hpp"

namespace sprocketry::spec {
namespace {

namespace rule = limits::road_load;

struct Regulation {
  std::string_view name;
  model::RegulationLoad law;
};
constexpr Regulation kRegulations[] = {
    {"cfr-86.529-98", model::RegulationLoad::kCfr40Part86},
    {"un-gtr-2", model::RegulationLoad::kUnGtr2},
};

// Drag area by posture and rolling resistance.
model::RoadLoad read_coefficients(Reader& bike) {
  model::RoadLoad load;
  const document::Node* posture = bike.take("posture");
  std::optional<std::size_t> stated;
  if (posture != nullptr) {
    stated = parts::read_choice(*posture, "posture", {"upright", "crouched"}, bike.findings());
  }
  const bool crouched = stated == std::size_t{1};
  if (!bike.has("posture") && !bike.has("drag_area")) {
    bike.record_default("posture", "upright", kCommonPractice);
  }
  load.drag_area = bike.quantity_or(
      "drag_area", limits::bike::kDragArea, crouched ? "0.45 m2" : "0.60 m2",
      crouched ? "crouched: Foale; Cossalter: 0.35 to 0.45 m2 (from memory)"
               : "upright: Cossalter, Motorcycle Dynamics: 0.45 to 0.60 m2 (from memory)");
  load.rolling_resistance =
      bike.number_or("rolling_resistance", limits::bike::kRollingResistance, "0.018",
                     "Cossalter, Motorcycle Dynamics, ch. 2: 0.0185 at 2.2 bar and 50 km/h "
                     "(from memory)");
  return load;
}

// The air of a coast-down: 0 when not stated, which stands for that of the requirement.
double coast_down_density(Reader& map) {
  if (!map.has("air") && !map.has("altitude")) {
    map.take("air");
    map.take("altitude");
    map.record_default("air", "that of `conditions`", kCommonPractice);
    return 0;
  }
  const double air = map.quantity_or("air", limits::conditions::kAir, "20 degC", kCommonPractice);
  const double altitude =
      map.quantity_or("altitude", limits::conditions::kAltitude, "0 m", kCommonPractice);
  return model::air_density(altitude, air);
}

// The total mass of a coast-down: 0 when not stated, which stands for that of each design.
double coast_down_mass(Reader& map) {
  if (!map.has("mass")) map.record_default("mass", "that of each design", kCommonPractice);
  return map.optional_quantity("mass", rule::kMass).value_or(0);
}

model::RoadLaw read_coast_down(Reader& bike) {
  auto map = bike.optional_map("road_load", "`road_load`");
  model::CoastDown law;
  law.f0 = map->quantity("f0", rule::kConstant).value_or(0);
  law.f1 = map->quantity_or("f1", rule::kLinear, "0 N s/m", kCommonPractice);
  law.f2 = map->quantity("f2", rule::kQuadratic).value_or(0);
  law.mass = coast_down_mass(*map);
  law.air_density = coast_down_density(*map);
  map->finish();
  return law;
}

model::RoadLaw read_regulation(Reader& bike, const document::Node& node) {
  std::vector<std::string_view> names;
  for (const Regulation& regulation : kRegulations) names.push_back(regulation.name);
  const auto found = parts::read_choice(node, "road_load", names, bike.findings());
  return found ? model::RoadLaw(kRegulations[*found].law) : model::RoadLaw{};
}

// Everything that a road load already contains.
void refuse_beside_road_load(Reader& bike) {
  for (const std::string_view key : {"drag_area", "posture", "rolling_resistance"}) {
    bike.take(key);
    if (!bike.has(key)) continue;
    bike.findings().diagnostics.add(
        {document::Severity::kError, bike.mark_of(key),
         "`" + std::string(key) + "` stands beside `road_load`, which already contains it",
         "keep one of the two", bike.mark_of("road_load"), "the road load is given here"});
  }
}

std::optional<double> stated_rollout(const parts::Catalogue& catalogue, std::string_view size) {
  for (const parts::Tyre& tyre : catalogue.tyres) {
    if (tyre.size == size) return tyre.rollout;
  }
  return {};
}

double circumference_of_size(Reader& tyre, const std::string& size, const Surrounding& around) {
  if (const auto measured = stated_rollout(around.catalogue, size)) return *measured;
  const auto read = parts::parse_tyre_size(size);
  if (!read) {
    tyre.error("size", read.error(),
               "or give the measured circumference, such as {rollout: 1.94 m}");
    return 0;
  }
  const double rollout =
      model::rolling_circumference(read->width, read->aspect_ratio, read->rim_diameter);
  tyre.record_default("rollout", parts::number_text(rollout) + " m from the size, +-2.5 %",
                      "design diameter of UN R75 and ISO 5751 (from memory)");
  return tyre.derived("rollout", rollout, limits::bike::kRollout, "m");
}

}  // namespace

void read_road(Reader& bike, Requirement& requirement) {
  const document::Node* node = bike.take("road_load");
  if (node == nullptr) {
    requirement.bike.road = read_coefficients(bike);
    return;
  }
  requirement.bike.road = node->kind == document::NodeKind::kScalar ? read_regulation(bike, *node)
                                                                    : read_coast_down(bike);
  refuse_beside_road_load(bike);
}

void read_tyre(Reader& bike, const Surrounding& around, Requirement& requirement) {
  auto tyre = bike.map("tyre", "`tyre` of the bike", "{size: 3.00-18}");
  if (!tyre) return;
  const auto size = tyre->optional_text("size");
  const auto rollout = tyre->optional_quantity("rollout", limits::bike::kRollout);
  if (tyre->is_map() && !tyre->has("size") && !tyre->has("rollout")) {
    bike.error("tyre", "`tyre` has neither `size` nor `rollout`",
               "write {size: 3.00-18}, or the measured circumference {rollout: 1.94 m}");
  }
  if (tyre->has("size") && tyre->has("rollout")) {
    bike.findings().diagnostics.add({document::Severity::kError, tyre->mark_of("size"),
                                     "`tyre` has both `size` and `rollout`, which need not agree",
                                     "keep `rollout` if it was measured on this bike, else `size`",
                                     tyre->mark_of("rollout"), "the roll-out stands here"});
  }
  if (rollout) {
    requirement.bike.rolling_circumference = *rollout;
  } else if (size) {
    requirement.bike.rolling_circumference = circumference_of_size(*tyre, *size, around);
  }
  tyre->finish();
}

}  // namespace sprocketry::spec
