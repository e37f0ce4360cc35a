#include <cmath>

#include "parts/limits.hpp"
#include "parts/load_parts.hpp"
#include "parts/standards.hpp"

namespace sprocketry::parts {
namespace {

namespace rule = limits::chain;

// A dimension that the standards table fills in for a size that it knows. `needed` says whether the
// model reads it, so that an unknown size must state it.
double dimension(Reader& reader, std::string_view key, const QuantityRule& limit,
                 const ChainSize* size, double ChainSize::*member, bool needed) {
  if (size == nullptr && needed) return reader.quantity(key, limit).value_or(0);
  const auto stated = reader.optional_quantity(key, limit);
  if (stated) return *stated;
  if (size == nullptr) return 0;
  const double value = size->*member;
  if (reader.has(key)) return value;
  const std::string_view symbol = limit.dimension == units::Dimension::kLength  ? "mm"
                                  : limit.dimension == units::Dimension::kForce ? "kN"
                                                                                : "kg/m";
  reader.record_default(key, units::print(value, limit.dimension, symbol), size->source);
  return reader.derived(key, value, limit, symbol);
}

void read_price(Reader& reader, ChainPart& part) {
  if (!reader.has("price_per_link")) {
    part.price = reader.money("price", "26").value_or(0);
    part.box_links = reader.integer("links", rule::kLinks, "130").value_or(1);
    return;
  }
  part.price = reader.money("price_per_link", "0.30").value_or(0);
  for (const std::string_view key : {"price", "links"}) {
    reader.take(key);
    if (!reader.has(key)) continue;
    reader.error(key, "`" + std::string(key) + "` stands beside `price_per_link`",
                 "a chain is sold by the box (`links` and `price`) or by the link");
  }
}

// A size has one pitch; a chain that says otherwise would not run on the sprockets of its size.
void check_dimensions(Reader& reader, const std::string& name, const model::Chain& chain,
                      const ChainSize* shape) {
  constexpr double kTolerance = 0.005;
  if (chain.pin_diameter >= chain.pitch && chain.pitch > 0) {
    reader.error("pin", "the pin is as thick as the pitch is long", "check `pin` and `pitch`");
  }
  if (shape == nullptr || std::abs(chain.pitch / shape->pitch - 1) <= kTolerance) return;
  reader.error(
      "pitch",
      "a chain of size " + name + " has a pitch of " + number_text(1000 * shape->pitch) + " mm",
      "leave `pitch` out, or give the size another name");
}

// Thicker plates change strength, mass and pin, not what meets the sprocket.
void read_dimensions(Reader& reader, ChainPart& part) {
  const ChainSize* size = find_chain_size(part.size);
  const ChainSize* shape = find_chain_shape(part.size);
  model::Chain& chain = part.model;
  chain.pitch = dimension(reader, "pitch", rule::kPitch, shape, &ChainSize::pitch, true);
  part.roller_diameter =
      dimension(reader, "roller", rule::kRoller, shape, &ChainSize::roller_diameter, false);
  part.inner_width =
      dimension(reader, "width", rule::kWidth, shape, &ChainSize::inner_width, false);
  chain.pin_diameter = dimension(reader, "pin", rule::kPin, size, &ChainSize::pin_diameter, true);
  chain.tensile_strength = dimension(reader, "tensile_strength", rule::kTensileStrength, size,
                                     &ChainSize::tensile_strength, true);
  chain.mass_per_length = dimension(reader, "mass_per_length", rule::kMassPerLength, size,
                                    &ChainSize::mass_per_length, true);
  check_dimensions(reader, part.size, chain, shape);
}

// Whether the dimensions are the size's or the entry's own; a size without a pitch that all but has
// a standard's name is a slip of the pen.
bool is_dimensioned(Reader& reader, const std::string& size) {
  if (find_chain_shape(size) != nullptr || reader.has("pitch")) return true;
  std::vector<std::string_view> names;
  for (const ChainSize& known : chain_sizes()) names.push_back(known.name);
  const std::string hint = did_you_mean(size, names);
  if (hint.empty()) return true;
  reader.error("size", "no standard size is called \"" + size + "\"",
               hint +
                   " A chain of a size of its own states `pitch`, `pin`, `tensile_strength` and "
                   "`mass_per_length`.");
  return false;
}

}  // namespace

std::string canonical_size(const std::string& size) {
  const ChainSize* known = find_chain_size(size);
  return known == nullptr ? size : std::string(known->name);
}

void read_chain(const document::Node& node, Shelf& shelf) {
  auto [reader, id] = begin_entry(node, "chains", shelf);
  ChainPart part;
  part.id = id;
  part.mark = node.mark;
  const auto size = reader.id("size", "\"420\"");
  if (size) part.size = canonical_size(*size);
  if (size && is_dimensioned(reader, part.size)) {
    read_dimensions(reader, part);
  } else {
    // What the entry lacks depends on its size; these keys are known all the same.
    for (const std::string_view key :
         {"pitch", "roller", "width", "pin", "tensile_strength", "mass_per_length"}) {
      reader.take(key);
    }
  }
  model::Chain& chain = part.model;
  chain.fixed_loss = reader.quantity_or("loss", rule::kLoss, "1 %", kCommonPractice);
  chain.friction = reader.number_or("friction", rule::kFriction, "0.12",
                                    "pin in bushing 0.05 to 0.15 lubricated, from memory");
  part.max_speed = reader.optional_quantity("max_speed", rule::kMaxSpeed);
  read_price(reader, part);
  reader.finish();
  shelf.catalogue.chains.push_back(std::move(part));
}

}  // namespace sprocketry::parts
