#include <limits>

#include "spec/limits.hpp"
#include "spec/load_sections.hpp"

namespace sprocketry::spec {

void read_charging(Reader& root, Requirement& requirement) {
  namespace rule = limits::charging;
  Charging& result = requirement.charging;
  result.outlet_power = std::numeric_limits<double>::infinity();
  auto charging =
      root.optional_map("charging", "`charging`", "{outlet: 1.4 kW, price_per_kwh: 0.25}");
  if (!charging) return;
  if (const auto outlet = charging->optional_quantity("outlet", rule::kOutlet)) {
    result.outlet_power = *outlet;
  }
  result.energy_price = charging->optional_money("price_per_kwh");
  charging->finish();
}

}  // namespace sprocketry::spec
