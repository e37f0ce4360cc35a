// The largest pull on the chain against a scan over the motor's speed, on random bikes.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "model/chain_strength.hpp"
#include "support/random_bike.hpp"

namespace sprocketry::model {
namespace {

constexpr int kBikes = 500;
constexpr int kSteps = 4000;

// Written from the definition: pull on the arm of the polygon's flat, and q v^2.
double text_pull(const Chain& chain, int teeth, double torque, double speed) {
  const double arm = chain.pitch / (2 * std::sin(kPi / teeth)) * std::cos(kPi / teeth);
  const double v = speed * teeth * chain.pitch / (2 * kPi);
  return torque / arm + chain.mass_per_length * v * v;
}

TEST(LargestPull, IsThatOfAScanOverAllSpeeds) {
  Dice dice(310);
  for (int i = 0; i < kBikes; ++i) {
    SCOPED_TRACE(i);
    const RandomBike b = random_bike(dice);
    const DriveLimits d = b.limits();
    const ShaftTorque torque =
        shaft_torque(d, d, std::min(b.motor.continuous_current, b.controller.motor_continuous));
    // Heavy chains as well, so that the centrifugal part sometimes decides.
    const Chain chain{12.7e-3, 3.58e-3, dice.between(0.3, 30.0), 15600, 0, 0.1};
    const int teeth = dice.between(9, 20);
    const double torque_ratio = dice.between(0.8, 4.0);
    const double speed_ratio = dice.between(0.25, 1.0);
    double scanned = 0;
    const double idle = d.voltage / d.torque_constant;
    for (int step = 0; step <= kSteps; ++step) {
      const double w = idle * step / kSteps;
      const double shaft = d.torque_constant * largest_motor_current(d, w) - d.loss.at(w);
      if (shaft < 0) break;
      scanned = std::max(scanned, text_pull(chain, teeth, torque_ratio * shaft, speed_ratio * w));
    }
    const double largest = largest_pull(chain, teeth, torque_ratio, speed_ratio, torque.burst);
    EXPECT_GE(largest, scanned * (1 - 1e-9));
    EXPECT_LE(largest, scanned * (1 + 2e-3));  // the scan steps past the corners
  }
}

TEST(ShaftTorque, IsThatAtStandstillAndLessWithTheContinuousCurrent) {
  Dice dice(311);
  for (int i = 0; i < kBikes; ++i) {
    const RandomBike b = random_bike(dice);
    const DriveLimits d = b.limits();
    const double continuous = std::min(b.motor.continuous_current, b.controller.motor_continuous);
    const ShaftTorque torque = shaft_torque(d, d, continuous);
    const double stall = d.torque_constant * largest_motor_current(d, 0) - d.loss.constant;
    EXPECT_EQ(torque.peak, std::max(0.0, stall));
    EXPECT_NEAR(torque.continuous,
                std::max(0.0, std::min(stall, d.torque_constant * continuous - d.loss.constant)),
                1e-12);
    for (const TorquePoint& point : torque.burst.corners()) EXPECT_LE(point.torque, torque.peak);
    for (const TorquePoint& point : torque.continuing.corners()) {
      EXPECT_LE(point.torque, torque.continuous);
    }
  }
}

TEST(ShaftTorque, OfAMotorThatDoesNotOvercomeItsLossIsNothing) {
  DriveLimits d;
  d.torque_constant = 0.1;
  d.resistance = 0.02;
  d.loss = {2.0, 0.0};
  d.voltage = 48;
  d.pack_resistance = 0.02;
  d.phase_current = 15;  // 1.5 N m against 2
  d.battery_current = 100;
  d.motor_power = 4000;
  d.duty_resistance = 0.04;
  const ShaftTorque torque = shaft_torque(d, d, 10);
  EXPECT_EQ(torque.peak, 0);
  EXPECT_EQ(torque.continuous, 0);
  EXPECT_EQ(torque.burst.count, 1U);
}

}  // namespace
}  // namespace sprocketry::model
