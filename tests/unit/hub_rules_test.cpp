#include <cmath>

#include "model/hub.hpp"
#include "parts/hub_tables.hpp"
#include "parts/shaft_keys.hpp"
#include "rule_support.hpp"
#include "rules/hub.hpp"

namespace sprocketry::test {
namespace {

constexpr double kInch = 25.4e-3;  // m

// A 7/8 in shaft with a 3/16 in square key, 25 mm of hub: F = 2 T/d, shear F/(w l), bearing
// 2 F/(h l). The limits are 0.577 x 370/2.5 = 85.396 MPa and 148 MPa.
double shear_torque(double stress) { return stress * 4.7625e-3 * 25e-3 * 22.225e-3 / 2; }
double bearing_torque(double stress) { return stress * 4.7625e-3 / 2 * 25e-3 * 22.225e-3 / 2; }

TEST(KeyShearRule, HoldsToTheLimitAndRejectsBeyond) {
  Bench bench;
  bench.torque.peak = shear_torque(85.3e6);
  EXPECT_TRUE(bench.row("key shear").holds);
  EXPECT_NEAR(bench.row("key shear").value, 85.3, 1e-9);
  EXPECT_NEAR(bench.row("key shear").limit, 0.577 * 370 / 2.5, 1e-9);
  EXPECT_EQ(bench.row("key shear").unit, "MPa");
  bench.torque.peak = shear_torque(85.5e6);
  EXPECT_FALSE(bench.row("key shear").holds);
  EXPECT_EQ(bench.row("key shear").kind, rules::Kind::kReject);
}

TEST(KeyBearingRule, HoldsToTheLimitAndRejectsBeyond) {
  Bench bench;
  bench.torque.peak = bearing_torque(147.9e6);
  EXPECT_TRUE(bench.row("key bearing").holds);
  EXPECT_NEAR(bench.row("key bearing").value, 147.9, 1e-9);
  bench.torque.peak = bearing_torque(148.1e6);
  EXPECT_FALSE(bench.row("key bearing").holds);
}

TEST(KeyRules, TakeTheStrengthThatTheFamilyStates) {
  Bench bench;
  bench.torque.peak = bearing_torque(200e6);
  EXPECT_FALSE(bench.row("key bearing").holds);
  bench.front.key_strength = 530e6;
  EXPECT_TRUE(bench.row("key bearing").holds);
  EXPECT_NEAR(bench.row("key bearing").limit, 212, 1e-9);
}

TEST(KeyRules, StayUncheckedWithoutTheFieldTheyName) {
  for (const char* rule : {"key shear", "key bearing"}) {
    Bench bench;
    bench.front.hub_length.reset();
    EXPECT_TRUE(bench.row(rule).unchecked);
    EXPECT_EQ(bench.row(rule).missing, "front_sprockets.hub_length");
    bench.front.key.reset();
    EXPECT_EQ(bench.row(rule).missing, "front_sprockets.hub_length");
    bench.motor.shaft->key.reset();
    EXPECT_EQ(bench.row(rule).missing, "front_sprockets.key");
    bench.front.bore.reset();
    bench.motor.shaft.reset();
    EXPECT_EQ(bench.row(rule).missing, "front_sprockets.bore");
  }
}

TEST(KeyRules, AskNothingOfAHubWithoutKey) {
  Bench bench;
  bench.front.key = 0;
  bench.torque.peak = 1000;
  EXPECT_TRUE(bench.row("key shear").holds);
  EXPECT_TRUE(bench.row("key bearing").holds);
}

TEST(KeyLength, IsTheShortestOfHubShaftAndOneAndAHalfDiameters) {
  EXPECT_DOUBLE_EQ(model::carrying_key_length(0.025, 0.045, 0.022), 0.025);
  EXPECT_DOUBLE_EQ(model::carrying_key_length(0.050, 0.030, 0.022), 0.030);
  EXPECT_DOUBLE_EQ(model::carrying_key_length(0.050, 0.045, 0.022), 0.033);
  EXPECT_DOUBLE_EQ(model::carrying_key_length(0.030, 0, 0.022), 0.030);
}

TEST(KeyHeight, ThatBearsIsTheLesserOfShaftAndHub) {
  // DIN 6885-1, 8 x 7 mm: 4.0 mm in the shaft leave 3.0 mm in the hub.
  EXPECT_NEAR(parts::key_of_width(8e-3, 24e-3).bearing_height(), 3.0e-3, 1e-12);
  EXPECT_NEAR(parts::key_of_width(6.35e-3, 28.575e-3).bearing_height(), 3.175e-3, 1e-12);
  // No table has 7 mm: taken as square.
  EXPECT_NEAR(parts::key_of_width(7e-3, 24e-3).bearing_height(), 3.5e-3, 1e-12);
}

TEST(SetScrewTorqueRule, HoldsToAQuarterOfTheTableAndCautionsBeyond) {
  Bench bench;
  bench.front.key = 0;
  bench.front.set_screws = parts::SetScrews{0.25 * kInch, 1};
  const double held = 1000 * 4.4482216152605 * 0.4375 * kInch / 4;
  bench.torque.peak = held - 0.01;
  EXPECT_TRUE(bench.row("set screw torque").holds);
  EXPECT_NEAR(bench.row("set screw torque").limit, held, 1e-9);
  EXPECT_EQ(bench.row("set screw torque").unit, "N m");
  bench.torque.peak = held + 0.01;
  const rules::Row caution = bench.row("set screw torque");
  EXPECT_FALSE(caution.holds);
  EXPECT_EQ(caution.kind, rules::Kind::kCaution);
  EXPECT_EQ(caution.reason,
            "one 1/4 in set screw holds 49 N m at rest, a quarter or less under changing load");
  // A second one counts for nothing, a key for all.
  bench.front.set_screws->count = 2;
  EXPECT_FALSE(bench.row("set screw torque").holds);
  bench.front.key = 4.7625e-3;
  EXPECT_TRUE(bench.row("set screw torque").holds);
}

TEST(SetScrewRules, StayUncheckedWithoutTheFieldTheyName) {
  Bench bench;
  bench.front.key = 0;
  EXPECT_EQ(bench.row("set screw torque").missing, "front_sprockets.set_screws");
  EXPECT_EQ(bench.row("set screw alone").missing, "front_sprockets.set_screws");
  bench.front.key.reset();
  EXPECT_EQ(bench.row("set screw torque").missing, "front_sprockets.key");
  EXPECT_EQ(bench.row("set screw alone").missing, "front_sprockets.key");
}

TEST(SetScrewAloneRule, CautionsAHubWithoutKeyHoweverSmallTheTorque) {
  Bench bench;
  EXPECT_TRUE(bench.row("set screw alone").holds);
  bench.front.set_screws = parts::SetScrews{0.25 * kInch, 1};
  EXPECT_TRUE(bench.row("set screw alone").holds);
  bench.front.key = 0;
  EXPECT_FALSE(bench.row("set screw alone").holds);
  EXPECT_EQ(bench.row("set screw alone").kind, rules::Kind::kCaution);
  EXPECT_NE(bench.row("set screw alone").reason.find("must not carry"), std::string::npos);
}

TEST(LargestBoreRule, HoldsToTheTableAndCautionsBeyond) {
  // 12 teeth at 1/2 in pitch: 7/8 in.
  Bench bench;
  EXPECT_TRUE(bench.row("largest bore").holds);
  bench.front.bore = 22.226e-3;
  EXPECT_FALSE(bench.row("largest bore").holds);
  EXPECT_EQ(bench.row("largest bore").kind, rules::Kind::kCaution);
  EXPECT_NE(bench.row("largest bore").reason.find("Machinery's Handbook"), std::string::npos);
  bench.front.bore.reset();
  EXPECT_EQ(bench.row("largest bore").missing, "front_sprockets.bore");
}

TEST(LargestBore, ByTheWallLiesJustInsideTheLargestHub) {
  // 10 teeth at 1/2 in: largest hub 12.7 (cot 18 deg - 1) - 0.76 = 25.627 mm. With 1/8 in of key
  // and 2 x 1.5 mm of wall 19.45 mm are left, over what takes that key; with 3/16 in 17.864 mm.
  const auto bore = parts::largest_bore(12.7e-3, 10);
  ASSERT_TRUE(bore.has_value());
  EXPECT_NEAR(bore->bore, 17.864e-3, 1e-6);
  EXPECT_TRUE(bore->source.starts_with("1.5 mm"));
  EXPECT_FALSE(parts::largest_bore(6.35e-3, 7).has_value());
}

TEST(FrontBoreRule, SaysWhatDiffers) {
  Bench bench;
  bench.front.bore = 22e-3;
  EXPECT_EQ(bench.row("front bore").reason,
            "the shaft is 7/8 in (22.23 mm), the bore 22 mm: it does not go on");
  bench.front.bore = 25e-3;
  EXPECT_EQ(bench.row("front bore").reason,
            "the shaft is 7/8 in (22.23 mm), the bore 25 mm: it sits loose and off centre");
}

TEST(FrontKeyRule, SaysWhatTheStandardGivesTheShaft) {
  Bench bench;
  EXPECT_EQ(bench.row("front key").reason, "");
  bench.front.key = 6.35e-3;
  EXPECT_EQ(bench.row("front key").reason,
            "a 7/8 in shaft takes a 3/16 in key; this hub has 1/4 in");
  bench.front.key = 0;
  EXPECT_EQ(bench.row("front key").reason,
            "a 7/8 in shaft takes a 3/16 in key; this hub has no keyway");
  bench.motor.shaft->key = 6.35e-3;
  bench.front.key = 4.7625e-3;
  EXPECT_EQ(bench.row("front key").reason,
            "this motor's 7/8 in shaft has a 1/4 in key, this hub has 3/16 in; a 7/8 in shaft "
            "takes a 3/16 in key (ANSI B17.1-1967; NEMA 143T, 145T)");
}

TEST(ShopSize, IsAFractionOfAnInchOrMillimetres) {
  EXPECT_EQ(parts::shop_size(22.225e-3), "7/8 in");
  EXPECT_EQ(parts::shop_size(22.23e-3), "7/8 in");
  EXPECT_EQ(parts::shop_size(28.575e-3), "1 1/8 in");
  EXPECT_EQ(parts::shop_size(25.4e-3), "1 in");
  EXPECT_EQ(parts::shop_size(0.09375 * kInch), "3/32 in");
  EXPECT_EQ(parts::shop_size(22.22e-3), "7/8 in");
  EXPECT_EQ(parts::shop_size(22e-3), "22 mm");
  EXPECT_EQ(parts::shop_size(0), "0 mm");
  for (int millimetre = 1; millimetre < 127; ++millimetre) {
    EXPECT_FALSE(parts::is_inch_size(millimetre * 1e-3)) << millimetre;
  }
}

TEST(StandardKey, ChangesAtTheEndsOfItsRange) {
  EXPECT_NEAR(parts::standard_key(0.875 * kInch)->width, 0.1875 * kInch, 1e-12);
  EXPECT_NEAR(parts::standard_key(29.0 / 32 * kInch)->width, 0.25 * kInch, 1e-12);
  EXPECT_NEAR(parts::standard_key(22e-3)->width, 6e-3, 1e-12);
  EXPECT_NEAR(parts::standard_key(22.1e-3)->width, 8e-3, 1e-12);
  EXPECT_EQ(parts::standard_key(0.3125 * kInch), nullptr);
  EXPECT_EQ(parts::standard_key(8e-3), nullptr);
  EXPECT_EQ(parts::standard_key(60e-3), nullptr);
}

TEST(SprocketNumbers, HoldWhatABuilderNeeds) {
  Bench bench;
  bench.torque.peak = 40;
  rules::Selection parts;
  parts.motor = &bench.motor;
  parts.chain = &bench.chain;
  parts.front = &bench.front;
  parts.front_teeth = 13;
  parts.rear = &bench.rear;
  parts.rear_teeth = 48;
  const rules::SprocketNumbers n =
      rules::sprocket_numbers({bench.requirement, parts, bench.run, bench.metrics, bench.torque});
  EXPECT_DOUBLE_EQ(n.pitch, 12.7e-3);
  EXPECT_DOUBLE_EQ(n.roller_diameter, 7.77e-3);
  EXPECT_NEAR(n.front.pitch_diameter, 53.068e-3, 1e-6);
  EXPECT_NEAR(n.front.root_diameter, 45.298e-3, 1e-6);
  EXPECT_LT(n.front.caliper_diameter, n.front.root_diameter);
  EXPECT_DOUBLE_EQ(n.rear.caliper_diameter, n.rear.root_diameter);
  EXPECT_NEAR(n.largest_bore->bore, 25.4e-3, 1e-12);
  EXPECT_NEAR(n.key.length, 25e-3, 1e-12);
  EXPECT_NEAR(n.key.shear, 2 * 40 / (22.225e-3 * 4.7625e-3 * 25e-3), 1);
  EXPECT_TRUE(std::isnan(n.set_screw_torque));
}

}  // namespace
}  // namespace sprocketry::test
