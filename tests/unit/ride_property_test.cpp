// Rides and ranges of random bikes on random profiles, against the design's text carried out
// interval by interval and, for the range, in 20 000 equal steps of the state of charge.
#include <gtest/gtest.h>

#include <algorithm>
#include <boost/numeric/odeint.hpp>
#include <cmath>
#include <cstddef>
#include <vector>

#include "model/performance.hpp"
#include "model/profile.hpp"
#include "model/ride.hpp"
#include "support/random_bike.hpp"

namespace sprocketry::model {
namespace {

constexpr int kRides = 300;
constexpr int kRanges = 60;
constexpr int kSteps = 20000;
constexpr double kRounding = 1e-9;        // relative
constexpr double kRangeTolerance = 1e-6;  // relative

struct RandomRide {
  RandomBike bike;
  Profile profile;
  double accessories = 0;  // W
};

Profile random_profile(Dice& dice, std::size_t samples = 40) {
  Profile profile{{0, 0, dice.between(-0.05, 0.05)}};
  while (profile.size() < samples) {
    const ProfileSample& last = profile.back();
    const double duration = 0.5 * dice.between(1, 12);  // sums of it are exact
    double speed = std::clamp(last.speed + duration * dice.between(-2.0, 1.6), 0.0, 28.0);
    if (dice.chance(0.15)) speed = last.speed;  // stands or cruises
    profile.push_back({last.time + duration, speed, last.grade + dice.between(-0.02, 0.02)});
  }
  return profile;
}

// One point of a ride as the design's text has it.
struct Point {
  double motor_current = 0, battery_current = 0;
  bool follows = true;
};

Point text_point(const RandomRide& r, double e, double speed, double acceleration, double grade) {
  const RandomBike& b = r.bike;
  const double pack = b.pack.resistance;
  const auto drawn = [&](double motor_power) {
    const double power = motor_power / b.controller.efficiency + r.accessories;
    return (e - std::sqrt(std::max(0.0, e * e - 4 * pack * power))) / (2 * pack);
  };
  const double force =
      text_effective_mass(b) * acceleration + text_road_force(b.rolling, grade, speed);
  if (speed == 0 || force <= 0) return {0, drawn(0), true};
  const double k = b.motor.torque_constant;
  const double w = speed * b.gear.ratio;
  const double resistance = b.motor.resistance * (1 + 0.00393 * (b.winding - 273.15 - 25));
  const double asked = (force / b.gear.lever + text_loss(b, w)) / k;
  // The least of the three limits, and of what the tyre bears.
  const double low = std::max(b.pack.series * b.pack.cell.empty_voltage, b.controller.min_voltage);
  const double most = std::min({b.controller.battery_current, b.pack.current_limit, b.ceiling,
                                (e - low) / pack, e / (2 * pack)});
  const double power = b.controller.efficiency * most * (e - most * pack);
  const double back = k * w;
  const double battery =
      (std::sqrt(back * back + 4 * resistance * power) - back) / (2 * resistance);
  const double duty = (e - back) / (resistance + pack / b.controller.efficiency);
  const double held = (b.rolling.largest_force / b.gear.lever + text_loss(b, w)) / k;
  const double largest = std::max(0.0, std::min({b.phase_current(), battery, duty, held}));
  const double current = std::min(asked, largest);
  return {current, drawn(current * (current * resistance + back)), asked <= largest};
}

// Calls `visit(point, duration, speed)` for each interval of the profile.
template <typename Visit>
void each_interval(const RandomRide& r, double e, const Visit& visit) {
  for (std::size_t i = 1; i < r.profile.size(); ++i) {
    const ProfileSample& a = r.profile[i - 1];
    const ProfileSample& b = r.profile[i];
    const double duration = b.time - a.time;
    const double speed = (a.speed + b.speed) / 2;
    visit(text_point(r, e, speed, (b.speed - a.speed) / duration, (a.grade + b.grade) / 2),
          duration, speed);
  }
}

struct Pass {
  double duration = 0, distance = 0, charge = 0, weighted = 0, energy = 0, square = 0;
  double friction = 0, behind = 0;
};

Pass text_pass(const RandomRide& r, double e) {
  Pass pass;
  const Cell& cell = r.bike.pack.cell;
  const double rated = cell.capacity / (cell.rated_hours * 3600);
  each_interval(r, e, [&](const Point& p, double duration, double speed) {
    const double w = speed * r.bike.gear.ratio;
    pass.duration += duration;
    pass.distance += speed * duration;
    pass.charge += p.battery_current * duration;
    pass.energy += p.battery_current * (e - p.battery_current * r.bike.pack.resistance) * duration;
    pass.square += p.motor_current * p.motor_current * duration;
    pass.friction += text_loss(r.bike, w) * w * duration;
    pass.behind += p.follows ? 0 : duration;
    const double share = p.battery_current / r.bike.pack.parallel / rated;
    const double times =
        cell.peukert_exponent > 1 ? std::max(1.0, std::pow(share, cell.peukert_exponent - 1)) : 1.0;
    pass.weighted += p.battery_current * duration * times;
  });
  return pass;
}

RandomRide random_ride(Dice& dice) {
  RandomRide r;
  r.bike = random_bike(dice);
  r.profile = random_profile(dice);
  r.accessories = dice.between(20.0, 120.0);
  return r;
}

PackSide pack_side(const RandomRide& r) {
  const RandomBike& b = r.bike;
  return {&b.pack, cut_off_voltage(b.controller, b.pack),
          stated_battery_limit(b.controller, b.pack, b.ceiling), r.accessories};
}

RideResult engine_ride(const RandomRide& r, const RideDemand& demand, RideWork& work) {
  const RandomBike& b = r.bike;
  return ride(ride_columns(demand, b.rolling.air), b.limits(), b.gear, b.rolling, pack_side(r),
              work);
}

TEST(Ride, CarriesOutTheDesignsTextAtOneStateOfCharge) {
  Dice dice(40);
  int behind = 0;
  RideWork work;
  for (int i = 0; i < kRides; ++i) {
    SCOPED_TRACE(i);
    const RandomRide r = random_ride(dice);
    const Pass pass = text_pass(r, text_open_circuit(r.bike.pack, r.bike.state_of_charge));
    const RideResult result = engine_ride(r, reduce(r.profile), work);
    const auto expect = [](double got, double expected) {
      EXPECT_NEAR(got, expected, kRounding * std::abs(expected));
    };
    expect(result.consumption, pass.energy / pass.distance);
    expect(result.pack_mean, pass.charge / pass.duration);
    expect(result.heat.mean_square_current, pass.square / pass.duration);
    expect(result.heat.friction_power, pass.friction / pass.duration);
    EXPECT_NEAR(result.keeps_up, 1 - pass.behind / pass.duration, kRounding);
    EXPECT_EQ(result.follows_all, pass.behind == 0);
    behind += pass.behind > 0 ? 1 : 0;
  }
  EXPECT_GT(behind, kRides / 10);
  EXPECT_LT(behind, kRides * 9 / 10);
}

TEST(Ride, AtOneSpeedDrawsTheCurrentsOfTheDesignsText) {
  Dice dice(41);
  RideWork work;
  for (int i = 0; i < kRides; ++i) {
    SCOPED_TRACE(i);
    RandomRide r = random_ride(dice);
    const double speed = dice.between(2.0, 30.0);
    const double e = text_open_circuit(r.bike.pack, r.bike.state_of_charge);
    const Point expected = text_point(r, e, speed, 0, 0);
    const RideResult result = engine_ride(r, steady_ride(speed), work);
    EXPECT_EQ(result.follows_all, expected.follows);
    EXPECT_NEAR(result.first_current, expected.battery_current,
                kRounding * expected.battery_current);
    if (expected.motor_current > 0) {
      EXPECT_NEAR(result.first_motor, expected.motor_current, kRounding * expected.motor_current);
    }
  }
}

// What the window of a ride met.
struct Coverage {
  int smooth = 0, behind = 0, partly_behind = 0, kinks = 0;
};

TEST(Range, IsThatOfTwentyThousandEqualSteps) {
  Dice dice(42);
  Coverage coverage;
  RideWork work;
  for (int i = 0; i < kRanges; ++i) {
    SCOPED_TRACE(i);
    RandomRide r = random_ride(dice);
    r.profile = random_profile(dice, 16);
    Cell& cell = r.bike.pack.cell;
    const double half_way =
        text_open_circuit(r.bike.pack, 0.5 * (cell.usable_from + cell.usable_to));
    if (i % 2 == 0) {
      // Set down so that the hardest interval is followed in the fuller half of the window only.
      RandomRide bare = r;
      bare.accessories = 0;
      double hardest = 0;
      each_interval(bare, half_way, [&](const Point& p, double, double) {
        hardest = std::max(hardest, p.battery_current);
      });
      r.bike.ceiling = hardest;
    }
    bool kink = false;
    if (i % 3 != 0) {
      cell.peukert_exponent = dice.between(1.03, 1.3);
      cell.rated_hours = dice.between(1.0, 20.0);
    }
    if (i % 3 == 2) {
      // The rated current is what some interval draws in the middle of the window.
      const int chosen = dice.between(0, 14);
      int at = 0;
      each_interval(r, half_way, [&](const Point& p, double, double) {
        if (at++ == chosen) {
          cell.rated_hours = cell.capacity * r.bike.pack.parallel / (3600 * p.battery_current);
        }
      });
      kink = true;
    }
    const double width = cell.usable_from - cell.usable_to;
    double sum = 0;
    int behind = 0;
    for (int step = 0; step < kSteps; ++step) {
      const double soc = cell.usable_to + width * (step + 0.5) / kSteps;
      const Pass pass = text_pass(r, text_open_circuit(r.bike.pack, soc));
      sum += pass.distance / pass.weighted;
      behind += pass.behind > 0 ? 1 : 0;
    }
    const double expected = cell.capacity * r.bike.pack.parallel * sum * width / kSteps;
    const RideResult result = engine_ride(r, reduce(r.profile), work);
    EXPECT_NEAR(result.range, expected, kRangeTolerance * expected);
    coverage.smooth += behind == 0 && !kink ? 1 : 0;
    coverage.behind += behind == kSteps ? 1 : 0;
    coverage.partly_behind += behind > 0 && behind < kSteps ? 1 : 0;
    coverage.kinks += kink ? 1 : 0;
  }
  EXPECT_GE(coverage.smooth, 6);
  EXPECT_GE(coverage.behind, 10);
  EXPECT_GE(coverage.partly_behind, 5);
  EXPECT_GE(coverage.kinks, kRanges / 3);
}

// Long rides on which many points fall behind, each at a voltage of its own.
TEST(Range, OfALongRideThatFallsBehindOftenIsThatOfEqualSteps) {
  constexpr int kLongSteps = 4000;
  Dice dice(45);
  RideWork work;
  int often = 0;
  for (int i = 0; i < 60; ++i) {
    SCOPED_TRACE(i);
    RandomRide r = random_ride(dice);
    r.profile = random_profile(dice, 400);
    const Cell& cell = r.bike.pack.cell;
    double hardest = 0;
    each_interval(
        r, text_open_circuit(r.bike.pack, cell.usable_from),
        [&](const Point& p, double, double) { hardest = std::max(hardest, p.battery_current); });
    r.bike.ceiling = hardest * dice.between(0.3, 0.9);
    const double width = cell.usable_from - cell.usable_to;
    double sum = 0;
    for (int step = 0; step < kLongSteps; ++step) {
      const double soc = cell.usable_to + width * (step + 0.5) / kLongSteps;
      const Pass pass = text_pass(r, text_open_circuit(r.bike.pack, soc));
      sum += pass.distance / pass.weighted;
    }
    const double expected = cell.capacity * r.bike.pack.parallel * sum * width / kLongSteps;
    const double range = engine_ride(r, reduce(r.profile), work).range;
    EXPECT_NEAR(range, expected, kRangeTolerance * expected);
    if (work.hard_current.size() > 24) ++often;
  }
  EXPECT_GE(often, 20);
}

// A ride that falls behind now and then, of a pack that may be so weak that it is loaded up to its
// matched load, of a cell that may weigh currents, in a window that may be narrow.
RandomRide random_hard_ride(Dice& dice) {
  RandomRide r = random_ride(dice);
  r.profile = random_profile(dice, 60);
  Cell& cell = r.bike.pack.cell;
  if (dice.chance(0.3)) r.bike.pack.resistance *= dice.between(2.0, 12.0);
  const bool spent = dice.chance(0.2);
  if (spent) {
    // Nothing but its own resistance limits the pack.
    r.bike.pack.resistance *= dice.between(5.0, 60.0);
    cell.empty_voltage *= 0.01;
    r.bike.pack.empty_voltage = r.bike.pack.series * cell.empty_voltage;
    r.bike.pack.current_limit = r.bike.controller.battery_current = 1e4;
    r.bike.controller.min_voltage = 0.1;
  }
  if (dice.chance(0.3)) {
    cell.peukert_exponent = dice.between(1.03, 1.3);
    cell.rated_hours = dice.between(1.0, 20.0);
  }
  if (dice.chance(0.5)) {
    cell.usable_from = dice.between(0.3, 1.0);
    cell.usable_to = cell.usable_from - dice.between(0.005, 0.25);
    r.bike.pack = filled_to(r.bike.pack, cell.usable_from);  // with nodes of the new window
  }
  if (!spent && dice.chance(0.5)) r.bike.ceiling = dice.between(20.0, 150.0);
  return r;
}

TEST(Range, LiesBetweenItsBounds) {
  Dice dice(47);
  RideWork work;
  int bounded = 0;
  int close = 0;
  for (int i = 0; i < 3000; ++i) {
    SCOPED_TRACE(i);
    RandomRide r = random_hard_ride(dice);
    // Only where currents weigh is the range so dear that it has bounds.
    r.bike.pack.cell.peukert_exponent = dice.between(1.001, 1.3);
    const RandomBike& b = r.bike;
    const double range = engine_ride(r, reduce(r.profile), work).range;
    const auto bounds = ride_range_bounds(ride_columns(reduce(r.profile), b.rolling.air),
                                          b.limits(), b.gear, b.rolling, pack_side(r), work);
    if (!bounds) continue;
    EXPECT_LE(bounds->least, range);
    EXPECT_GE(bounds->most, range);
    ++bounded;
    close += bounds->most <= 1.1 * bounds->least ? 1 : 0;
  }
  EXPECT_GE(bounded, 1000);
  EXPECT_GE(close, bounded * 3 / 4);
}

// The range as the differential equation d range/d soc = capacity x distance/charge, by
// Boost.Odeint's Dormand-Prince method, which shortens its steps where a limit takes over;
// restarted where the voltage's slope changes.
double integrated_range(const RandomRide& r) {
  namespace odeint = boost::numeric::odeint;
  const Cell& cell = r.bike.pack.cell;
  const auto law = [&](double, double& rate, double soc) {
    const Pass pass = text_pass(r, text_open_circuit(r.bike.pack, soc));
    rate = cell.capacity * r.bike.pack.parallel * pass.distance / pass.weighted;
  };
  const double cut_off =
      state_of_charge_above(cell.open_circuit, pack_side(r).low_voltage / r.bike.pack.series);
  double at = std::max(cell.usable_to, cut_off);
  double range = 0;
  // In short pieces, lest a step passes over a kink unseen.
  const auto go = [&](double to) {
    if (to <= at) return;
    constexpr int kPieces = 300;
    const double piece = (to - at) / kPieces;
    for (int i = 0; i < kPieces; ++i) {
      odeint::integrate_adaptive(
          odeint::make_controlled(1e-6, 1e-12, odeint::runge_kutta_dopri5<double>()), law, range,
          at + i * piece, at + (i + 1) * piece, piece);
    }
    at = to;
  };
  for (const OpenCircuitPoint& p : cell.open_circuit) {
    go(std::min(p.state_of_charge, cell.usable_from));
  }
  go(cell.usable_from);
  return range;
}

TEST(Range, OfARideThatFallsBehindIsThatOfTheDifferentialEquation) {
  constexpr double kTolerance = 5e-7;  // relative
  Dice dice(48);
  int duty = 0;
  int many = 0;
  int steady = 0;
  for (int i = 0; i < 200; ++i) {
    SCOPED_TRACE(i);
    RandomRide r = random_ride(dice);
    r.profile = random_profile(dice, i % 8 == 1 ? 400 : 60);
    r.bike.ceiling = dice.between(20.0, 150.0);
    const double speed = dice.between(5.0, 30.0);
    if (i % 4 == 0) r.profile = {{0, speed, 0}, {10, speed, 0}};
    RideWork work;  // a fresh one: it tells what of this ride falls behind
    const double range = engine_ride(r, reduce(r.profile), work).range;
    const SweepWork& swept = work.sweep;
    // What is followed throughout, or meets the matched load, is not swept.
    if (swept.moved.empty()) continue;
    const double expected = integrated_range(r);
    EXPECT_NEAR(range, expected, kTolerance * expected);
    steady += i % 4 == 0 ? 1 : 0;
    many += swept.back.size() > 12 ? 1 : 0;
    for (std::size_t k = 0; k < swept.back.size(); ++k) {
      if (swept.changes[k].from[1] < swept.changes[k].from[2]) {
        ++duty;
        break;
      }
    }
  }
  EXPECT_GE(duty, 30);
  EXPECT_GE(many, 40);
  EXPECT_GE(steady, 20);
}

// Weak packs that a ride loads up to the matched load, where the current's slope has no end, and
// cells that weigh currents, whose kinks are not all cut at: to 1e-5, most of them to 1e-6.
TEST(Range, OfAWeakPackIsThatOfTheDifferentialEquation) {
  constexpr double kWorst = 1e-5;  // relative
  Dice dice(49);
  int close = 0;
  int matched = 0;
  for (int i = 0; i < 150; ++i) {
    SCOPED_TRACE(i);
    RandomRide r = random_hard_ride(dice);
    const double speed = dice.between(5.0, 30.0);
    if (i % 5 == 0) r.profile = {{0, speed, 0}, {10, speed, 0}};
    RideWork work;
    const double range = engine_ride(r, reduce(r.profile), work).range;
    const double expected = integrated_range(r);
    EXPECT_NEAR(range, expected, kWorst * expected);
    close += std::abs(range - expected) <= kRangeTolerance * expected ? 1 : 0;
    const bool swept = !work.sweep.moved.empty();
    if (!work.hard_current.empty() && !swept && !(r.bike.pack.cell.peukert_exponent > 1)) ++matched;
  }
  EXPECT_GE(matched, 10);
  EXPECT_GE(close, 140);
}

TEST(Range, EndsAtTheCutOffHoweverFarTheWindowReaches) {
  Dice dice(46);
  RideWork work;
  for (int i = 0; i < 200; ++i) {
    SCOPED_TRACE(i);
    RandomRide r = random_ride(dice);
    r.profile = random_profile(dice, 16);
    Cell& cell = r.bike.pack.cell;
    const double cut_off = dice.between(cell.usable_to, 0.5 * (cell.usable_to + cell.usable_from));
    cell.empty_voltage = open_circuit_voltage(cell.open_circuit, cut_off);
    r.bike.pack.empty_voltage = r.bike.pack.series * cell.empty_voltage;
    RandomRide narrow = r;
    narrow.bike.pack.cell.usable_to = cut_off;
    narrow.bike.pack = filled_to(narrow.bike.pack, cell.usable_from);
    const auto range = [&](const RandomRide& ride) {
      return engine_ride(ride, reduce(ride.profile), work).range;
    };
    EXPECT_NEAR(range(r), range(narrow), 1e-6 * range(narrow));
    cell.empty_voltage = cell.open_circuit.back().voltage;
    r.bike.pack.empty_voltage = r.bike.pack.series * cell.empty_voltage;
    EXPECT_EQ(range(r), 0);
  }
}

TEST(Range, OfARideThatDrawsNoChargeDoesNotExist) {
  Dice dice(43);
  RandomRide r = random_ride(dice);
  r.accessories = 0;
  r.profile = {{0, 10, -0.5}, {10, 10, -0.5}};
  RideWork work;
  EXPECT_TRUE(std::isnan(engine_ride(r, reduce(r.profile), work).range));
}

TEST(Demand, OfAProfileKeepsItsTimeAndDistance) {
  Dice dice(44);
  for (int i = 0; i < kRides; ++i) {
    const Profile profile = random_profile(dice);
    // Ridden twice over, a profile has the same points for twice the time.
    const RideDemand once = reduce(profile);
    Profile twice = profile;
    const double end = profile.back().time;
    twice.push_back({end + 1, profile.front().speed, profile.front().grade});
    for (const ProfileSample& sample : profile) {
      if (&sample != &profile.front()) {
        twice.push_back({end + 1 + sample.time, sample.speed, sample.grade});
      }
    }
    const RideDemand demand = reduce(twice);
    const double between = 0.5 * (profile.back().speed + profile.front().speed);
    EXPECT_NEAR(demand.duration, 2 * once.duration + 1, kRounding * demand.duration);
    EXPECT_NEAR(demand.distance, 2 * once.distance + between, kRounding * demand.distance);
    EXPECT_LE(demand.points.size(), once.points.size() + 1);
    double duration = 0;
    for (const OperatingPoint& point : demand.points) duration += point.duration;
    EXPECT_NEAR(duration, demand.duration, kRounding * duration);
  }
}

}  // namespace
}  // namespace sprocketry::model
