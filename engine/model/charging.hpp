#pragma once

#include "model/battery.hpp"

namespace sprocketry::model {

// What charges a pack, and from where.
struct ChargeSource {
  double current = 0;       // A, the charger's
  double efficiency = 1;    // 0..1, power at the pack over power at the wall
  double outlet_power = 0;  // W that the wall gives; infinity: no limit
};

// One charge.
struct Charge {
  double time = 0;             // s
  double tail = 0;             // s of it in which the full voltage alone holds the current down
  double wall_energy = 0;      // J drawn from the wall
  double wall_peak = 0;        // W, the largest draw from the wall
  double state_of_charge = 0;  // 0..1 where it ends: short of full when the tail comes first
};

// A charge from a state of charge to another (both 0..1, ascending), with the charger's current as
// long as the outlet's power and the voltage allow: I = min(I_ch, the root of I (E + I R_b) =
// eta P_wall, (V_full - E)/R_b). It ends early when the current at the full voltage has fallen to a
// twentieth of the capacity per hour (C/20; common practice, no source). Of the charge that flows
// in the cell keeps its share `charge_efficiency`. E is linear between the points of the
// open-circuit curve, so time = Q/eta_q integral ds/I and energy = Q/(eta_q eta) integral
// (E + I R_b) ds have closed forms there. Accessories are off.
Charge charge(const Pack& pack, double from, double to, const ChargeSource& source);

}  // namespace sprocketry::model
