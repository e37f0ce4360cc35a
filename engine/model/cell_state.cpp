#include "model/cell_state.hpp"

#include <algorithm>
#include <cmath>

namespace sprocketry::model {
namespace {

// How far the temperature is on the way from 25 degC (0) to the one that the cell states (1).
double coldness(const ColdLaw& cold, double temperature) {
  return std::max(0.0, (kRatedTemperature - temperature) / (kRatedTemperature - cold.temperature));
}

}  // namespace

double cold_resistance_factor(const ColdLaw& cold, double temperature) {
  return std::pow(cold.resistance, coldness(cold, temperature));
}

double cold_capacity_share(const ColdLaw& cold, double temperature) {
  constexpr double kLeast = 0.05;
  return std::max(kLeast, 1.0 - coldness(cold, temperature) * (1.0 - cold.capacity));
}

double aged_resistance_factor(double health) {
  constexpr double kPerLostShare = 2.5;
  return 1.0 + kPerLostShare * (1.0 - health);
}

Cell in_state(const Cell& cell, const CellState& state) {
  if (state == CellState{}) return cell;
  Cell result = cell;
  const double share = cold_capacity_share(cell.cold, state.temperature) * state.health;
  result.capacity *= share;
  // The reference current is capacity over hours.
  result.rated_hours *= share;
  result.resistance *=
      cold_resistance_factor(cell.cold, state.temperature) * aged_resistance_factor(state.health);
  return result;
}

}  // namespace sprocketry::model
