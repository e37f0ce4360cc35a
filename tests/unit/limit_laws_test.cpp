// The voltages at which a point's limit changes, against the largest current by halving.
#include "model/limit_laws.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "model/ride.hpp"
#include "support/random_bike.hpp"

namespace sprocketry::model {
namespace {

struct Subject {
  RandomBike bike;
  DriveLimits limits;
  LimitLaws laws;
};

Subject random_subject(Dice& dice) {
  RandomBike bike = random_bike(dice);
  bike.motor.peak_current = bike.controller.motor_current = 1e6;  // pack and duty alone limit
  if (dice.chance(0.4)) bike.pack.resistance *= dice.between(1.0, 8.0);
  const DriveLimits limits = bike.limits();
  const double low = cut_off_voltage(bike.controller, bike.pack);
  const double stated = stated_battery_limit(bike.controller, bike.pack, bike.ceiling);
  return {bike, limits, LimitLaws(limits, low, stated)};
}

// What holds the point at E, by its limits' currents.
Held held_at(const Subject& s, double e, double speed, double asked) {
  const TextCurrent most = text_motor_current(s.bike, e, speed);
  if (asked <= most.current) return Held::kFollowed;
  if (s.limits.torque_constant * speed >= e) return Held::kOff;
  return most.limit == Limit::kDuty ? Held::kDuty : Held::kBattery;
}

TEST(LimitLaws, ChangeWhereTheLargestCurrentDoes) {
  Dice dice(63);
  std::array<int, 4> met{};
  for (int i = 0; i < 20000; ++i) {
    const Subject s = random_subject(dice);
    const double low = cut_off_voltage(s.bike.controller, s.bike.pack);
    const double e = low * dice.between(1.0, 1.8);
    const double back = dice.between(0.0, 1.2) * e;
    const double speed = back / s.limits.torque_constant;
    // Beyond the matched load no order holds.
    if (s.laws.battery_reserve(e) + s.laws.duty_reserve(e, back) < 0) continue;
    const double asked = dice.between(1.0, 400.0);
    const double power = asked * (asked * s.limits.resistance + back) / s.limits.efficiency;
    const auto& from = s.laws.changes(asked, power, back).from;
    std::size_t turn = 0;
    double nearest = e;
    for (const double change : from) {
      turn += change <= e ? 1U : 0U;
      nearest = std::min(nearest, std::abs(change - e));
    }
    if (nearest < 1e-6 * e) continue;
    SCOPED_TRACE(i);
    const Held held = kHeldInTurn[turn];
    EXPECT_EQ(held, held_at(s, e, speed, asked));
    ++met[static_cast<std::size_t>(held)];
  }
  for (const int times : met) EXPECT_GE(times, 500);
}

TEST(LimitLaws, GrowAsTheirSlopesSay) {
  Dice dice(64);
  for (int i = 0; i < 2000; ++i) {
    const Subject s = random_subject(dice);
    const double low = cut_off_voltage(s.bike.controller, s.bike.pack);
    const double e = low * dice.between(1.01, 1.8);
    const double back = dice.between(0.0, 0.9) * e;
    const double step = 1e-5;
    bool bends = false;
    for (const double change : s.laws.battery_changes()) bends |= std::abs(change - e) < 2 * step;
    if (bends) continue;
    SCOPED_TRACE(i);
    const auto expect = [&](Held held, double above, double below) {
      const double slope = s.laws.power_slope(held, e, back);
      EXPECT_NEAR(slope, (above - below) / (2 * step), 1e-5 * (1 + std::abs(slope)));
    };
    const auto battery = [&](double at) { return s.laws.power(s.laws.battery(at), at); };
    const auto duty = [&](double at) { return s.laws.power(s.laws.duty(at, back), at); };
    expect(Held::kBattery, battery(e + step), battery(e - step));
    expect(Held::kDuty, duty(e + step), duty(e - step));
    expect(Held::kOff, 0, 0);
    expect(Held::kFollowed, 0, 0);
  }
}

}  // namespace
}  // namespace sprocketry::model
