#include "load_support.hpp"
#include "model/constants.hpp"

namespace sprocketry::test {
namespace {

constexpr double kDegree = model::kPi / 180;
constexpr std::string_view kArm =
    "  swing_arm: {length: 500 mm, shaft_from_pivot: {forward: 75 mm, up: 20 mm}, droop: 18 deg, "
    "rest: 11 deg, bump: -2 deg, pivot_diameter: 40 mm}\n";

Loaded with_arm(std::string_view arm) {
  Loaded loaded;
  load_into(loaded, edited(kTinyRequirement, "rider:", std::string(arm) + "rider:"), kTinyParts);
  return loaded;
}

TEST(LoadSwingArm, ReadsPlacesAndAnglesBelowTheHorizontal) {
  const Loaded loaded = with_arm(kArm);
  EXPECT_LOADS(loaded);
  const spec::Bike& bike = loaded.requirement().bike;
  ASSERT_TRUE(bike.swing_arm.has_value());
  EXPECT_EQ(bike.swing_arm->shaft_forward, 0.075);
  EXPECT_EQ(bike.swing_arm->shaft_up, 0.020);
  EXPECT_NEAR(bike.swing_arm->droop, 18 * kDegree, 1e-15);
  EXPECT_NEAR(bike.swing_arm->rest, 11 * kDegree, 1e-15);
  EXPECT_NEAR(bike.swing_arm->bump, -2 * kDegree, 1e-15);
  EXPECT_EQ(bike.pivot_diameter, 0.040);
}

TEST(LoadSwingArm, MayBeLeftOutAndSoMayThePivot) {
  Loaded without;
  load_into(without, kTinyRequirement, kTinyParts);
  EXPECT_LOADS(without);
  EXPECT_FALSE(without.requirement().bike.swing_arm.has_value());
  const Loaded loaded = with_arm(edited(kArm, ", pivot_diameter: 40 mm", ""));
  EXPECT_LOADS(loaded);
  EXPECT_TRUE(loaded.requirement().bike.swing_arm.has_value());
  EXPECT_FALSE(loaded.requirement().bike.pivot_diameter.has_value());
}

TEST(LoadSwingArm, RefusesWhatMakesNoSense) {
  const struct {
    std::string_view from, to, fragment;
  } kCases[] = {
      {"length: 500 mm, ", "", "length"},
      {"length: 500 mm", "length: 500", "a length"},
      {"length: 500 mm", "length: 50 mm", "length"},
      {"forward: 75 mm, ", "", "forward"},
      {"shaft_from_pivot: {forward: 75 mm, up: 20 mm}, ", "", "shaft_from_pivot"},
      {"up: 20 mm", "up: 400 mm", "up"},
      {"up: 20 mm", "upp: 20 mm", "did you mean `up`"},
      {"droop: 18 deg", "droop: 18 mm", "an angle"},
      {"droop: 18 deg", "droop: 60 deg", "droop"},
      {"droop: 18 deg", "droop: 9 deg", "`droop` is below `rest`"},
      {"bump: -2 deg", "bump: 12 deg", "`rest` is below `bump`"},
      {"pivot_diameter: 40 mm", "pivot_diameter: 4 mm", "pivot_diameter"},
      {"pivot_diameter", "pivot_diametre", "did you mean `pivot_diameter`"},
  };
  for (const auto& c : kCases) {
    const Loaded loaded = with_arm(edited(kArm, c.from, c.to));
    EXPECT_FALSE(loaded.job.has_value()) << c.to;
    EXPECT_NE(loaded.text().find(c.fragment), std::string::npos) << c.to << '\n' << loaded.text();
  }
}

TEST(LoadSwingArm, RefusesAnArmThatContradictsTheCentreDistance) {
  // 560 to 590 mm at rest need arms of 482.6 to 512.6 mm; 10 mm of measuring error pass.
  for (const std::string_view fine : {"473 mm", "500 mm", "522 mm"}) {
    const Loaded loaded = with_arm(edited(kArm, "500 mm", fine));
    EXPECT_TRUE(loaded.job.has_value()) << fine << '\n' << loaded.text();
  }
  for (const std::string_view wrong : {"472 mm", "523 mm"}) {
    const Loaded loaded = with_arm(edited(kArm, "500 mm", wrong));
    EXPECT_TRUE(one_error(loaded, "bike.yaml", 7, "contradicts the centre distance")) << wrong;
  }
  const Loaded loaded = with_arm(edited(kArm, "500 mm", "540 mm"));
  EXPECT_NE(loaded.text().find("an arm of 483 mm to 513 mm"), std::string::npos) << loaded.text();
}

TEST(LoadSwingArm, RefusesAShaftFartherFromThePivotThanHalfTheArm) {
  const Loaded loaded = with_arm(edited(kArm, "forward: 75 mm", "forward: 260 mm"));
  EXPECT_TRUE(one_error(loaded, "bike.yaml", 7, "half the arm's length"));
}

}  // namespace
}  // namespace sprocketry::test
