// Properties of full throttle and of the speeds that it holds, on random bikes, against the
// design's text written down a second time.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "model/heat.hpp"
#include "model/speeds.hpp"
#include "model/traction.hpp"
#include "support/random_bike.hpp"

namespace sprocketry::model {
namespace {

constexpr int kBikes = 2000;
constexpr double kRounding = 1e-9;  // relative, of a few hundred operations near a difference

double voltage_of(const RandomBike& b) { return text_open_circuit(b.pack, b.state_of_charge); }

double top_of(const RandomBike& b) { return top_speed(b.limits(), b.gear, b.rolling); }

TEST(LargestMotorCurrent, IsThatOfTheThreeLimits) {
  Dice dice(1);
  for (int i = 0; i < kBikes; ++i) {
    SCOPED_TRACE(i);
    const RandomBike b = random_bike(dice);
    const double w = dice.between(0.0, 1.1) * voltage_of(b) / b.motor.torque_constant;
    const double expected = text_motor_current(b, voltage_of(b), w).current;
    EXPECT_NEAR(largest_motor_current(b.limits(), w), expected, kRounding * 500);
  }
}

TEST(LargestMotorCurrent, MeetsEachLimitAndOneOfThemExactly) {
  Dice dice(2);
  for (int i = 0; i < kBikes; ++i) {
    SCOPED_TRACE(i);
    const RandomBike b = random_bike(dice);
    const DriveLimits d = b.limits();
    const double w = dice.between(0.0, 1.0) * d.voltage / d.torque_constant;
    const double current = largest_motor_current(d, w);
    const double phase = current / d.phase_current;
    const double battery =
        current * (current * d.resistance + d.torque_constant * w) / d.motor_power;
    const double duty = (current * d.duty_resistance + d.torque_constant * w) / d.voltage;
    EXPECT_LE(std::max({phase, battery, duty}), 1 + kRounding);
    EXPECT_GE(std::max({phase, battery, duty}), 1 - kRounding);
  }
}

TEST(LargestMotorCurrent, IsNeverBelowZeroNorIsTheForce) {
  Dice dice(3);
  for (int i = 0; i < kBikes; ++i) {
    const RandomBike b = random_bike(dice);
    const double idle = voltage_of(b) / b.motor.torque_constant;
    EXPECT_EQ(largest_motor_current(b.limits(), idle * dice.between(1.0, 3.0)), 0.0);
    const double v = dice.between(0.0, 2.0) * idle / b.gear.ratio;
    const double force = drive_force(b.limits(), b.gear, b.rolling.largest_force, v);
    EXPECT_NEAR(force, text_drive_force(b, voltage_of(b), v), 1e-6);
    EXPECT_GE(force, 0.0);
    EXPECT_LE(force, b.rolling.largest_force);
  }
}

TEST(BatteryCurrent, IsTheLesserRootOfThePowerBalance) {
  Dice dice(4);
  for (int i = 0; i < kBikes; ++i) {
    const double voltage = dice.between(20.0, 150.0);
    const double resistance = dice.between(0.0, 0.1);
    const double most = resistance > 0 ? voltage * voltage / (4 * resistance) : 1e6;
    const double power = dice.between(0.0, 1.0) * std::min(most, 50e3);
    const double current = battery_current(voltage, resistance, power);
    EXPECT_NEAR((voltage - current * resistance) * current, power, kRounding * (1 + power));
    EXPECT_LE(current * resistance, 0.5 * voltage * (1 + kRounding));
  }
}

TEST(TopSpeed, IsTheBoundaryOfWhatFullThrottleHolds) {
  Dice dice(5);
  int moving = 0;
  for (int i = 0; i < kBikes; ++i) {
    SCOPED_TRACE(i);
    RandomBike b = random_bike(dice);
    if (dice.chance(0.2)) b.rolling.air.headwind = dice.between(-40.0, 25.0);
    const double top = top_of(b);
    const auto holds = [&](double v) {
      return text_drive_force(b, voltage_of(b), v) >= text_road_force(b.rolling, 0, v);
    };
    if (top == 0) {
      EXPECT_FALSE(holds(1e-6));
      continue;
    }
    ++moving;
    EXPECT_TRUE(holds(top * (1 - 1e-8)));
    EXPECT_FALSE(holds(top * (1 + 1e-8)));
  }
  EXPECT_GT(moving, kBikes / 2);
}

TEST(TopSpeed, IsNeverLoweredByMoreVoltage) {
  Dice dice(6);
  for (int i = 0; i < kBikes; ++i) {
    SCOPED_TRACE(i);
    RandomBike b = random_bike(dice);
    const double before = top_of(b);
    // More cells in series, and a fuller pack.
    RandomBike more = b;
    more.pack =
        make_pack(b.pack.cell, b.pack.series + dice.between(1, 8), b.pack.parallel,
                  b.pack.resistance - b.pack.series * b.pack.cell.resistance / b.pack.parallel,
                  b.pack.current_limit);
    EXPECT_GE(top_of(more), before * (1 - kRounding));
    b.state_of_charge = dice.between(b.state_of_charge, 1.0);
    EXPECT_GE(top_of(b), before * (1 - kRounding));
  }
}

TEST(TopSpeed, IsNeverRaisedByALargerRearBeyondThePeakOfPower) {
  // Where full duty limits, wheel power is a parabola of motor speed. A larger rear shifts the
  // motor up; past the parabola's top that costs power at every road speed, before it (a bike
  // geared too tall) it wins some. So the rule of the trade holds past the top.
  Dice dice(7);
  int checked = 0;
  int too_tall = 0;
  for (int i = 0; i < kBikes; ++i) {
    SCOPED_TRACE(i);
    RandomBike b = random_bike(dice);
    const auto full_duty = [&](double reduction) {
      DriveLimits d = b.limits();
      d.phase_current = d.motor_power = 1e12;
      Rolling r = b.rolling;
      r.largest_force = 1e12;
      const Gearing g = gearing(reduction, 0.97, 1.9);
      return top_speed(d, g, r) * g.ratio;  // motor speed
    };
    const DriveLimits d = b.limits();
    const double k = d.torque_constant;
    const double stall = k * d.voltage / d.duty_resistance - d.loss.constant;
    const double best = stall / (2 * (k * k / d.duty_resistance + d.loss.viscous));
    const double reduction = dice.between(1.0, 8.0);
    const double larger = reduction * dice.between(1.01, 1.3);
    const double before = full_duty(reduction) / reduction;
    const double after = full_duty(larger) / larger;
    if (before * reduction >= best) {
      ++checked;
      EXPECT_LE(after, before * (1 + kRounding));
    } else if (after * larger <= best) {
      ++too_tall;
      EXPECT_GE(after, before * (1 - kRounding));
    }
  }
  EXPECT_GT(checked, kBikes / 2);
  EXPECT_GT(too_tall, 0);
}

// Whether a speed on the flat can be held for ever, by the design's text.
bool text_holds_for_ever(const RandomBike& b, double accessories, double air, double v) {
  const double force = text_road_force(b.rolling, 0, v);
  if (text_drive_force(b, voltage_of(b), v) < force) return false;
  const double w = v * b.gear.ratio;
  const double current =
      force > 0 ? (force / b.gear.lever + text_loss(b, w)) / b.motor.torque_constant : 0.0;
  if (current > std::min(b.motor.continuous_current, b.controller.motor_continuous)) return false;
  const double volts = current * b.limits().resistance + b.motor.torque_constant * w;
  const double power = volts * current / b.controller.efficiency + accessories;
  const double e = voltage_of(b);
  if (power > e * e / (4 * b.pack.resistance)) return false;
  const double drawn =
      (e - std::sqrt(e * e - 4 * b.pack.resistance * power)) / (2 * b.pack.resistance);
  if (drawn > b.pack.parallel * b.pack.cell.continuous_current) return false;
  const MotorTemperature steady =
      steady_temperature(b.motor, {current * current, text_loss(b, w) * w}, air);
  return steady.winding <= b.motor.thermal.max_winding;  // false for one that never settles
}

TEST(SustainedSpeed, IsTheBoundaryOfWhatCanBeHeldForEver) {
  Dice dice(8);
  int below_top = 0;
  int zero = 0;
  for (int i = 0; i < kBikes; ++i) {
    SCOPED_TRACE(i);
    const RandomBike b = random_bike(dice);
    const double accessories = dice.between(0.0, 150.0);
    const double air = kZeroCelsius + dice.between(-5.0, 40.0);
    const ContinuousLimits continuous =
        continuous_limits(b.motor, b.controller, b.pack, accessories, air);
    const double sustained = sustained_speed(b.limits(), continuous, b.gear, b.rolling);
    EXPECT_LE(sustained, top_of(b) * (1 + kRounding));
    const auto holds = [&](double v) { return text_holds_for_ever(b, accessories, air, v); };
    EXPECT_FALSE(holds(sustained * (1 + 1e-7) + 1e-7));
    if (sustained == 0) {
      ++zero;
      continue;
    }
    below_top += sustained < 0.99 * top_of(b) ? 1 : 0;
    for (const double share : {0.0, 0.1, 0.3, 0.5, 0.7, 0.9, 1 - 1e-7}) {
      EXPECT_TRUE(holds(share * sustained)) << share;
    }
  }
  EXPECT_GT(below_top, kBikes / 4);
  EXPECT_LT(zero, kBikes / 2);
}

TEST(PeakBatteryCurrent, IsThatOfAFineScan) {
  Dice dice(9);
  for (int i = 0; i < kBikes / 4; ++i) {
    SCOPED_TRACE(i);
    const RandomBike b = random_bike(dice);
    const DriveLimits d = b.limits();
    const double top = top_of(b);
    const double e = voltage_of(b);
    const auto drawn = [&](double v) {
      const double w = v * b.gear.ratio;
      const double held =
          (b.rolling.largest_force / b.gear.lever + text_loss(b, w)) / b.motor.torque_constant;
      const double current = std::min(held, text_motor_current(b, e, w).current);
      const double power = current * (current * d.resistance + b.motor.torque_constant * w) /
                           b.controller.efficiency;
      const double inside = std::max(0.0, e * e - 4 * b.pack.resistance * power);
      return (e - std::sqrt(inside)) / (2 * b.pack.resistance);
    };
    // A scan, and a second one around its best.
    constexpr int kSteps = 400;
    const auto scan = [&](double from, double to) {
      double best = from;
      for (int step = 0; step <= kSteps; ++step) {
        const double v = from + (to - from) * step / kSteps;
        if (drawn(v) > drawn(best)) best = v;
      }
      return best;
    };
    const double near = scan(0, top);
    const double best =
        scan(std::max(0.0, near - top / kSteps), std::min(top, near + top / kSteps));
    const double peak =
        peak_battery_current(d, b.gear, b.rolling.largest_force,
                             throttle_corners(d, b.gear, b.rolling.largest_force), top);
    EXPECT_GE(peak, drawn(best) - 1e-6);
    EXPECT_LE(peak, drawn(best) * (1 + 2e-4) + 1e-6);
  }
}

TEST(Grade, IsTheOneOnWhichTheForceHolds) {
  Dice dice(10);
  for (int i = 0; i < kBikes; ++i) {
    Rolling r = random_bike(dice).rolling;
    r.air.headwind = 0;
    const double grade = dice.between(-0.5, 2.0);
    const double other = dice.between(0.0, 200.0);
    const double force = text_road_force(r, grade, 0) + other;
    EXPECT_NEAR(grade_from_force(r.load.rolling_resistance, r.mass, force, other), grade,
                1e-9 * (1 + grade * grade * grade));
    EXPECT_TRUE(std::isinf(grade_from_force(r.load.rolling_resistance, r.mass,
                                            1.01 * r.mass * kGravity + other, other)));
  }
}

}  // namespace
}  // namespace sprocketry::model
