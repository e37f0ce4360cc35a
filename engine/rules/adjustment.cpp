#include <algorithm>
#include <array>

#include "rules/checks.hpp"

namespace sprocketry::rules {
namespace {

// Elongation at which a chain on fixed centres is worn out (a chain maker's wear guide, seen).
constexpr double kWornOut = 0.015;

// Free play of a slack run as a share of its span: a chain supplier's guide gives 4 to 6 % (seen).
constexpr double kMuchPlay = 0.06;
// Twice that; such a chain slaps the frame and climbs off its sprockets. Common practice, no
// source.
constexpr double kTooMuchPlay = 0.12;

constexpr const char* kNoFit = "a link count that fits";
constexpr const char* kNoArm = "bike.swing_arm";

Finding wear_travel(const Context& c, std::size_t) {
  if (!c.chain.fit) return not_given(kNoFit);
  const double length = c.chain.fit->links * c.parts.chain->model.pitch;
  return at_least(c.requirement.bike.max_centre_distance - c.chain.fit->centre_distance,
                  0.5 * kWornOut * length);
}

Finding half_link(const Context& c, std::size_t) {
  if (!c.chain.fit) return not_given(kNoFit);
  return at_most(c.chain.fit->links % 2, 0);
}

// `check` on the slack setting, where there is one.
template <typename Check>
Finding of_setting(const Context& c, const Check& check) {
  if (!c.requirement.bike.swing_arm) return not_given(kNoArm);
  if (!c.chain.fit || !c.chain.slack) return not_given(kNoFit);
  return check(*c.chain.slack);
}

Finding slack_position(const Context& c, std::size_t) {
  return of_setting(c, [&](const model::SlackSetting& s) {
    return at_least(s.rest_distance, c.requirement.bike.min_centre_distance);
  });
}

Finding slack(const Context& c, std::size_t) {
  return of_setting(c, [](const model::SlackSetting& s) {
    return at_most(s.play_rest, kMuchPlay * s.rest_span);
  });
}

Finding slack_limit(const Context& c, std::size_t) {
  return of_setting(c, [](const model::SlackSetting& s) {
    return at_most(s.play_rest, kTooMuchPlay * s.rest_span);
  });
}

Finding pivot_clearance(const Context& c, std::size_t) {
  if (!c.requirement.bike.swing_arm) return not_given(kNoArm);
  if (!c.requirement.bike.pivot_diameter) return not_given("bike.swing_arm.pivot_diameter");
  return of_setting(c, [&](const model::SlackSetting& s) {
    const double nearest = std::min(s.pivot_to_upper, s.pivot_to_lower);
    return at_least(nearest - 0.5 * model::kPlateHeight * c.parts.chain->model.pitch,
                    0.5 * *c.requirement.bike.pivot_diameter);
  });
}

using slot::kDrive;
constexpr Stage kStage = Stage::kFit;

constexpr std::array kRules = {
    Rule{"wear travel", kStage, Kind::kCaution, Unit::kMillimetre, kDrive,
         "half of 1.5 % of the chain's length: a chain maker's wear limit for fixed centres (seen)",
         "the adjuster has travel left for the chain's wear", one_item, wear_travel},
    Rule{"half link", kStage, Kind::kCaution, Unit::kNone, kDrive,
         "one-pitch offset link, 65 % of the strength: a chain maker's catalogue (seen)",
         "a final drive has no half link, which is the chain's weakest", one_item, half_link},
    Rule{"slack position", kStage, Kind::kReject, Unit::kMillimetre, kDrive,
         "the adjuster's travel",
         "the axle can go forward far enough for the slack that the suspension needs", one_item,
         slack_position},
    Rule{"slack", kStage, Kind::kCaution, Unit::kMillimetre, kDrive,
         "6 % of the straight run: a chain supplier's guide (seen)",
         "the suspension needs no more slack at rest than chains are set to", one_item, slack},
    Rule{"slack limit", kStage, Kind::kReject, Unit::kMillimetre, kDrive,
         "12 % of the straight run; common practice, no source",
         "the slack that the suspension needs at rest does not let the chain climb off", one_item,
         slack_limit},
    Rule{"pivot clearance", kStage, Kind::kReject, Unit::kMillimetre, kDrive,
         "the swing arm's pivot; plates 0.95 of the pitch high (ISO 606, from memory)",
         "neither run of the chain touches the swing arm's pivot anywhere in the travel", one_item,
         pivot_clearance},
};

}  // namespace

std::span<const Rule> adjustment_rules() { return kRules; }

}  // namespace sprocketry::rules
