#include <algorithm>

#include "parts/limits.hpp"
#include "parts/load_parts.hpp"

namespace sprocketry::parts {
namespace {

namespace rule = limits::charger;

void read_chemistries(Reader& reader, ChargerPart& part) {
  const auto* items = reader.list("chemistries", "[lfp]");
  if (items == nullptr) return;
  for (const document::Node& item : *items) {
    const auto name = read_id(item, "chemistries", reader.findings());
    if (name && std::ranges::find(part.chemistries, *name) == part.chemistries.end()) {
      part.chemistries.push_back(*name);
    }
  }
  std::ranges::sort(part.chemistries);
}

void read_full_voltage(Reader& reader, ChargerPart& part) {
  auto voltage = reader.map("full_voltage", {}, "{min: 56 V, max: 60 V}");
  if (!voltage) return;
  const auto min = voltage->quantity("min", rule::kVoltage);
  const auto max = voltage->quantity("max", rule::kVoltage);
  voltage->check_ascending("min", min, "max", max, "write the lower voltage as `min`");
  voltage->finish();
  part.min_full_voltage = min.value_or(0);
  part.max_full_voltage = max.value_or(0);
}

}  // namespace

void read_charger(const document::Node& node, Shelf& shelf) {
  auto [reader, id] = begin_entry(node, "chargers", shelf);
  ChargerPart part;
  part.id = id;
  part.mark = node.mark;
  read_chemistries(reader, part);
  read_full_voltage(reader, part);
  part.current = reader.quantity("current", rule::kCurrent).value_or(0);
  part.efficiency = reader.quantity_or("efficiency", rule::kEfficiency, "90 %", kCommonPractice);
  part.carried = reader.boolean_or("carried", false, kCommonPractice);
  // A charger that stays at home weighs nothing on the bike.
  const auto mass = part.carried ? reader.quantity("mass", limits::kPartMass)
                                 : reader.optional_quantity("mass", limits::kPartMass);
  part.mass = mass.value_or(0);
  part.price = reader.money("price", "150").value_or(0);
  reader.finish();
  shelf.catalogue.chargers.push_back(std::move(part));
}

}  // namespace sprocketry::parts
