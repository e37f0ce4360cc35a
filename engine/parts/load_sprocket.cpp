#include "parts/limits.hpp"
#include "parts/load_parts.hpp"

namespace sprocketry::parts {
namespace {

namespace rule = limits::sprocket;

std::vector<int> read_teeth(Reader& reader) {
  const document::Node* node = reader.require("teeth", "{from: 12, to: 17}");
  return node == nullptr ? std::vector<int>{}
                         : read_integers(*node, "teeth", rule::kTeeth, reader.findings());
}

std::string read_size(Reader& reader) {
  return canonical_size(reader.id("size", "\"420\"").value_or(""));
}

std::optional<SetScrews> read_set_screws(Reader& reader) {
  auto screws = reader.optional_map("set_screws");
  if (!screws) return std::nullopt;
  const auto size = screws->quantity("size", rule::kSetScrew);
  const auto count = screws->optional_integer("count", rule::kSetScrews);
  screws->finish();
  if (!size) return std::nullopt;
  return SetScrews{*size, count.value_or(1)};
}

double read_key_strength(Reader& reader, std::optional<double> key) {
  const auto stated = reader.optional_quantity("key_strength", rule::kKeyStrength);
  if (key && *key > 0 && !reader.has("key_strength")) {
    reader.record_default("key_strength", "370 MPa",
                          "AISI 1018 cold drawn: Shigley, Table A-20, from memory");
    return reader.derived("key_strength", kKeyStrength, rule::kKeyStrength, "MPa");
  }
  return stated.value_or(kKeyStrength);
}

}  // namespace

std::optional<double> read_key_width(Reader& owner, std::string_view key) {
  const document::Node* node = owner.take(key);
  if (node == nullptr) return std::nullopt;
  if (node->kind == document::NodeKind::kScalar && node->scalar == "none") return 0.0;
  return read_quantity(*node, key, limits::motor::kKey, owner.findings());
}

PerTooth<Money> read_price_per_tooth(Reader& owner) {
  const document::Node* node = owner.require("price", "{base: 10, per_tooth: 0.4}");
  if (node == nullptr) return {};
  if (node->kind != document::NodeKind::kMap) {
    return {owner.money("price", "10").value_or(0), 0};
  }
  auto price = owner.optional_map("price");
  const PerTooth<Money> amount{price->money("base", "10").value_or(0),
                               price->optional_money("per_tooth").value_or(0)};
  price->finish();
  return amount;
}

PerTooth<double> read_mass_per_tooth(Reader& owner) {
  const document::Node* node = owner.require("mass", "{base: 0.3 kg, per_tooth: 0.012 kg}");
  if (node == nullptr) return {};
  if (node->kind != document::NodeKind::kMap) {
    return {owner.quantity("mass", limits::kPartMass).value_or(0), 0};
  }
  auto mass = owner.optional_map("mass");
  const PerTooth<double> amount{
      mass->quantity("base", limits::kPartMass).value_or(0),
      mass->optional_quantity("per_tooth", rule::kMassPerTooth).value_or(0)};
  mass->finish();
  return amount;
}

void read_front_sprocket(const document::Node& node, Shelf& shelf) {
  auto [reader, id] = begin_entry(node, "front_sprockets", shelf);
  FrontSprocketFamily part;
  part.id = id;
  part.mark = node.mark;
  part.size = read_size(reader);
  part.teeth = read_teeth(reader);
  part.bore = reader.optional_quantity("bore", rule::kBore);
  part.key = read_key_width(reader);
  part.hub_diameter = reader.optional_quantity("hub_diameter", rule::kHubDiameter);
  part.hub_length = reader.optional_quantity("hub_length", rule::kHubLength);
  part.set_screws = read_set_screws(reader);
  part.key_strength = read_key_strength(reader, part.key);
  reader.check_ascending("bore", part.bore, "hub_diameter", part.hub_diameter,
                         "the hub is thicker than its bore", true);
  part.price = read_price_per_tooth(reader);
  part.mass = read_mass_per_tooth(reader);
  part.fabrication = reader.optional_money("fabrication").value_or(0);
  reader.finish();
  shelf.catalogue.front_sprockets.push_back(std::move(part));
}

void read_rear_sprocket(const document::Node& node, Shelf& shelf) {
  auto [reader, id] = begin_entry(node, "rear_sprockets", shelf);
  RearSprocketFamily part;
  part.id = id;
  part.mark = node.mark;
  part.size = read_size(reader);
  part.teeth = read_teeth(reader);
  part.bolt_circle = reader.optional_quantity("bolt_circle", rule::kBoltCircle);
  part.bolts = reader.optional_integer("bolts", rule::kBolts);
  part.price = read_price_per_tooth(reader);
  part.mass = read_mass_per_tooth(reader);
  part.fabrication = reader.optional_money("fabrication").value_or(0);
  reader.finish();
  shelf.catalogue.rear_sprockets.push_back(std::move(part));
}

}  // namespace sprocketry::parts
