#pragma once

#include <array>
#include <span>
#include <string_view>

#include "model/battery.hpp"

namespace sprocketry::parts {

// Dimensions of a single-strand roller chain as the standards state them: nominal values, not
// limits of a maker. Which chain runs on which sprocket is in interchange.hpp: the same pitch alone
// is not enough (1/2 in pitch has three roller diameters).
struct ChainSize {
  std::string_view name;     // "40" (ANSI B29.1), "420" (motorcycle chain)
  std::string_view iso_606;  // ISO 606 code of the same chain, "" without one: "08A"
  double pitch;              // m
  double roller_diameter;    // m; of the bushing where there is no roller (25 and 35)
  double inner_width;        // m, between the inner plates
  double pin_diameter;       // m
  double tensile_strength;   // N, least breaking load; not a working load
  double mass_per_length;    // kg/m
  std::string_view source;
};

// All sizes: industrial by pitch, then motorcycle.
std::span<const ChainSize> chain_sizes();

// The size of that exact name or ISO 606 code, or nullptr. A suffix that stands for thicker plates
// ("428H") is another chain with other strength and is not a name here.
const ChainSize* find_chain_size(std::string_view name);

// The size whose pitch, roller and inner width a chain or sprocket of that name has, or nullptr:
// the size itself, or the one under a name with H, M or MH behind it ("428H"), which stands for
// thicker plates and other strength on the same sprocket (a chain maker's page and ISO 10190,
// seen).
const ChainSize* find_chain_shape(std::string_view name);

// What is common to the cells of a chemistry, taken where a cell's own data does not say.
struct Chemistry {
  std::string_view name;   // "lfp", "nmc", "lead_acid"
  double nominal_voltage;  // V per cell, what the trade counts a pack's voltage with
  double full_voltage;     // V per cell at the end of charging
  double empty_voltage;    // V per cell, cut-off under load
  double charge_rate;      // 1/h: charge current in A per Ah of capacity
  double usable_from;      // state of charge 0..1 at the start of a ride
  double usable_to;        // state of charge 0..1 at its end
  model::ColdLaw cold;
  double charge_efficiency;  // 0..1, charge that can be drawn over charge put in
  // State of charge and open-circuit voltage (V per cell), both strictly ascending, from 0 to 1.
  std::span<const std::array<double, 2>> open_circuit;
  std::string_view open_circuit_source;
  std::string_view source;  // of everything else
};

std::span<const Chemistry> chemistries();

// The chemistry of that exact name, or nullptr.
const Chemistry* find_chemistry(std::string_view name);

}  // namespace sprocketry::parts
