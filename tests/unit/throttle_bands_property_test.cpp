// What holds full throttle back, by what it means: the pull grows when that limit is loosened, and
// does not when any other is. The pull is that of the design's text (support/random_bike.hpp), on
// random bikes; the laws of the tyre are moments about the rear contact, as in traction.hpp.
#include <gtest/gtest.h>

#include <array>
#include <map>

#include "model/throttle_bands.hpp"
#include "support/random_bike.hpp"

namespace sprocketry::model {
namespace {

constexpr int kBikes = 3000;
constexpr double kLooser = 1.01;

struct TyreForces {
  double grip = 0;  // N, infinity: it never slips
  double lift = 0;  // N
};

TyreForces tyre_forces(const Stance& s, double mass) {
  const double weight = mass * 9.80665;
  const double share = s.centre_of_gravity_behind / s.wheelbase;
  const double slope = s.grip * s.centre_of_gravity_height / s.wheelbase;
  return {
      slope < 1 ? s.grip * weight * share / (1 - slope) : std::numeric_limits<double>::infinity(),
      weight * (1 - share) * s.wheelbase / s.centre_of_gravity_height};
}

Stance random_stance(Dice& dice) {
  Stance s;
  s.wheelbase = dice.between(1.2, 1.5);
  s.centre_of_gravity_height = dice.between(0.45, 0.8);
  s.centre_of_gravity_behind = s.wheelbase * dice.between(0.4, 0.6);
  s.grip = dice.between(0.2, 1.2);
  return s;
}

struct Case {
  RandomBike bike;
  TyreForces tyre;
};

// The same bike with one limit loosened. Full duty and the matched load stand for the pack's own
// voltage and resistance, which all of the electrical limits share.
Case loosened(Case c, ThrottleLimit limit) {
  switch (limit) {
    case ThrottleLimit::kMotorCurrent:
      c.bike.motor.peak_current *= kLooser;
      break;
    case ThrottleLimit::kControllerCurrent:
      c.bike.controller.motor_current *= kLooser;
      break;
    case ThrottleLimit::kControllerDraw:
      c.bike.controller.battery_current *= kLooser;
      break;
    case ThrottleLimit::kPackCurrent:
      c.bike.pack.current_limit *= kLooser;
      break;
    case ThrottleLimit::kCeiling:
      c.bike.ceiling *= kLooser;
      break;
    case ThrottleLimit::kLowVoltage:
      c.bike.pack.cell.empty_voltage /= kLooser;
      c.bike.controller.min_voltage /= kLooser;
      break;
    case ThrottleLimit::kGrip:
      c.tyre.grip *= kLooser;
      break;
    case ThrottleLimit::kLiftOff:
      c.tyre.lift *= kLooser;
      break;
    case ThrottleLimit::kFullDuty:
    case ThrottleLimit::kMatchedLoad:
      break;
  }
  c.bike.rolling.largest_force = std::min(c.tyre.grip, c.tyre.lift);
  return c;
}

constexpr std::array kCanLoosen = {
    ThrottleLimit::kMotorCurrent,   ThrottleLimit::kControllerCurrent,
    ThrottleLimit::kControllerDraw, ThrottleLimit::kPackCurrent,
    ThrottleLimit::kCeiling,        ThrottleLimit::kLowVoltage,
    ThrottleLimit::kGrip,           ThrottleLimit::kLiftOff};

double pull(const Case& c, double speed) {
  const double voltage = text_open_circuit(c.bike.pack, c.bike.state_of_charge);
  return text_drive_force(c.bike, voltage, speed);
}

void expect_only_this_limit(const Case& c, const ThrottleBand& band, double speed) {
  const double now = pull(c, speed);
  for (const ThrottleLimit limit : kCanLoosen) {
    const double then = pull(loosened(c, limit), speed);
    if (limit == band.limit) {
      EXPECT_GT(then, now * (1 + 1e-5)) << static_cast<int>(limit) << " at " << speed;
    } else {
      EXPECT_NEAR(then, now, 1e-9 * now) << static_cast<int>(limit) << " at " << speed;
    }
  }
}

TEST(ThrottleBands, NameTheLimitWhoseLooseningRaisesThePull) {
  Dice dice(410);
  std::map<ThrottleLimit, int> seen;
  for (int i = 0; i < kBikes; ++i) {
    SCOPED_TRACE(i);
    Case c{random_bike(dice), {}};
    const Stance stance = random_stance(dice);
    c.tyre = tyre_forces(stance, c.bike.rolling.mass);
    c.bike.rolling.largest_force = largest_drive_force(stance, c.bike.rolling.mass);
    ASSERT_NEAR(c.bike.rolling.largest_force, std::min(c.tyre.grip, c.tyre.lift), 1e-6);
    Level level;
    level.motor = &c.bike.motor;
    level.controller = &c.bike.controller;
    level.pack = &c.bike.pack;
    level.full = c.bike.limits();
    level.side = {&c.bike.pack, cut_off_voltage(c.bike.controller, c.bike.pack), 0, 0};
    const Build build = make_build(level, c.bike.gear, c.bike.rolling);
    const double top = top_speed(level.full, c.bike.gear, c.bike.rolling);
    const auto bands = throttle_bands(build, stance, c.bike.ceiling, top);
    ASSERT_EQ(bands.empty(), top == 0);
    double end = 0;
    for (const ThrottleBand& band : bands) {
      ASSERT_EQ(band.from.speed, end);
      ASSERT_GT(band.to.speed, end);
      end = band.to.speed;
      ++seen[band.limit];
      // A hair off the ends, where two limits meet; narrower bands are all ends.
      const double width = band.to.speed - band.from.speed;
      if (width < 0.2) continue;
      for (const double part : {0.3, 0.5, 0.7}) {
        const double speed = band.from.speed + part * width;
        if (pull(c, speed) > 0) expect_only_this_limit(c, band, speed);
      }
    }
    EXPECT_EQ(end, top);
  }
  for (const ThrottleLimit limit : kCanLoosen)
    EXPECT_GT(seen[limit], 10) << static_cast<int>(limit);
  EXPECT_GT(seen[ThrottleLimit::kFullDuty], 10);
}

TEST(ThrottleBands, GiveThePullAndTheCurrentsAtTheirEnds) {
  Dice dice(411);
  for (int i = 0; i < 300; ++i) {
    RandomBike b = random_bike(dice);
    const Stance stance = random_stance(dice);
    Level level;
    level.motor = &b.motor;
    level.controller = &b.controller;
    level.pack = &b.pack;
    level.full = b.limits();
    level.side = {&b.pack, cut_off_voltage(b.controller, b.pack), 0, 0};
    const Build build = make_build(level, b.gear, b.rolling);
    const double top = top_speed(level.full, b.gear, b.rolling);
    const double voltage = text_open_circuit(b.pack, b.state_of_charge);
    for (const ThrottleBand& band : throttle_bands(build, stance, b.ceiling, top)) {
      for (const ThrottlePoint& p : {band.from, band.to}) {
        const double force = text_drive_force(b, voltage, p.speed);
        EXPECT_NEAR(p.force, force, 1e-6 * (force + 1));
        // Power at the wheel comes from the motor's terminals, and that from the pack.
        const double w = p.speed * b.gear.ratio;
        const double resistance = b.motor.resistance * (1 + 0.00393 * (b.winding - 273.15 - 25));
        const double terminals =
            p.motor_current * (p.motor_current * resistance + b.motor.torque_constant * w);
        const double drawn = p.battery_current * (voltage - p.battery_current * b.pack.resistance);
        EXPECT_NEAR(drawn * b.controller.efficiency, terminals, 1e-6 * (terminals + 1));
      }
    }
  }
}

}  // namespace
}  // namespace sprocketry::model
