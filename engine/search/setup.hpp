#pragma once

#include <vector>

#include "model/evaluate.hpp"
#include "rules/rule.hpp"
#include "search/space.hpp"
#include "spec/requirement.hpp"

namespace sprocketry::search {

// A requirement as the model asks it, computed once for all combinations.
struct Setup {
  const spec::Requirement* requirement = nullptr;
  model::Questions questions;
  std::size_t listed_cruises = 0;
  model::Stance stance;
  double front_share = 0;                // of the weight on the front wheel
  double wheel_mass = 0;                 // kg, wheel inertia over r^2
  double carried_mass = 0;               // kg, rider and load
  std::vector<rules::Check> electrical;  // rejecting checks of each stage, in published order
  std::vector<rules::Check> fit;
  std::vector<rules::Check> strength;
  std::vector<rules::Check> speed;
  std::vector<rules::Check> heat;
  std::vector<rules::Check> demand;
  std::vector<rules::Check> all;  // every active check, cautions too
  std::vector<const spec::MetricInfo*> objectives;
  unsigned objective_figures = 0;  // what the objectives read
  // The last rule of all, kept out of `demand`: the search asks the objectives' values themselves.
  rules::Check objective_exists;
};
Setup make_setup(const spec::Requirement& requirement);

// The chain run of a chain and two tooth counts in the frame.
rules::ChainRun chain_run(const spec::Requirement& requirement, const model::Chain& chain,
                          int front_teeth, int rear_teeth);
// The same with a chain of just so many links: no fit when it does not end inside the adjuster's
// travel.
rules::ChainRun chain_run(const spec::Requirement& requirement, const model::Chain& chain,
                          int front_teeth, int rear_teeth, int links);

// What rolls, for a bike of a mass (kg, ready to ride without rider and load).
model::Rolling make_rolling(const Setup& setup, const model::Motor& motor, double bike_mass);

// Mass of the bike in kg; the order of the sum is fixed so that equal builds weigh the same to the
// last bit whichever path computes it.
double bike_mass(const Setup& setup, const rules::Selection& parts, double carried_charger_mass,
                 double chain_mass, double front_mass, double rear_mass, double extras_mass);

// Charging time in s: the usable charge over the charger's current, or over what the requirement's
// outlet feeds through it at the pack's nominal voltage, if that is less; kNone without a charger.
double charge_time(const Setup& setup, const parts::PackPart& pack,
                   const parts::ChargerPart* charger);

}  // namespace sprocketry::search
