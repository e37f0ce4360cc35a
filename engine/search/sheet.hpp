#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "model/expectation.hpp"
#include "model/wiring.hpp"
#include "search/pack_days.hpp"

namespace sprocketry::search {

// A line of an order: so many of one thing, with what each and all cost. Owned things cost nothing.
struct OrderLine {
  std::string item;  // "motor", "cells", "welding and machining of the front sprocket"
  std::string id;
  std::string unit;  // "", "box of 130 links", "links"
  int quantity = 1;
  Money each = 0;
  Money sum = 0;
  bool owned = false;
};

// Ratings of what stands between pack and motor.
struct Wiring {
  double full_voltage = 0;     // V
  double battery_current = 0;  // A, what the controller is set to draw
  double short_circuit = 0;    // A that the pack, new, warm and full, drives through itself
  double fuse = 0;             // A; kNone: no single fuse
  const model::Cable* battery_cable = nullptr;  // carries what the fuse lets pass; null: none does
  double battery_drop = 0;         // V per metre of the way, both conductors, at 60 degC
  double motor_current = 0;        // A for ever in each motor lead: direct, or rms of a phase
  double motor_peak = 0;           // A in it at most, of the same kind
  double motor_peak_duration = 0;  // s for which motor and controller stand that
  const model::Cable* motor_cable = nullptr;
  double motor_drop = 0;                      // V per metre of one lead
  std::optional<model::Precharge> precharge;  // when the controller's capacitance is stated
};

// What to read off the bike with the pack this full.
struct AtCharge {
  double state_of_charge = 0;
  double resting_voltage = 0;        // V
  double full_throttle_voltage = 0;  // V at the pack's terminals, at the peak battery current
  double full_throttle_current = 0;  // A
  model::FreeRun free;
};

struct AtSpeed {
  double speed = 0;  // m/s
  model::SteadyDraw draw;
};

// A design with all that is needed to order, wire, set up and try it.
struct Sheet {
  Design design;
  std::vector<OrderLine> order;
  Money price = 0;  // sum of the order, the same as the design's
  Wiring wiring;
  PackDays days;
  std::array<AtCharge, 3> charges;  // 100, 50 and 20 %
  // The requirement's cruise speeds, and 40 and 70 km/h (25 and 45 mph for who writes mph) where
  // none of them is near; ascending.
  std::vector<AtSpeed> speeds;
};

// The sheet of a combination of `space`. Throws std::logic_error when the order does not add up to
// the design's price, which is a defect.
Sheet make_sheet(const spec::Job& job, const Setup& setup, const Space& space,
                 const Combination& combination);

}  // namespace sprocketry::search
