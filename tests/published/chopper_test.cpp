// Controller and battery against textbook examples and a table of full throttle. "Seen": inputs
// read in a public copy; "computed": recalculated elsewhere from stated inputs.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "model/constants.hpp"
#include "model/drive.hpp"
#include "model/traction.hpp"
#include "published/drives.hpp"

namespace sprocketry::model {
namespace {

constexpr double kRpm = kPi / 30;     // rad/s
constexpr Gearing kDirect{1.0, 1.0};  // road speed is motor speed
constexpr double kNoGripLimit = 1e9;  // N

TEST(Chopper, IsThatOfRashidsExample14Point8) {
  // Rashid, Power Electronics, 4th ed., Example 14.8 (seen): 600 V, duty 0.6, 0.05 ohm, 1.527
  // V/(A rad/s) at 2.5 A of field, 250 A: 90 kW, 91.028 rad/s or 869.25 rpm, 954.375 N m; 150 A
  // from the source (computed).
  const double k = 1.527 * 2.5;
  const double w = (0.6 * 600 - 250 * 0.05) / k;
  EXPECT_NEAR(w, 91.028, 5e-4);
  EXPECT_NEAR(w / kRpm, 869.25, 5e-3);
  EXPECT_NEAR(k * 250, 954.375, 1e-9);
  EXPECT_NEAR(current_from_power(0.05, k, w, 90e3), 250, 1e-9);
  EXPECT_NEAR(battery_current(600, 0, 90e3), 150, 1e-9);
  // A controller that may draw those 150 A lets 250 A flow, at 360 V: less than full duty.
  DriveLimits d = on_supply(k, 0.05, 600);
  d.battery_current = 150;
  d.motor_power = 150 * 600;
  EXPECT_NEAR(largest_motor_current(d, w), 250, 1e-9);
}

// E 76 V behind 0.030 ohm; k 0.18, 0.018 ohm; 300 A of motor, 150 A of battery current.
DriveLimits table_drive(double efficiency) {
  DriveLimits d;
  d.torque_constant = 0.18;
  d.resistance = 0.018;
  d.efficiency = efficiency;
  d.voltage = 76;
  d.pack_resistance = 0.030;
  d.phase_current = 300;
  d.battery_current = largest_battery_current(76, 0.030, 0, 150);
  d.motor_power = efficiency * 150 * (76 - 150 * 0.030);
  d.duty_resistance = 0.018 + 0.030 / efficiency;
  return d;
}

struct ThrottleRow {
  double speed, motor_current, motor_voltage, battery_current, battery_voltage, duty, torque;
};

// Regions of full throttle at an efficiency of 0.97 (computed).
constexpr ThrottleRow kThrottle[] = {
    {50, 300, 14.4, 60.022, 74.199, 0.1941, 54.0},
    {100, 300, 23.4, 99.102, 73.027, 0.3204, 54.0},
    {200, 256.168, 40.611, 150, 71.5, 0.5680, 46.110},
    {300, 181.653, 57.270, 150, 71.5, 0.8010, 32.698},
    {350, 157.999, 65.844, 150, 71.5, 0.9209, 28.440},
};

TEST(FullThrottle, IsThatOfTheTable) {
  const DriveLimits d = table_drive(0.97);
  for (const ThrottleRow& row : kThrottle) {
    SCOPED_TRACE(row.speed);
    const double current = largest_motor_current(d, row.speed);
    EXPECT_NEAR(current, row.motor_current, 5.1e-4);
    const double volts = current * d.resistance + d.torque_constant * row.speed;
    EXPECT_NEAR(volts, row.motor_voltage, 5.1e-4);
    const double drawn = battery_current(d.voltage, d.pack_resistance, volts * current / 0.97);
    EXPECT_NEAR(drawn, row.battery_current, 5.1e-4);
    const double under_load = d.voltage - drawn * d.pack_resistance;
    EXPECT_NEAR(under_load, row.battery_voltage, 5.1e-4);
    EXPECT_NEAR(volts / under_load, row.duty, 5.1e-5);
    EXPECT_NEAR(d.torque_constant * current, row.torque, 5.1e-4);
  }
}

TEST(FullThrottle, AtFullDutyWithoutLossIsThatOfTheTable) {
  // 400 rad/s, lossless, D = 1 (computed): motor and battery current are both 83.333 A, 15.0 N m.
  const DriveLimits d = table_drive(1.0);
  const double current = largest_motor_current(d, 400);
  EXPECT_NEAR(current, 83.333, 5e-4);
  EXPECT_NEAR(0.18 * current, 15.0, 1e-9);
  const double volts = current * d.resistance + 0.18 * 400;
  EXPECT_NEAR(battery_current(76, 0.030, volts * current), current, 1e-9);
}

// The corner nearest to a road speed.
double nearest_corner(const Corners& corners, double speed) {
  double nearest = -1;
  for (std::size_t i = 0; i < corners.count; ++i) {
    if (std::abs(corners.speed.at(i) - speed) < std::abs(nearest - speed)) {
      nearest = corners.speed.at(i);
    }
  }
  return nearest;
}

TEST(FullThrottle, ChangesItsLawAtTheTablesCorners) {
  // Phase to battery limit at 162.653 rad/s (1553.22 rpm), battery limit to full duty at 382.672
  // rad/s where I_m = eta_c I_b (computed).
  const DriveLimits d = table_drive(0.97);
  const Corners corners = throttle_corners(d, kDirect, kNoGripLimit);
  const double first = nearest_corner(corners, 162.653);
  const double second = nearest_corner(corners, 382.672);
  EXPECT_NEAR(first, 162.653, 5e-4);
  EXPECT_NEAR(first / kRpm, 1553.22, 5e-3);
  EXPECT_NEAR(second, 382.672, 5e-4);
  EXPECT_NEAR(largest_motor_current(d, first), 300, 1e-9);
  EXPECT_NEAR(largest_motor_current(d, second), 0.97 * 150, 1e-9);
  EXPECT_TRUE(std::is_sorted(corners.speed.begin(),
                             corners.speed.begin() + static_cast<std::ptrdiff_t>(corners.count)));
}

TEST(FullThrottle, OfTheScooterIsTheBooksTorqueLaw) {
  // Larminie and Lowry, Electric Vehicle Technology Explained (from memory): 18 V, 0.136 V s/rad,
  // 0.016 ohm, 250 A: 34 N m up to about 103 rad/s, then 153 - 1.16 w (exactly 153 - 1.156 w).
  DriveLimits d = on_supply(0.136, 0.016, 18);
  d.phase_current = 250;
  EXPECT_NEAR(0.136 * largest_motor_current(d, 50), 34, 1e-9);
  EXPECT_NEAR(nearest_corner(throttle_corners(d, kDirect, kNoGripLimit), 103), 103, 0.1);
  for (const double w : {105.0, 110.0, 120.0, 130.0}) {
    const double torque = 0.136 * largest_motor_current(d, w);
    EXPECT_NEAR(torque, 153.000 - 1.15600 * w, 1e-9);
    EXPECT_NEAR(torque, 153 - 1.16 * w, 0.005 * w);
  }
  EXPECT_NEAR(18 / 0.136, 132.35, 5e-3);
  EXPECT_NEAR(largest_motor_current(d, 18 / 0.136), 0, 1e-9);
}

}  // namespace
}  // namespace sprocketry::model
