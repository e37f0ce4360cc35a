// The rules on adjuster and suspension just inside and just outside of their limits, and without
// their data. Invented drive: 420 chain, 12 and 60 teeth, 126 links.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "model/constants.hpp"
#include "rules/rule.hpp"
#include "search/setup.hpp"

namespace sprocketry::rules {
namespace {

constexpr double kPitch = 12.7e-3;
constexpr double kDegree = model::kPi / 180;

struct Bike {
  spec::Requirement requirement;
  parts::ChainPart chain;
  Selection parts;
  ChainRun run;
  spec::Metrics metrics;

  Bike() {
    chain.model.pitch = kPitch;
    parts.chain = &chain;
    parts.front_teeth = 12;
    parts.rear_teeth = 60;
    const double fitted = model::centre_distance(kPitch, 12, 60, 126).value_or(0);
    requirement.bike.min_centre_distance = fitted - 0.002;
    requirement.bike.max_centre_distance = fitted + 0.020;
  }
  void add_arm() {
    requirement.bike.swing_arm =
        model::SwingArm{0.075, 0.020, 18 * kDegree, 11 * kDegree, 0 * kDegree};
  }
  // The rule's outcome for the run that the search would make.
  Finding check(std::string_view name) {
    run = search::chain_run(requirement, chain.model, parts.front_teeth, parts.rear_teeth);
    return check_as_is(name);
  }
  [[nodiscard]] Finding check_as_is(std::string_view name) const {
    const auto rule = std::ranges::find(rule_table(), name, &Rule::name);
    if (rule == rule_table().end()) {
      ADD_FAILURE() << "no rule " << name;
      return {};
    }
    return rule->check({requirement, parts, run, metrics}, 0);
  }
};

constexpr double kHair = 1e-9;  // m

TEST(WearTravel, HoldsFromHalfOfOneAndAHalfPercentOfTheLength) {
  Bike bike;
  const double needed = 0.0075 * 126 * kPitch;  // 12.0 mm
  const double fitted = bike.requirement.bike.min_centre_distance + 0.002;
  bike.requirement.bike.max_centre_distance = fitted + needed + kHair;
  EXPECT_TRUE(bike.check("wear travel").holds());
  EXPECT_NEAR(bike.check("wear travel").limit, needed, 1e-15);
  EXPECT_EQ(bike.run.fit->links, 126);
  bike.requirement.bike.max_centre_distance = fitted + needed - kHair;
  EXPECT_FALSE(bike.check("wear travel").holds());
}

TEST(WearTravel, IsUncheckedWithoutAChainThatFits) {
  Bike bike;
  bike.requirement.bike.max_centre_distance = bike.requirement.bike.min_centre_distance;
  EXPECT_TRUE(bike.check("wear travel").unchecked());
}

TEST(HalfLink, IsACautionOnOddCountsOnly) {
  Bike bike;
  bike.requirement.choose.half_links = true;
  EXPECT_TRUE(bike.check("half link").holds());
  const double odd = model::centre_distance(kPitch, 12, 60, 125).value_or(0);
  bike.requirement.bike.min_centre_distance = odd - 0.001;
  EXPECT_FALSE(bike.check("half link").holds());
  EXPECT_EQ(bike.run.fit->links, 125);
  bike.requirement.bike.max_centre_distance = bike.requirement.bike.min_centre_distance;
  EXPECT_TRUE(bike.check("half link").unchecked());
  EXPECT_EQ(std::ranges::find(rule_table(), "half link", &Rule::name)->kind, Kind::kCaution);
}

TEST(HalfLink, LeavesThePeakPull65PercentOfItsLimit) {
  Bike bike;
  bike.chain.model.tensile_strength = 15600;
  EXPECT_NEAR(bike.check("chain peak pull").limit, 0.5 * 15600, 1e-9);
  bike.requirement.choose.half_links = true;
  bike.run.fit->links = 125;
  EXPECT_NEAR(bike.check_as_is("chain peak pull").limit, 0.5 * 0.65 * 15600, 1e-9);
}

TEST(SlackRules, AreUncheckedWithoutASwingArm) {
  Bike bike;
  for (const char* name : {"slack position", "slack", "slack limit", "pivot clearance"}) {
    const Finding finding = bike.check(name);
    ASSERT_TRUE(finding.unchecked()) << name;
    EXPECT_STREQ(finding.missing, "bike.swing_arm");
  }
}

TEST(SlackRules, AreUncheckedWithoutAChainThatFits) {
  Bike bike;
  bike.add_arm();
  bike.requirement.bike.pivot_diameter = 0.03;
  bike.requirement.bike.max_centre_distance = bike.requirement.bike.min_centre_distance;
  for (const char* name : {"slack position", "slack", "slack limit", "pivot clearance"}) {
    EXPECT_TRUE(bike.check(name).unchecked()) << name;
  }
}

TEST(SlackPosition, HoldsWhileTheAxleCanGoForwardForTheSlack) {
  Bike bike;
  bike.add_arm();
  EXPECT_TRUE(bike.check("slack position").holds());
  const double rest = bike.run.slack.value().rest_distance;
  // Nothing longer fits, so the count stays.
  bike.requirement.bike.max_centre_distance = rest + 0.006;
  bike.requirement.bike.min_centre_distance = rest - kHair;
  EXPECT_TRUE(bike.check("slack position").holds());
  bike.requirement.bike.min_centre_distance = rest + kHair;
  EXPECT_FALSE(bike.check("slack position").holds());
  EXPECT_EQ(bike.run.fit->links, 126);
}

TEST(SlackPosition, LetsTheNextLongerChainFitInstead) {
  Bike bike;
  bike.add_arm();
  bike.check("slack position");
  bike.requirement.bike.min_centre_distance = bike.run.slack.value().rest_distance + kHair;
  bike.requirement.bike.max_centre_distance += 0.010;
  EXPECT_TRUE(bike.check("slack position").holds());
  EXPECT_EQ(bike.run.fit->links, 128);
}

TEST(Slack, HoldsUpToSixPercentOfTheRunAndItsLimitUpToTwelve) {
  Bike bike;
  bike.add_arm();
  bike.check("slack");
  model::SlackSetting& s = bike.run.slack.value();
  const auto holds = [&](const char* name, double share) {
    s.play_rest = share * s.rest_span;
    return bike.check_as_is(name).holds();
  };
  EXPECT_TRUE(holds("slack", 0.06 - 1e-9));
  EXPECT_FALSE(holds("slack", 0.06 + 1e-9));
  EXPECT_TRUE(holds("slack limit", 0.12 - 1e-9));
  EXPECT_FALSE(holds("slack limit", 0.12 + 1e-9));
}

TEST(Slack, GrowsWithAPivotFarFromTheShaft) {
  // At rest far from the straight line the chain must hang loose.
  Bike bike;
  bike.add_arm();
  EXPECT_TRUE(bike.check("slack").holds());
  bike.requirement.bike.swing_arm =
      model::SwingArm{0.16, -0.02, 28 * kDegree, 24 * kDegree, -10 * kDegree};
  bike.requirement.bike.min_centre_distance -= 0.030;
  EXPECT_FALSE(bike.check("slack").holds());
  EXPECT_FALSE(bike.check("slack limit").holds());
}

TEST(PivotClearance, HoldsWhileThePlatesClearThePivot) {
  Bike bike;
  bike.add_arm();
  EXPECT_STREQ(bike.check("pivot clearance").missing, "bike.swing_arm.pivot_diameter");
  const model::SlackSetting& s = bike.run.slack.value();
  const double clear = std::min(s.pivot_to_upper, s.pivot_to_lower) - 0.5 * 0.95 * kPitch;
  ASSERT_GT(clear, 0.005);
  bike.requirement.bike.pivot_diameter = 2 * (clear - kHair);
  EXPECT_TRUE(bike.check("pivot clearance").holds());
  bike.requirement.bike.pivot_diameter = 2 * (clear + kHair);
  EXPECT_FALSE(bike.check("pivot clearance").holds());
}

}  // namespace
}  // namespace sprocketry::rules
