#include "model/expectation.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "model/performance.hpp"
#include "model/speeds.hpp"
#include "support/random_bike.hpp"

namespace sprocketry::model {
namespace {

// A motor of 0.15 N m/A behind 20 mohm, controller 96 %, pack of 60 V behind 30 mohm.
DriveLimits limits() {
  DriveLimits d;
  d.torque_constant = 0.15;
  d.resistance = 0.02;
  d.loss = {0.6, 0.001};
  d.efficiency = 0.96;
  d.voltage = 60;
  d.pack_resistance = 0.03;
  d.phase_current = 300;
  d.battery_current = 150;
  d.motor_power = 0.96 * 150 * (60 - 150 * 0.03);
  d.duty_resistance = 0.02 + 0.03 / 0.96;
  return d;
}

// With the wheel off the ground the power that the pack gives is what the controller wastes, what
// warms the winding and what the loss torque takes.
TEST(FreeRun, BalancesPower) {
  const DriveLimits d = limits();
  const FreeRun run = free_run(d, {20, 19});
  const double motor = run.battery_current * d.efficiency;
  EXPECT_NEAR(motor * d.torque_constant, d.loss.at(run.motor_speed), 1e-12);
  const double terminals = (d.voltage - run.battery_current * d.pack_resistance);
  EXPECT_NEAR(terminals, motor * d.resistance + d.torque_constant * run.motor_speed, 1e-9);
  EXPECT_NEAR(run.road_speed * 20, run.motor_speed, 1e-12);
}

// It is the speed at which full throttle's largest current is just the loss torque's.
TEST(FreeRun, IsWhereTheDriveForceEnds) {
  const DriveLimits d = limits();
  const Gearing g{20, 19};
  const FreeRun run = free_run(d, g);
  EXPECT_GT(drive_force(d, g, 1e9, run.road_speed * 0.999), 0);
  EXPECT_NEAR(drive_force(d, g, 1e9, run.road_speed * 1.0000001), 0, 1e-3);
}

TEST(FreeRun, DoesNotTurnAMotorThatItsLossesHold) {
  DriveLimits d = limits();
  d.loss.constant = 1000;
  EXPECT_EQ(free_run(d, {20, 19}).motor_speed, 0);
}

Rolling rolling() {
  Rolling r;
  r.load = {0.018, 0, 0.6};
  r.air.air_density = 1.2;
  r.mass = 220;
  r.largest_force = 1500;
  return r;
}

TEST(SteadyDraw, TakesTheRoadLoadsPowerThroughEveryLoss) {
  const DriveLimits d = limits();
  const Gearing g{20, 19};
  const double speed = 12;
  const SteadyDraw draw = steady_draw(d, g, rolling(), speed, 50);
  const double force = 220 * 9.80665 * 0.018 + 0.5 * 1.2 * 0.6 * speed * speed;
  const double current = (force / 19 + d.loss.at(240)) / 0.15;
  EXPECT_NEAR(draw.motor_current, current, 1e-9);
  EXPECT_NEAR(draw.motor_speed, 240, 1e-12);
  const double power = current * (current * 0.02 + 0.15 * 240) / 0.96 + 50;
  EXPECT_NEAR(draw.battery_current * draw.pack_voltage, power, 1e-9);
  EXPECT_NEAR(draw.pack_voltage, 60 - draw.battery_current * 0.03, 1e-12);
}

TEST(SteadyDraw, DoesNotExistFasterThanTheTopSpeed) {
  const DriveLimits d = limits();
  const Gearing g{20, 19};
  const double top = top_speed(d, g, rolling());
  EXPECT_FALSE(std::isnan(steady_draw(d, g, rolling(), top * 0.999, 0).battery_current));
  EXPECT_TRUE(std::isnan(steady_draw(d, g, rolling(), top * 1.001, 0).battery_current));
}

}  // namespace
}  // namespace sprocketry::model
