// Packs, Peukert's law and open-circuit curves against textbooks and measured cells. "Seen": read
// in a public copy of the text; "from memory": recalled from the named publication; "computed":
// recalculated elsewhere from stated inputs.
#include "model/battery.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <vector>

#include "model/constants.hpp"
#include "model/drive.hpp"
#include "model/profile.hpp"
#include "model/ride.hpp"
#include "published/drives.hpp"

namespace sprocketry::model {
namespace {

constexpr double kAmpereHour = 3600;  // C
constexpr double kHour = 3600;        // s
constexpr double kNoBoard = std::numeric_limits<double>::infinity();

using Curve = std::vector<OpenCircuitPoint>;

Cell cell_of(double ampere_hours, double rated_hours, double peukert, const Curve& curve) {
  Cell cell;
  cell.capacity = ampere_hours * kAmpereHour;
  cell.rated_hours = rated_hours;
  cell.peukert_exponent = peukert;
  cell.open_circuit = curve;
  cell.peak_current = kPlenty;
  return cell;
}

// Seconds for which a pack gives a power (W), by riding: a bike without losses whose rolling
// resistance takes just that power at its one speed.
double seconds_at_power(const Pack& pack, double power) {
  constexpr double kSpeed = 10;  // m/s
  DriveLimits limits =
      on_supply(0.01, 0, pack.series * open_circuit_voltage(pack.cell.open_circuit, 1));
  limits.pack_resistance = pack.resistance;
  Rolling rolling;
  rolling.mass = 100;
  rolling.load.rolling_resistance = power / kSpeed / (rolling.mass * kGravity);
  rolling.largest_force = kPlenty;
  const PackSide side{&pack, 0, kPlenty, 0};
  RideWork work;
  const RideColumns columns = ride_columns(steady_ride(kSpeed), rolling.air);
  return ride(columns, limits, {1, 1}, rolling, side, work).range / kSpeed;
}

// Hours for which a current flows from a cell whose voltage does not fall.
double hours_at_current(double ampere_hours, double rated_hours, double peukert, double current) {
  const Cell cell = cell_of(ampere_hours, rated_hours, peukert, {{0, 12}, {1, 12}});
  return seconds_at_power(make_pack(cell, 1, 1, 0, kNoBoard), 12 * current) / kHour;
}

TEST(Peukert, LastsAsLongAsInLarminiesExample) {
  // Larminie and Lowry ch. 2 (from memory): 42 Ah at 10 h, 33.6 Ah at 1 h, k = ln 10/ln 8 = 1.107;
  // hours computed from t = H (C/(I H))^k.
  const double k = std::log(10.0) / std::log(8.0);
  EXPECT_NEAR(k, 1.107309, 5e-7);
  const auto hours = [&](double current) { return hours_at_current(42, 10, k, current); };
  EXPECT_NEAR(hours(4.2), 10, 1e-9);
  EXPECT_NEAR(hours(33.6), 1, 1e-9);
  constexpr double kTable[][2] = {
      {10, 3.82666}, {20, 1.77618}, {50, 0.643938}, {100, 0.298890}, {200, 0.138732}};
  for (const auto& [current, time] : kTable) EXPECT_NEAR(hours(current), time, 5.1e-6) << current;
}

TEST(Peukert, LastsAsLongAsInHusainsExample) {
  // Husain ch. 3 (from memory): 10 h at 18 A, 1 h at 110 A; exponent 1.27207 (computed).
  EXPECT_NEAR(std::log(10.0) / std::log(110.0 / 18), 1.27207, 5e-6);
  EXPECT_NEAR(hours_at_current(180, 10, 1.27207, 110), 1, 1e-5);
  EXPECT_NEAR(hours_at_current(180, 10, 1.27207, 18), 10, 1e-9);
}

TEST(Peukert, GivesTheAmpereHoursOfTheTable) {
  // 100 Ah at 20 h (computed): with k 1.2 and 20 A 3.78929 h or 75.786 Ah; with k 1.1 as listed.
  EXPECT_NEAR(hours_at_current(100, 20, 1.2, 20), 3.78929, 5e-6);
  constexpr double kTable[][2] = {
      {5, 100}, {10, 93.303}, {20, 87.055}, {50, 79.433}, {100, 74.113}};
  for (const auto& [current, charge] : kTable) {
    EXPECT_NEAR(hours_at_current(100, 20, 1.1, current) * current, charge, 5.1e-4) << current;
  }
}

TEST(Peukert, LeavesTheRatedCurrentItsRatedHours) {
  // A page (seen) gets 14.5 h for 100 Ah at its own 20-hour current from t = C/I^k with k 1.2; the
  // law's C is that of one ampere. And below the rated current no charge is won (the design's
  // choice, on the safe side).
  EXPECT_NEAR(hours_at_current(100, 20, 1.2, 5), 20, 1e-9);
  EXPECT_NEAR(hours_at_current(100, 20, 1.2, 2), 50, 1e-9);
}

// Larminie and Lowry's lead-acid pack (two copies of the book's script, seen): 156 cells of 60 Ah,
// k 1.12, 2.15 - 0.15 x depth of discharge volts, 0.022/60 ohm each and 0.05 ohm of leads.
Pack larminie_pack(double usable_to) {
  Cell cell = cell_of(60, 10, 1.12, {{0, 2.00}, {1, 2.15}});
  cell.resistance = 0.022 / 60;
  cell.usable_to = usable_to;
  return make_pack(cell, 156, 1, 0.05, kNoBoard);
}

TEST(LeadAcidPack, DrawsTheCurrentsOfTheBooksScript) {
  // Computed with the script's formula (seen).
  const Pack pack = larminie_pack(0);
  EXPECT_NEAR(pack.resistance, 0.1072, 1e-12);
  const double voltage = 156 * open_circuit_voltage(pack.cell.open_circuit, 1);
  EXPECT_NEAR(voltage, 335.4, 1e-9);
  EXPECT_NEAR(battery_current(voltage, pack.resistance, 5e3), 14.97929, 5e-6);
  EXPECT_NEAR(battery_current(voltage, pack.resistance, 20e3), 60.81228, 5e-6);
  EXPECT_NEAR(battery_current(voltage, pack.resistance, 50e3), 156.94887, 5e-6);
  const double matched = largest_battery_current(voltage, pack.resistance, 0, kPlenty);
  EXPECT_NEAR(matched * (voltage - matched * pack.resistance), 262.344e3, 0.5);
}

TEST(LeadAcidPack, RunsDownAsInTheBooksScript) {
  // Constant 10 kW from full: half empty after 2898 s, 80 % after 4580 s, empty after 5678 s
  // (computed in steps of 1 s, each with the voltage of the step before: good to 1 s).
  EXPECT_NEAR(seconds_at_power(larminie_pack(0.5), 10e3), 2898, 1.0);
  EXPECT_NEAR(seconds_at_power(larminie_pack(0.2), 10e3), 4580, 1.0);
  EXPECT_NEAR(seconds_at_power(larminie_pack(0.0), 10e3), 5678, 1.0);
}

TEST(Pack, HasTheResistanceOfItsCellsAndLinks) {
  // 24s2p of 0.5 mohm and 24 links of 0.1 mohm: 8.4 mohm, 189 W at 150 A (computed).
  Cell cell = cell_of(100, 20, 1, {{0, 3.0}, {1, 3.4}});
  cell.resistance = 0.5e-3;
  const Pack pack = make_pack(cell, 24, 2, 24 * 0.1e-3, kNoBoard);
  EXPECT_NEAR(pack.resistance, 8.4e-3, 1e-15);
  EXPECT_NEAR(pack.resistance * 150 * 150, 189, 1e-9);
  EXPECT_EQ(pack.capacity, 200 * kAmpereHour);
}

// Mean of the open-circuit voltage over a window, from the energy that a ride of a small power gets
// out of a cell without resistance.
double ridden_mean(const Curve& curve, double usable_from, double usable_to) {
  Cell cell = cell_of(1, 20, 1, curve);
  cell.usable_from = usable_from;
  cell.usable_to = usable_to;
  const double energy = 1.0 * seconds_at_power(make_pack(cell, 1, 1, 0, kNoBoard), 1.0);
  return energy / (cell.capacity * (usable_from - usable_to));
}

TEST(OpenCircuitCurve, OfAMeasuredCellHoldsThePublishedEnergy) {
  // Ten breakpoints each: Sunil, Pattipati, Balasingam, IEEE TIM 2025 (seen); means computed.
  const Curve p42a{{0, 2.5061},      {0.0151, 2.8981}, {0.0452, 3.1461}, {0.0955, 3.3231},
                   {0.1508, 3.4218}, {0.2915, 3.5737}, {0.4573, 3.7017}, {0.8342, 4.0637},
                   {0.9497, 4.1009}, {1, 4.1932}};
  const Curve forty_t{{0, 2.5000},      {0.0050, 2.8080}, {0.0352, 3.1179}, {0.0854, 3.3182},
                      {0.1357, 3.4193}, {0.2915, 3.5826}, {0.4523, 3.6941}, {0.8392, 4.0664},
                      {0.9548, 4.1121}, {1, 4.2000}};
  const Curve lfp{{0, 2.0102},      {0.0033, 2.4177}, {0.0117, 2.7405}, {0.0267, 2.9299},
                  {0.0534, 3.0872}, {0.0885, 3.1942}, {0.2972, 3.2772}, {0.9833, 3.3511},
                  {0.9950, 3.4180}, {1, 3.5981}};
  EXPECT_NEAR(ridden_mean(p42a, 1, 0), 3.71972, 5.1e-6);
  EXPECT_NEAR(ridden_mean(forty_t, 1, 0), 3.72608, 5.1e-6);
  EXPECT_NEAR(ridden_mean(lfp, 1, 0), 3.26833, 5.1e-6);
  // Single points between breakpoints: the step-0.1 table of the same source (computed).
  EXPECT_NEAR(open_circuit_voltage(p42a, 0.5), 3.7427, 6e-5);
  EXPECT_NEAR(open_circuit_voltage(p42a, 0.9), 4.0849, 6e-5);
  EXPECT_NEAR(open_circuit_voltage(lfp, 0.1), 3.1988, 6e-5);
}

Curve sampled(double (*voltage)(double)) {
  constexpr int kPoints = 1000;
  Curve curve;
  for (int i = 0; i <= kPoints; ++i) {
    const double soc = static_cast<double>(i) / kPoints;
    curve.push_back({soc, voltage(soc)});
  }
  return curve;
}

// LG M50 (NMC 811), Chen et al., J. Electrochem. Soc. 167 (2020) 080534 (functions seen; window of
// stoichiometries for 2.5 to 4.2 V computed).
double chen_nmc(double soc) {
  const double x = 0.026346 + soc * (0.910618 - 0.026346);
  const double y = 0.853975 + soc * (0.263845 - 0.853975);
  const double cathode = -0.8090 * y + 4.4875 - 0.0428 * std::tanh(18.5138 * (y - 0.5542)) -
                         17.7326 * std::tanh(15.7890 * (y - 0.3117)) +
                         17.5842 * std::tanh(15.9308 * (y - 0.3120));
  const double anode =
      1.9793 * std::exp(-39.3631 * x) + 0.2482 - 0.0909 * std::tanh(29.8538 * (x - 0.1234)) -
      0.04478 * std::tanh(14.9159 * (x - 0.2769)) - 0.0205 * std::tanh(30.4444 * (x - 0.6103));
  return cathode - anode;
}

// Polymer lithium-ion cell, Chen and Rincon-Mora 2006 (seen in several copies; two others carry a
// wrong sign in the square).
double rincon_mora(double s) {
  return -1.031 * std::exp(-35 * s) + 3.685 + 0.2156 * s - 0.1178 * s * s + 0.3201 * s * s * s;
}

TEST(OpenCircuitCurve, OfAPublishedFunctionHoldsItsEnergy) {
  // Means computed: 3.72212 V over the whole window and 3.75538 V from 10 to 90 %; 3.80410 V.
  EXPECT_NEAR(ridden_mean(sampled(chen_nmc), 1, 0), 3.72212, 2e-5);
  EXPECT_NEAR(ridden_mean(sampled(chen_nmc), 0.9, 0.1), 3.75538, 2e-5);
  EXPECT_NEAR(ridden_mean(sampled(rincon_mora), 1, 0), 3.80410, 2e-5);
}

}  // namespace
}  // namespace sprocketry::model
