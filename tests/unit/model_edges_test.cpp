// What the model does where a bike is at the end of its wits: more power than the pack can give, a
// gale from behind, a wind that pushes harder than the bike weighs.
#include <gtest/gtest.h>

#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>

#include "model/speeds.hpp"
#include "model/traction.hpp"
#include "support/random_bike.hpp"

namespace sprocketry::model {
namespace {

TEST(BatteryCurrent, OfMoreThanThePackCanGiveIsTheMatchedLoad) {
  Dice dice(50);
  for (int i = 0; i < 1000; ++i) {
    const double voltage = dice.between(20.0, 150.0);
    const double resistance = dice.between(0.001, 0.1);
    const double most = voltage * voltage / (4 * resistance);
    const double matched = voltage / (2 * resistance);
    EXPECT_NEAR(battery_current(voltage, resistance, 1.5 * most), matched, 1e-9 * matched);
  }
}

TEST(AccelerationTime, CountsATailWindThatBlowsTheBikePastItsMotorsIdleSpeed) {
  Dice dice(51);
  int blown = 0;
  for (int i = 0; i < 1000; ++i) {
    SCOPED_TRACE(i);
    RandomBike b = random_bike(dice);
    b.rolling.air.headwind = dice.between(-40.0, -15.0);
    const double e = text_open_circuit(b.pack, b.state_of_charge);
    const DriveLimits d = b.limits();
    const double to = 0.8 * top_speed(d, b.gear, b.rolling);
    if (text_wheel_force(b, e, to) >= 0) continue;
    ++blown;
    const double time = acceleration_time(
        d, b.gear, b.rolling, throttle_corners(d, b.gear, b.rolling.largest_force), 0, to);
    const auto per_speed = [&](double v) {
      return text_effective_mass(b) /
             (text_drive_force(b, e, v) - text_road_force(b.rolling, 0, v));
    };
    double expected = 0;
    for (int part = 0; part < 100; ++part) {
      expected += boost::math::quadrature::gauss<double, 15>::integrate(per_speed, to * part / 100,
                                                                        to * (part + 1) / 100);
    }
    EXPECT_NEAR(time, expected, 1e-3 * expected);
  }
  EXPECT_GE(blown, 20);
}

TEST(Grade, OfAWindThatOutweighsTheBikeIsNoneAtAll) {
  const double weight = 200 * kGravity;
  EXPECT_EQ(grade_from_force(0.015, 200, 0, 1.2 * weight),
            -std::numeric_limits<double>::infinity());
  EXPECT_LT(grade_from_force(0.015, 200, 0, 0.999 * weight), -10);
}

}  // namespace
}  // namespace sprocketry::model
