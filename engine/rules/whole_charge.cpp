#include "rules/whole_charge.hpp"

#include <algorithm>

namespace sprocketry::rules {

std::optional<WholeCharge> whole_charge(const spec::Requirement& requirement,
                                        const Selection& parts) {
  if (!parts.charger) return std::nullopt;
  const model::Pack& pack = parts.pack->model;
  const model::Cell& cell = pack.cell;
  const double cut_off = model::cut_off_voltage(parts.controller->model, pack) / pack.series;
  WholeCharge result;
  result.from = std::clamp(model::state_of_charge_above(cell.open_circuit, cut_off), cell.usable_to,
                           cell.usable_from);
  result.charge = model::charge(
      pack, result.from, cell.usable_from,
      {parts.charger->current, parts.charger->efficiency, requirement.charging.outlet_power});
  return result;
}

}  // namespace sprocketry::rules
