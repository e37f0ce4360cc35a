#include "model/wiring.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "model/constants.hpp"
#include "model/performance.hpp"

namespace sprocketry::model {
namespace {

// ABYC E-11, 105 degC column, outside engine spaces, as a cable maker's catalogue reprints it
// (seen): the table must be there row by row.
TEST(Ampacity, IsThatOfTheBoatCouncilsTable) {
  const std::vector<std::pair<std::string_view, double>> rows = {
      {"16 AWG", 25},   {"14 AWG", 35},   {"12 AWG", 45},  {"10 AWG", 60}, {"8 AWG", 80},
      {"6 AWG", 120},   {"4 AWG", 160},   {"2 AWG", 210},  {"1 AWG", 245}, {"1/0 AWG", 285},
      {"2/0 AWG", 330}, {"3/0 AWG", 385}, {"4/0 AWG", 445}};
  for (const auto& [name, ampacity] : rows) {
    const Cable* cable = smallest_cable(ampacity);
    ASSERT_NE(cable, nullptr);
    EXPECT_EQ(cable->name, name);
    const Cable* next = smallest_cable(ampacity + 0.5);
    EXPECT_TRUE(next == nullptr || next->area > cable->area);
  }
  EXPECT_EQ(smallest_cable(446), nullptr);
}

// The engine space column of the same table is printed as whole amperes of 0.85 times the other.
TEST(Ampacity, IsLessInAHotSpaceAsTheTablePrints) {
  EXPECT_NEAR(120 * kWarmSpace, 102, 0.5);
  EXPECT_NEAR(210 * kWarmSpace, 178, 0.6);
  EXPECT_NEAR(285 * kWarmSpace, 242, 0.6);
  EXPECT_NEAR(445 * kWarmSpace, 378, 0.6);
}

// IEC 60364-4-43, table 43A (from memory): k is 115 for copper in PVC (70 to 160 degC), 143 in
// cross-linked polyethylene (90 to 250 degC).
TEST(AdiabaticArea, HasTheInstallationStandardsFactors) {
  const auto k = [](double start, double end) {
    return 1e-6 / adiabatic_area(1, 1, kZeroCelsius + start, kZeroCelsius + end);
  };
  EXPECT_NEAR(k(70, 160), 115, 0.5);
  EXPECT_NEAR(k(90, 250), 143, 0.5);
  EXPECT_NEAR(adiabatic_area(200, 4, 350, 380), 400 * adiabatic_area(1, 1, 350, 380), 1e-12);
}

// By hand: 60 A for ever leave 6 AWG (102 A beside a motor) at 50 + 55 (60/102)^2 = 69.0 degC, from
// where k = 226 sqrt(ln(339.5/303.5)) = 75.65 and 150 A of 60 s need 15.4 mm2: 6 AWG has 13.3. 4
// AWG (136 A) starts at 60.7 degC: 13.7 mm2 of 21.2.
TEST(MotorCable, TakesThePeakFromWhatTheRideLeaves) {
  EXPECT_EQ(smallest_motor_cable(60, 150, 60)->name, "4 AWG");
  EXPECT_EQ(smallest_motor_cable(60, 150, 40)->name, "6 AWG");
  EXPECT_EQ(smallest_motor_cable(60, 60, 1e9)->name, "8 AWG");  // 68 A for ever
  EXPECT_EQ(smallest_motor_cable(500, 500, 60), nullptr);
}

// ASTM B258: 8.25146 mm for 1/0 and 6.5437 mm for 2 AWG (also what GNU units' wiregauge says).
TEST(WireGauge, HasTheStandardsDiameters) {
  const auto diameter = [](int gauge) { return std::sqrt(wire_gauge_area(gauge) * 4 / kPi); };
  EXPECT_NEAR(diameter(0) * 1e3, 8.25146, 5e-5);
  EXPECT_NEAR(diameter(2) * 1e3, 6.5437, 5e-4);
  EXPECT_NEAR(diameter(36) * 1e3, 0.127, 1e-9);
  EXPECT_NEAR(diameter(-3) * 1e3, 11.684, 5e-4);  // 4/0: 0.4600 in
}

// IEC 60228, class 5, plain copper at 20 degC in ohm/km (seen in two cable makers' tables, which
// call the maxima minima). What we assume is never less, and at most 4.5 % more.
TEST(CableResistance, CoversTheMaximaOfFlexibleCable) {
  const std::vector<std::pair<double, double>> rows = {{6, 3.30},   {10, 1.91},  {16, 1.21},
                                                       {25, 0.780}, {35, 0.554}, {50, 0.386},
                                                       {70, 0.272}, {95, 0.206}, {120, 0.161}};
  for (const auto& [area, resistance] : rows) {
    const double ours = 1e3 * cable_resistance(area * 1e-6, kZeroCelsius + 20);
    EXPECT_GE(ours, resistance) << area << " mm2";
    EXPECT_LE(ours, resistance * 1.045) << area << " mm2";
  }
}

// 1.157 at 60 degC over 20 degC (IEC 60028's coefficient).
TEST(CableResistance, RisesWithTheCoppersHeat) {
  EXPECT_NEAR(cable_resistance(1e-5, kZeroCelsius + 60) / cable_resistance(1e-5, kZeroCelsius + 20),
              1.157, 5e-4);
}

// The smallest usual rating of at least 1.25 times the current (fuse makers' guides: no more than
// 80 % of the rating for ever). The ratings are from memory of IEC 60269-1.
TEST(Fuse, IsTheSmallestOfWhichTheCurrentIsFourFifths) {
  EXPECT_EQ(fuse_rating(200), 250);
  EXPECT_EQ(fuse_rating(200.1), 315);
  EXPECT_EQ(fuse_rating(100), 125);
  EXPECT_EQ(fuse_rating(128), 160);
  EXPECT_EQ(fuse_rating(1), 16);
  EXPECT_EQ(fuse_rating(1000), 1250);
  EXPECT_TRUE(std::isnan(fuse_rating(1001)));
}

struct PrechargeRow {
  double voltage, capacitance, resistance;
  double time, energy, current, power, left;
};

// Five time constants leave 0.674 % (a semiconductor maker's design guide for precharge circuits,
// seen); the rows follow from the textbook's V(1 - exp(-t/RC)) and C V^2/2.
TEST(Precharge, FollowsTheTextbooksExponential) {
  const std::vector<PrechargeRow> rows = {{72, 20e-3, 20, 2.0, 51.84, 3.60, 259.2, 0.485},
                                          {96, 10e-3, 50, 2.5, 46.08, 1.92, 184.3, 0.647},
                                          {48, 30e-3, 10, 1.5, 34.56, 4.80, 230.4, 0.323}};
  for (const PrechargeRow& row : rows) {
    const Precharge p = precharge(row.voltage, row.capacitance, row.resistance);
    EXPECT_NEAR(p.time, row.time, 1e-12);
    EXPECT_NEAR(p.energy, row.energy, 5e-3);
    EXPECT_NEAR(p.peak_current, row.current, 5e-3);
    EXPECT_NEAR(p.peak_power, row.power, 0.05);
    EXPECT_NEAR(p.left, row.left, 5e-4);
    EXPECT_NEAR(p.left / row.voltage, 0.006738, 1e-6);
  }
}

// A published measurement set-up states 50 J for 100 V and 10 000 uF.
TEST(Precharge, TakesUpTheEnergyThatAMeasurementStates) {
  EXPECT_NEAR(precharge(100, 10e-3, 47).energy, 50, 1e-9);
}

// Values of IEC 60063's E12 only, the largest that is quick enough.
TEST(PrechargeResistor, IsTheLargestOfTheSeriesThatIsQuickEnough) {
  EXPECT_NEAR(precharge_resistor(20e-3, 2), 18, 1e-9);    // 20 ohm asked
  EXPECT_NEAR(precharge_resistor(6800e-6, 2), 56, 1e-9);  // 58.8 ohm asked
  EXPECT_NEAR(precharge_resistor(1000e-6, 2), 390, 1e-9);
  EXPECT_NEAR(precharge_resistor(40e-3, 2), 10, 1e-9);
  EXPECT_NEAR(precharge_resistor(0.5, 2), 0.68, 1e-9);
  for (const double capacitance : {3.3e-5, 1e-4, 4.7e-3, 0.1, 1.0}) {
    EXPECT_LE(precharge(72, capacitance, precharge_resistor(capacitance, 2)).time, 2.0 + 1e-9);
    EXPECT_GT(precharge(72, capacitance, precharge_resistor(capacitance, 2)).time, 1.6);
  }
}

}  // namespace
}  // namespace sprocketry::model
