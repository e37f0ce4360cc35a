#include "parts/load_parts.hpp"
#include "spec/limits.hpp"
#include "spec/load_sections.hpp"

namespace sprocketry::spec {
namespace {

namespace rule = limits::bike;

std::optional<parts::Shaft> read_output(Reader& primary) {
  const auto diameter = primary.optional_quantity("output_bore", parts::limits::sprocket::kBore);
  const auto key = parts::read_key_width(primary, "output_key");
  if (!diameter) {
    if (key && !primary.has("output_bore")) {
      primary.error("output_key", "`output_key` stands without `output_bore`",
                    "give the output shaft's diameter as `output_bore`");
    }
    return std::nullopt;
  }
  return parts::Shaft{*diameter, key, std::nullopt};
}

}  // namespace

void read_primary(Reader& bike, Bike& result) {
  auto primary = bike.optional_map("primary", "`primary` of the bike",
                                   "{ratio: 1.8, price: 85, mass: 2.4 kg}");
  if (!primary) return;
  Primary read;
  read.ratio = primary->number("ratio", rule::kPrimaryRatio, "1.8").value_or(1);
  read.efficiency = primary->quantity_or("efficiency", rule::kPrimaryEfficiency, "97 %",
                                         "handbooks: 95 to 97 % for an ordinary chain stage, 98 to "
                                         "99 % well lubricated (from memory)");
  read.output = read_output(*primary);
  read.price = primary->money("price", "85").value_or(0);
  read.mass = primary->quantity("mass", parts::limits::kPartMass).value_or(0);
  primary->finish();
  result.primary = read;
}

}  // namespace sprocketry::spec
