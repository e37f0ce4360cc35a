#include <array>
#include <cmath>

#include "rules/chain_load.hpp"
#include "rules/checks.hpp"

namespace sprocketry::rules {
namespace {

// A single load above half of a chain's least breaking load damages it for good, and in service a
// sixth is not to be exceeded: a chain maker's engineering guide (seen). Published limits reach
// from 1/3.4 to 1/10; see the chain's own data sheet.
constexpr double kPeakShare = 1.0 / 2.0;
constexpr double kContinuousShare = 1.0 / 6.0;

// Electric motor, some impact (The Complete Guide to Chain, table 4.2, seen).
constexpr double kServiceFactor = 1.3;

Finding within_share(double pull, double share, const Context& c) {
  const double strength = built_strength(c);
  if (std::isnan(strength)) {
    return not_checkable("no chain ends inside the adjuster's travel, so a half link is undecided");
  }
  return at_most(pull, share * strength);
}

Finding chain_peak_pull(const Context& c, std::size_t) {
  return within_share(peak_pull(c), kPeakShare, c);
}

Finding chain_continuous_pull(const Context& c, std::size_t) {
  return within_share(chain_load(c).continuous, kContinuousShare, c);
}

Finding power_capacity(const Context& c, std::size_t) {
  const ChainDuty duty = chain_duty(c);
  if (std::isnan(duty.power)) return not_reached("the fastest cruise speed");
  if (duty.unrated != nullptr) return not_checkable(duty.unrated);
  return at_most(kServiceFactor * duty.power, duty.capacity);
}

constexpr Stage kStage = Stage::kStrength;

constexpr std::array kRules = {
    Rule{"chain peak pull", kStage, Kind::kReject, Unit::kNewton, 0,
         "half the least tensile strength: a chain maker's engineering guide",
         "the largest pull at full throttle does not damage the chain", one_item, chain_peak_pull},
    Rule{"chain continuous pull", kStage, Kind::kCaution, Unit::kNewton, 0,
         "a sixth of the least tensile strength: a chain maker's engineering guide",
         "the pull of the continuous motor current leaves the chain a long life", one_item,
         chain_continuous_pull},
    Rule{
        "chain power capacity", kStage, Kind::kCaution, Unit::kKilowatt, spec::figures::kCruise,
        "classic ANSI B29.1 rating for 15 000 h, service factor 1.3",
        "at the fastest cruise (without one: at the continuous rating) plates, rollers and pins of "
        "an industrial chain last as its tables say",
        one_item, power_capacity},
};

}  // namespace

std::span<const Rule> strength_rules() { return kRules; }

}  // namespace sprocketry::rules
