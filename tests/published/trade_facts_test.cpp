// What everybody in the trade knows about gearing and voltage. Common practice, no source. Each
// fact is the trade's, the numbers of the bike are invented.
#include <gtest/gtest.h>

#include <cmath>

#include "model/chain.hpp"
#include "model/constants.hpp"
#include "model/speeds.hpp"
#include "model/traction.hpp"
#include "published/drives.hpp"

namespace sprocketry::model {
namespace {

constexpr double kRpm = kPi / 30;        // rad/s
constexpr double kCircumference = 1.94;  // m, rolled out
constexpr double kKmH = 1.0 / 3.6;       // m/s

struct Bike {
  DriveLimits limits;
  Gearing gear;
  Rolling rolling;

  Bike(double voltage, int front, int rear) {
    limits = on_supply(0.15, 0.020, voltage);
    limits.loss.constant = 0.6;
    limits.pack_resistance = 0.015;
    limits.duty_resistance = 0.020 + 0.015;
    limits.phase_current = 250;
    limits.battery_current = 250;
    limits.motor_power = 250 * (voltage - 250 * 0.015);
    const Chain chain{12.7e-3, 3.58e-3, 0.6, 15600, 0.01, 0.12};
    gear = gearing(static_cast<double>(rear) / front, chain_efficiency(chain, front, rear),
                   kCircumference);
    rolling.load = {0.016, 0, 0.55};
    rolling.air.air_density = 1.2;
    rolling.mass = 240;
    rolling.wheel_mass = 12;
    rolling.rotor_inertia = 0.006;
    rolling.largest_force = 2000;
  }
  [[nodiscard]] double top() const { return top_speed(limits, gear, rolling); }
  [[nodiscard]] double pull_away() const {
    return acceleration_time(limits, gear, rolling,
                             throttle_corners(limits, gear, rolling.largest_force), 0, 50 * kKmH);
  }
  [[nodiscard]] double current_for(double pull) const {
    return demanded_current(limits, gear, pull, 30 * kKmH);
  }
  [[nodiscard]] double pull() const {
    return drive_force(limits, gear, rolling.largest_force, 10 * kKmH);
  }
};

TEST(Trade, AMotorRunsHalfAsFastAgainOn72VoltAsOn48) {
  // Without load exactly; the wheel off the ground.
  const auto idle_speed = [](double voltage) {
    Bike bike(voltage, 14, 56);
    bike.limits.loss = {};
    bike.rolling.load = {};
    return bike.top();
  };
  EXPECT_NEAR(idle_speed(72) / idle_speed(48), 1.5, 1e-9);
  EXPECT_NEAR(idle_speed(72) * 4 / kCircumference * 60, 72 / 0.15 / kRpm, 1e-6);
  // On the road the wind eats part of it.
  const double on_the_road = Bike(72, 14, 56).top() / Bike(48, 14, 56).top();
  EXPECT_GT(on_the_road, 1.3);
  EXPECT_LT(on_the_road, 1.5);
}

TEST(Trade, TheReductionIsRearOverFrontTeeth) {
  // 14 and 56 teeth: four turns of the motor to one of the wheel, so 4000 rpm and 1.94 m roll 116.4
  // km/h, whatever the chain loses.
  const Gearing g = Bike(72, 14, 56).gear;
  EXPECT_NEAR(g.ratio * kCircumference / (2 * kPi), 56.0 / 14, 1e-12);
  EXPECT_NEAR(4000 * kRpm / g.ratio / kKmH, 4000.0 / 4 * kCircumference * 60 / 1000, 1e-9);
  EXPECT_NEAR(4000 * kRpm / g.ratio / kKmH, 116.4, 1e-9);
  // The pull at the tyre is torque times reduction over the radius, less the chain's loss.
  EXPECT_LT(g.lever, g.ratio);
  EXPECT_GT(g.lever, 0.96 * g.ratio);
}

TEST(Trade, ABiggerRearLowersTopSpeedAndTheCurrentForTheSamePull) {
  const Bike small(72, 14, 56);
  const Bike big(72, 14, 64);
  EXPECT_LT(big.top(), small.top());
  EXPECT_LT(big.current_for(400), small.current_for(400));
  EXPECT_GT(big.pull(), small.pull());
  EXPECT_LT(big.pull_away(), small.pull_away());
  // Of the friction the motor must turn over in any gear, the rest goes with the reduction.
  const double pulling = small.current_for(400) - 0.6 / 0.15;
  EXPECT_NEAR((big.current_for(400) - 0.6 / 0.15) / pulling, 56.0 / 64, 2e-3);
}

TEST(Trade, ASmallerFrontLowersTopSpeedAndTheCurrentForTheSamePull) {
  const Bike large(72, 14, 56);
  const Bike small(72, 12, 56);
  EXPECT_LT(small.top(), large.top());
  EXPECT_LT(small.current_for(400), large.current_for(400));
}

TEST(Trade, ALargerFrontRaisesTopSpeedAndPullsAwayWorseAtMoreCurrent) {
  const Bike small(72, 12, 56);
  const Bike large(72, 15, 56);
  EXPECT_GT(large.top(), small.top());
  EXPECT_GT(large.pull_away(), small.pull_away());
  EXPECT_LT(large.pull(), small.pull());
  EXPECT_GT(large.current_for(400), small.current_for(400));
}

TEST(Trade, OneToothInFrontIsWorthAboutFourBehind) {
  // At 14 and 56 teeth a tooth in front changes the reduction by a fourteenth, as four do behind.
  const double front = Bike(72, 13, 56).gear.ratio;
  const double rear = Bike(72, 14, 60).gear.ratio;
  EXPECT_NEAR(front / rear, 1, 0.01);
}

TEST(Trade, ASmallFrontSprocketCostsEfficiency) {
  // The same reduction of 4 on more teeth loses less.
  const Gearing small = Bike(72, 11, 44).gear;
  const Gearing large = Bike(72, 16, 64).gear;
  EXPECT_NEAR(small.ratio, large.ratio, 1e-12);
  EXPECT_LT(small.lever, large.lever);
}

TEST(Trade, AnAmpereMorePullsTheSameMoreInAnyMotorOfTheSameConstant) {
  // Torque goes with current, speed with voltage: 100 A more give 15 N m more at any speed.
  const Bike bike(72, 14, 56);
  const double more = demanded_current(bike.limits, bike.gear, 15 * bike.gear.lever, 5) -
                      demanded_current(bike.limits, bike.gear, 1e-12, 5);
  EXPECT_NEAR(more, 100, 1e-6);
}

}  // namespace
}  // namespace sprocketry::model
