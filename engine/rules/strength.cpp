#include <array>

#include "model/chain_strength.hpp"
#include "rules/checks.hpp"
#include "rules/front_torque.hpp"

namespace sprocketry::rules {
namespace {

// A single load above half of a chain's least breaking load damages it for good: a chain maker's
// engineering guide (seen).
constexpr double kPeakShare = 0.5;

// Least breaking load in N; a half link is the weakest.
double strength(const Context& c) {
  const int links = c.chain.fit ? c.chain.fit->links : 0;
  return c.parts.chain->model.tensile_strength * model::strength_share(links);
}

Finding peak_pull(const Context& c, std::size_t) {
  const model::Chain& chain = c.parts.chain->model;
  return at_most(model::largest_pull(chain, c.parts.front_teeth, front_shaft(c.requirement).torque,
                                     front_shaft(c.requirement).speed, c.torque.burst),
                 kPeakShare * strength(c));
}

constexpr Stage kStage = Stage::kStrength;

constexpr std::array kRules = {
    Rule{"chain peak pull", kStage, Kind::kReject, Unit::kNewton, 0,
         "half the least tensile strength (65 % of it with a half link): chain makers' guides",
         "the largest pull on the chain does not damage it", one_item, peak_pull},
};

}  // namespace

std::span<const Rule> strength_rules() { return kRules; }

}  // namespace sprocketry::rules
