#pragma once

#include "model/battery.hpp"
#include "model/constants.hpp"

namespace sprocketry::model {

// What a cell's data sheet is true for.
inline constexpr double kRatedTemperature = kZeroCelsius + 25.0;  // K

// How a pack is on the day: temperature of its cells (K) and the share 0..1 that age has left of
// its capacity.
struct CellState {
  double temperature = kRatedTemperature;
  double health = 1;

  bool operator==(const CellState&) const = default;
};

// The factor (1..) on a cell's resistance at a temperature in K: 1 at 25 degC and above; below, the
// logarithm is linear through what the cell states for `cold.temperature` (Arrhenius' law over a
// narrow band of temperatures).
double cold_resistance_factor(const ColdLaw& cold, double temperature);

// The share (0..1) of a cell's capacity that is left at a temperature in K: 1 at 25 degC and above;
// below, linear through what the cell states for `cold.temperature`, never under a twentieth.
// Common practice, no source.
double cold_capacity_share(const ColdLaw& cold, double temperature);

// The factor (1..) on a cell's resistance when age has left `health` (0..1) of its capacity: half
// as much again at 80 %, linear. Common practice, no source.
double aged_resistance_factor(double health);

// The cell in that state: capacity and resistance change, the maker's ratings and the open-circuit
// voltage stay. The current that Peukert's law counts from stays the one of the new, warm cell.
Cell in_state(const Cell& cell, const CellState& state);

}  // namespace sprocketry::model
