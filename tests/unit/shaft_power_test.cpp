#include <gtest/gtest.h>

#include <algorithm>

#include "model/shaft_torque.hpp"
#include "support/random_bike.hpp"

namespace sprocketry::model {
namespace {

// The best of 20,000 motor speeds, then by thirds between its neighbours.
double scanned(const DriveLimits& d) {
  const auto power = [&](double w) {
    return w * (d.torque_constant * largest_motor_current(d, w) - d.loss.at(w));
  };
  constexpr int kSpeeds = 20000;
  const double step = d.voltage / d.torque_constant / kSpeeds;
  double best = 0;
  for (int i = 0; i <= kSpeeds; ++i) {
    if (power(i * step) > power(best)) best = i * step;
  }
  double low = std::max(0.0, best - step);
  double high = best + step;
  for (int i = 0; i < 200; ++i) {
    const double third = (high - low) / 3;
    if (power(low + third) < power(high - third)) {
      low += third;
    } else {
      high -= third;
    }
  }
  return std::max(0.0, power(0.5 * (low + high)));
}

TEST(ShaftPower, IsTheLargestOfAllSpeeds) {
  Dice dice(31);
  int positive = 0;
  for (int i = 0; i < 300; ++i) {
    const RandomBike bike = random_bike(dice);
    const ShaftTorque torque =
        shaft_torque(bike.limits(), bike.limits(), bike.motor.continuous_current);
    const double most = scanned(bike.limits());
    EXPECT_NEAR(torque.peak_power, most, 1e-9 * most + 1e-9) << i;
    DriveLimits lasting = bike.limits();
    lasting.phase_current = std::min(lasting.phase_current, bike.motor.continuous_current);
    EXPECT_NEAR(torque.continuous_power, scanned(lasting), 1e-9 * most + 1e-9) << i;
    positive += most > 0 ? 1 : 0;
  }
  EXPECT_GT(positive, 200);
}

// A lossless motor at full duty gives most at half of its no-load speed: E^2/(4 R). (Any text on
// dc machines; Fitzgerald, Electric Machinery.)
TEST(ShaftPower, OfALosslessMotorIsTheMatchedLoads) {
  DriveLimits d;
  d.torque_constant = 0.2;
  d.resistance = 0.05;
  d.duty_resistance = 0.05;
  d.voltage = 48;
  d.pack_resistance = 1e-9;
  d.phase_current = 1e6;
  d.battery_current = 1e6;
  d.motor_power = 1e9;
  EXPECT_NEAR(largest_shaft_power(d, torque_curve(d)), 48.0 * 48.0 / (4 * 0.05), 1e-6);
}

}  // namespace
}  // namespace sprocketry::model
