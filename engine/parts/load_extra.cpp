#include "parts/limits.hpp"
#include "parts/load_parts.hpp"

namespace sprocketry::parts {

Interval read_interval(Reader& owner, std::string_view key, const QuantityRule& rule) {
  auto map = owner.optional_map(key, "`" + std::string(key) + "`");
  if (!map) return {};
  const Interval interval{map->optional_quantity("min", rule), map->optional_quantity("max", rule)};
  if (map->is_map() && !map->has("min") && !map->has("max")) {
    owner.error(key, "`" + std::string(key) + "` has neither `min` nor `max`",
                "write for example {min: " + std::string(example_of(rule)) + "}");
  }
  map->check_ascending("min", interval.min, "max", interval.max, "write the lower limit as `min`");
  map->finish();
  return interval;
}

void read_tyre(const document::Node& node, Shelf& shelf) {
  Reader reader(node, node.mark, "tyres", "an entry of `tyres`", shelf.findings);
  Tyre tyre;
  tyre.mark = node.mark;
  tyre.size = reader.text("size", "3.00-18").value_or("");
  tyre.rollout = reader.quantity("rollout", limits::tyre::kRollout).value_or(0);
  reader.finish();
  shelf.catalogue.tyres.push_back(std::move(tyre));
}

void read_extra(const document::Node& node, Shelf& shelf) {
  auto [reader, id] = begin_entry(node, "extras", shelf);
  Extra part;
  part.id = id;
  part.mark = node.mark;
  if (auto when = reader.optional_map(
          "when", {}, "{full_voltage: {min: 60 V}, battery_current: {max: 150 A}}")) {
    part.full_voltage = read_interval(*when, "full_voltage", limits::extra::kVoltage);
    part.nominal_voltage = read_interval(*when, "nominal_voltage", limits::extra::kVoltage);
    part.battery_current = read_interval(*when, "battery_current", limits::extra::kCurrent);
    when->finish();
  }
  part.mass = reader.quantity_or("mass", limits::kPartMass, "0 kg", kNotStated);
  part.price = reader.money("price", "85").value_or(0);
  reader.finish();
  shelf.catalogue.extras.push_back(std::move(part));
}

}  // namespace sprocketry::parts
