#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "model/chain_order.hpp"
#include "model/charging.hpp"
#include "rules/chain_load.hpp"
#include "search/compatible.hpp"

namespace sprocketry::search {

// The caution on a pick that `choose` leaves out.
inline constexpr std::string_view kNotInChoose = "not in choose";

// A combination by its option numbers in a space.
struct Combination {
  std::size_t motor = 0, controller = 0, pack = 0, charger = 0, chain = 0, front = 0, rear = 0;
};

// The parts of a combination as the rules read them.
rules::Selection selection(const Space& space, const Combination& combination);

// What the drive is set to; the metrics are only true with it.
struct Settings {
  double battery_current = 0;  // A, controller's draw from the pack
  double motor_current = 0;    // A, DC equivalent
  double low_voltage = 0;      // V, cut-off under load
};

// A whole charge from where riding ends to full, and what riding takes from the wall.
struct Charging {
  double from = 0;  // state of charge 0..1 at which the ride's range ends
  model::Charge charge;
  double wall_consumption = 0;   // J/m on the ride of what was charged; kNone without a range
  double cost_per_distance = 0;  // of the currency per m; kNone without a price of energy as well
};

// A combination with everything that is known about it.
struct Design {
  rules::Selection parts;
  rules::ChainRun chain;
  std::vector<model::ChainFit> chain_fits;       // every allowed link count inside the travel
  std::optional<model::ChainOrder> chain_order;  // of the fitted chain
  model::ShaftTorque torque;                     // at the motor's shaft, on no day more
  double peak_power = 0;                         // W there on the day, in a burst
  double continuous_power = 0;                   // W, with the motor's continuous current
  rules::ChainLoad load;
  rules::ChainDuty duty;
  spec::Metrics metrics;
  Settings settings;
  std::optional<Charging> charging;  // nothing without a charger
  std::vector<const parts::Extra*> extras;
  std::vector<rules::Row> rows;  // every active check, in published order
  bool outside_choose = false;
  // Names of the rules that reject it, in published order, each once.
  [[nodiscard]] std::vector<std::string_view> rejected_by() const;
};

// Evaluates one combination whole: all metrics and all checks, rejected or not.
Design evaluate_design(const Setup& setup, const Space& space, const Combination& combination);
// The same with a chain of just so many links; without a fit when that one does not end inside the
// adjuster's travel.
Design evaluate_design(const Setup& setup, const Space& space, const Combination& combination,
                       int links);

// The rows that a reader needs: cautions outside their limit, the unchecked, and the three of the
// rejecting rules whose margin is least in proportion to its limit.
std::vector<rules::Row> telling_rows(const Design& design);

}  // namespace sprocketry::search
