#include <tuple>

#include "spec/load_sections.hpp"

namespace sprocketry::spec {
namespace {

using units::Dimension;

// The first symbol in the file that `accept` takes; overrides count only when the file has none.
template <typename Accept>
std::string_view first_symbol(const std::vector<parts::WrittenUnit>& written, Dimension dimension,
                              const document::Source* requirement, Accept accept) {
  const parts::WrittenUnit* first = nullptr;
  const auto place = [&](const parts::WrittenUnit& unit) {
    return std::tuple(unit.mark.source != requirement, unit.mark.line, unit.mark.column);
  };
  for (const parts::WrittenUnit& unit : written) {
    if (unit.dimension != dimension || !accept(unit.symbol)) continue;
    if (first == nullptr || place(unit) < place(*first)) first = &unit;
  }
  return first == nullptr ? std::string_view{} : first->symbol;
}

}  // namespace

DisplayUnits display_units(const std::vector<parts::WrittenUnit>& written,
                           const document::Source* requirement) {
  const auto any = [](std::string_view) { return true; };
  const auto road = [](std::string_view symbol) { return symbol == "km" || symbol == "mi"; };
  DisplayUnits units;
  if (first_symbol(written, Dimension::kSpeed, requirement, any) == "mph") units.speed = "mph";
  const std::string_view distance = first_symbol(written, Dimension::kLength, requirement, road);
  // Who thinks in miles per hour counts in miles, unless a distance says otherwise.
  if (distance == "mi" || (distance.empty() && units.speed == "mph")) units.distance = "mi";
  if (first_symbol(written, Dimension::kMass, requirement, any) == "lb") units.mass = "lb";
  return units;
}

}  // namespace sprocketry::spec
