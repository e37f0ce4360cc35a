// Keys, hubs and set screws against standards, handbook tables and a textbook's worked example.
// "Seen": read in a public copy of the text; "from memory": recalled from the named publication;
// "computed": recalculated elsewhere from stated inputs.
#include "model/hub.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "model/sprocket.hpp"
#include "parts/hub_tables.hpp"
#include "parts/shaft_keys.hpp"

namespace sprocketry::parts {
namespace {

constexpr double kInch = 25.4e-3;                // m
constexpr double kPoundForce = 4.4482216152605;  // N
constexpr double kPoundForceInch = kPoundForce * kInch;
constexpr double kKsi = 1000 * kPoundForce / (kInch * kInch);  // Pa

double inch_key(double diameter) {
  const KeySize* key = standard_key(diameter * kInch);
  return key == nullptr ? 0 : key->width / kInch;
}

TEST(InchKeys, AreThoseOfAnsiB171) {
  // ANSI B17.1-1967, "over - to (including)": diameter, square key and depth of the seat in inches
  // (seen; Shigley, Table 7-6). Exact.
  constexpr struct {
    double over, to, key, depth;
  } kRows[] = {{0.3125, 0.4375, 0.09375, 0.046875},
               {0.4375, 0.5625, 0.125, 0.0625},
               {0.5625, 0.875, 0.1875, 0.09375},
               {0.875, 1.25, 0.25, 0.125},
               {1.25, 1.375, 0.3125, 0.15625},
               {1.375, 1.75, 0.375, 0.1875},
               {1.75, 2.25, 0.5, 0.25}};
  for (const auto& row : kRows) {
    SCOPED_TRACE(row.to);
    EXPECT_NEAR(inch_key(row.over + 1.0 / 32), row.key, 1e-12);
    EXPECT_NEAR(inch_key(row.to), row.key, 1e-12);
    EXPECT_NEAR(standard_key(row.to * kInch)->shaft_depth / kInch, row.depth, 1e-12);
    EXPECT_NEAR(standard_key(row.to * kInch)->height / kInch, row.key, 1e-12);
  }
}

TEST(MetricKeys, AreThoseOfDin6885) {
  // DIN 6885-1, ISO 773: diameter over and to, width, height (seen), seat depth t1 (seen for the
  // shafts of the frame standard), mm. Exact.
  constexpr struct {
    double over, to, width, height, depth;
  } kRows[] = {{12, 17, 5, 5, 3.0},
               {17, 22, 6, 6, 3.5},
               {22, 30, 8, 7, 4.0},
               {30, 38, 10, 8, 5.0},
               {38, 44, 12, 8, 5.0}};
  for (const auto& row : kRows) {
    for (const double diameter : {row.over + 0.2, row.to}) {
      SCOPED_TRACE(diameter);
      const KeySize* key = standard_key(diameter * 1e-3);
      ASSERT_NE(key, nullptr);
      EXPECT_NEAR(key->width, row.width * 1e-3, 1e-12);
      EXPECT_NEAR(key->height, row.height * 1e-3, 1e-12);
      EXPECT_NEAR(key->shaft_depth, row.depth * 1e-3, 1e-12);
    }
  }
}

TEST(ShaftEnds, OfTheFrameStandardsHaveTheStandardKey) {
  // NEMA MG 1 by public charts and IEC 60072-1 (diameters and keys seen). Diameter and key of each
  // frame were published apart from the tables of keys, which they must agree with. 42 and 48 are
  // flat.
  for (const ShaftEnd& end : shaft_ends()) {
    if (end.key == 0) continue;
    const KeySize* key = standard_key(end.diameter);
    ASSERT_NE(key, nullptr) << end.frame;
    EXPECT_NEAR(key->width, end.key, 1e-12) << end.frame;
  }
}

TEST(ShaftEnds, AreThePublishedOnes) {
  constexpr struct {
    const char* frame;
    double diameter, key;  // m
  } kRows[] = {{"NEMA 56", 0.625 * kInch, 0.1875 * kInch},
               {"NEMA 143T, 145T", 0.875 * kInch, 0.1875 * kInch},
               {"NEMA 182T, 184T", 1.125 * kInch, 0.25 * kInch},
               {"IEC 80", 19e-3, 6e-3},
               {"IEC 90", 24e-3, 8e-3},
               {"IEC 132", 38e-3, 10e-3}};
  for (const auto& row : kRows) {
    bool found = false;
    for (const ShaftEnd& end : shaft_ends()) {
      if (end.frame != row.frame) continue;
      found = true;
      EXPECT_NEAR(end.diameter, row.diameter, 1e-12) << row.frame;
      EXPECT_NEAR(end.key, row.key, 1e-12) << row.frame;
    }
    EXPECT_TRUE(found) << row.frame;
  }
}

TEST(Key, CarriesTheTorqueOfShigleysExample) {
  // Shigley, Example 7-6 (from memory, recomputed): 40 hp at 600 rpm, 1 7/16 in shaft, 3/8 in
  // square key of Sy 65 kpsi, n = 2.80. Printed: F = 5850 lbf, l = 1.16 in in shear and 1.34 in in
  // bearing, Ssy = 37.5 kpsi. The stress at the printed length is the allowed one to the rounding.
  const double torque = 63025.0 * 40 / 600 * kPoundForceInch;
  const double diameter = 1.4375 * kInch;
  const double force = model::tangential_force(torque, diameter);
  EXPECT_NEAR(force / kPoundForce, 5850, 5);
  EXPECT_NEAR(0.577 * 65, 37.5, 0.01);
  const KeySize* key = standard_key(diameter);
  ASSERT_NE(key, nullptr);
  EXPECT_NEAR(key->width / kInch, 0.375, 1e-12);
  EXPECT_NEAR(model::key_shear_stress(force, key->width, 1.16 * kInch) / kKsi, 37.5 / 2.8, 0.07);
  EXPECT_NEAR(model::key_bearing_stress(force, key->bearing_height(), 1.34 * kInch) / kKsi,
              65 / 2.8, 0.1);
  // The length that it takes is 1.5 in; the shaft would use 1.5 diameters, 2.16 in.
  EXPECT_NEAR(model::carrying_key_length(1.5 * kInch, 0, diameter) / kInch, 1.5, 1e-12);
  EXPECT_NEAR(model::carrying_key_length(3 * kInch, 0, diameter) / kInch, 2.15625, 1e-12);
}

TEST(SetScrews, HoldWhatShigleysTableSays) {
  // Shigley, 9th ed., Table 7-4: seating torque in lbf in (seen from #8 to 5/8 but 9/16), holding
  // power in lbf (from memory). Exact.
  constexpr struct {
    double diameter, torque, holding;
  } kRows[] = {{0.164, 20, 385},   {0.190, 36, 540},    {0.25, 87, 1000}, {0.3125, 165, 1500},
               {0.375, 290, 2000}, {0.4375, 430, 2500}, {0.5, 620, 3000}, {0.625, 1325, 4000}};
  for (const auto& row : kRows) {
    SCOPED_TRACE(row.diameter);
    const auto screw = set_screw(row.diameter * kInch);
    ASSERT_TRUE(screw.has_value());
    EXPECT_NEAR(screw->seating_torque / kPoundForceInch, row.torque, 1e-9);
    EXPECT_NEAR(screw->holding_power / kPoundForce, row.holding, 1e-9);
  }
}

TEST(SetScrews, OfTheSmallestSizesHoldATorqueThatWasPublishedToo) {
  // A chart of holding power (seen): #0, #1 and #2 hold 1.5, 2.0 and 2.6 lbf in on a shaft of
  // 1/16 in. Its figures are cut, not rounded: 0.07.
  constexpr struct {
    double diameter, torque;
  } kRows[] = {{0.060, 1.5}, {0.073, 2.0}, {0.086, 2.6}};
  for (const auto& row : kRows) {
    const double power = set_screw(row.diameter * kInch)->holding_power;
    EXPECT_NEAR(model::holding_torque(power, kInch / 16) / kPoundForceInch, row.torque, 0.07);
  }
}

TEST(SetScrews, OfAQuarterInchHold49NewtonMetresOnA78Shaft) {
  // 1000 lbf x 7/16 in = 437 lbf in, 49 N m (computed).
  const double torque =
      model::holding_torque(set_screw(0.25 * kInch)->holding_power, 0.875 * kInch);
  EXPECT_NEAR(torque / kPoundForceInch, 437.5, 0.01);
  EXPECT_NEAR(torque, 49, 0.5);
}

TEST(LargestBore, IsThatOfMachinerysHandbook) {
  // Machinery's Handbook, 31st ed., Table 10 (seen; rows put in order): inches. Exact.
  constexpr struct {
    double pitch;
    int teeth;
    double bore;
  } kRows[] = {{0.5, 11, 25.0 / 32},
               {0.5, 12, 7.0 / 8},
               {0.5, 13, 1},
               {0.5, 15, 1.25},
               {0.5, 17, 1.375},
               {0.5, 20, 1 + 25.0 / 32},
               {0.5, 25, 2 + 9.0 / 32},
               {0.625, 11, 31.0 / 32},
               {0.625, 13, 1 + 9.0 / 32},
               {0.625, 17, 1 + 25.0 / 32},
               {0.625, 25, 2 + 27.0 / 32},
               {0.75, 11, 1.25},
               {0.75, 16, 1 + 31.0 / 32},
               {0.375, 11, 19.0 / 32},
               {0.375, 15, 0.875}};
  for (const auto& row : kRows) {
    SCOPED_TRACE(std::to_string(row.pitch) + " in, " + std::to_string(row.teeth) + " teeth");
    const auto bore = largest_bore(row.pitch * kInch, row.teeth);
    ASSERT_TRUE(bore.has_value());
    EXPECT_NEAR(bore->bore / kInch, row.bore, 1e-12);
    EXPECT_TRUE(bore->source.starts_with("Machinery's Handbook"));
  }
}

TEST(LargestBore, OfTheTableLeavesTheWallOverTheStandardKey) {
  // Cross-check of two tables and a formula: bore, key of ANSI B17.1 and 0.06 in of wall each side
  // lie inside the largest hub of ASME B29.1. From 1/2 in pitch on; at 3/8 in and 11 teeth the
  // table leaves 0.047 in.
  for (const double pitch : {0.5, 0.625, 0.75}) {
    for (int teeth = 11; teeth <= 25; ++teeth) {
      const auto bore = largest_bore(pitch * kInch, teeth);
      ASSERT_TRUE(bore.has_value());
      if (!bore->source.starts_with("Machinery")) continue;
      const KeySize* key = standard_key(bore->bore);
      ASSERT_NE(key, nullptr);
      EXPECT_LE(bore->bore + key->width + 2 * 0.06 * kInch,
                model::largest_hub_diameter(pitch * kInch, teeth) + 2 * 0.03e-3)
          << pitch << " in, " << teeth << " teeth";
    }
  }
}

}  // namespace
}  // namespace sprocketry::parts
