#pragma once

#include <vector>

namespace sprocketry::model {

// Open-circuit voltage (V per cell) at a state of charge (0..1).
struct OpenCircuitPoint {
  double state_of_charge = 0;
  double voltage = 0;
};

// A node of the quadrature over the usable window: integral over state of charge of f(E) is the
// sum of weight x f(series x voltage); weights sum to the window's width.
struct ChargeNode {
  double voltage = 0;  // V per cell
  double weight = 0;   // of state of charge
};

inline constexpr int kMostChargeNodes = 8;

// What cold does to a cell: at `temperature` (K, below 25 degC) its resistance is so many times as
// large and so large a share of its capacity can be drawn. See in_state().
struct ColdLaw {
  double temperature = 273.15;
  double resistance = 1;
  double capacity = 1;
};

// One cell (or one block that is bought as a unit).
struct Cell {
  double capacity = 0;                         // C
  double resistance = 0;                       // ohm
  double nominal_voltage = 0;                  // V
  std::vector<OpenCircuitPoint> open_circuit;  // strictly ascending in state of charge
  double full_voltage = 0;                     // V at the end of charging
  double empty_voltage = 0;                    // V, cut-off under load
  double usable_from = 1;                      // state of charge
  double usable_to = 0;                        // state of charge
  double continuous_current = 0;               // A
  double peak_current = 0;                     // A
  double charge_current = 0;                   // A
  double peukert_exponent = 1;                 // 1: charge does not depend on the current
  double rated_hours = 20;                     // h, the discharge that `capacity` is stated for
  double charge_efficiency = 1;                // 0..1, charge that can be drawn over charge put in
  ColdLaw cold;                                //
};

// Cells in series and parallel, with case, links and management board.
struct Pack {
  Cell cell;
  int series = 0;
  int parallel = 0;
  double resistance = 0;          // ohm, cells and links
  double full_voltage = 0;        // V
  double empty_voltage = 0;       // V
  double nominal_voltage = 0;     // V
  double continuous_current = 0;  // A, parallel x cell continuous
  double current_limit = 0;       // A, least of parallel x cell peak and the board's rating
  double charge_current = 0;      // A
  double capacity = 0;            // C, parallel x cell capacity
  std::vector<ChargeNode> nodes;  // quadrature over the usable window
  // V per cell: the nodes leave less than 1e-8 of f when f is analytic in E above this voltage.
  double nodes_reach = 0;
};

// Builds the pack. `link_resistance` (ohm) is case and links, `board_current` (A) the management
// board's rating (infinity when there is none). Precondition: series, parallel >= 1, a usable
// window of positive width.
Pack make_pack(const Cell& cell, int series, int parallel, double link_resistance,
               double board_current);

// Another number of the same cells, for the same arguments: the nodes are of one cell and stay.
Pack resized(Pack pack, int series, int parallel, double link_resistance, double board_current);

// The same pack when it is never filled beyond a state of charge (0..1) inside the usable window.
Pack filled_to(const Pack& pack, double state_of_charge);

// Open-circuit voltage of one cell in V, linear between the points, the end values outside.
double open_circuit_voltage(const std::vector<OpenCircuitPoint>& curve, double state_of_charge);

// State of charge (0..1) above which the open-circuit voltage exceeds `voltage` (V per cell); 0
// when the curve starts above it, 1 when it never gets there.
double state_of_charge_above(const std::vector<OpenCircuitPoint>& curve, double voltage);

}  // namespace sprocketry::model
