// The swing arm's geometry on random arms: the tightest position against NLopt, the clearance of
// the runs against a scan of tangent points in coordinates, the slack against a bent run.
#include "model/suspension.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <nlopt.hpp>

#include "model/chain.hpp"
#include "support/random_bike.hpp"

namespace sprocketry::model {
namespace {

constexpr double kDegree = kPi / 180;

struct Drive {
  SwingArm arm;
  double pitch = 0;
  int front = 0, rear = 0, links = 0;
};

// Shafts in front of and behind the pivot, above and below it; some arms reach the straight line.
Drive random_drive(Dice& dice) {
  constexpr double kPitches[] = {12.7e-3, 15.875e-3};
  Drive d;
  const double rest = dice.between(-5.0, 20.0) * kDegree;
  d.arm = {dice.between(-0.05, 0.12), dice.between(-0.05, 0.06),
           rest + dice.between(0.0, 12.0) * kDegree, rest,
           rest - dice.between(0.0, 20.0) * kDegree};
  d.pitch = kPitches[dice.between(0, 1)];
  d.front = dice.between(10, 17);
  d.rear = dice.between(30, 62);
  d.links = 2 * dice.between(50, 60);
  return d;
}

// Shaft and axle as points, pivot at the origin, forward and up positive.
double distance_of_points(const SwingArm& arm, double length, double angle) {
  const double axle_forward = -length * std::cos(angle);
  const double axle_up = -length * std::sin(angle);
  return std::hypot(arm.shaft_forward - axle_forward, arm.shaft_up - axle_up);
}

struct Goal {
  const SwingArm* arm;
  double length;
};

// The farthest (or nearest) distance between the ends of the travel: a global search over the
// angle, polished. NLopt stops at the machine's last digits of the flat top.
double optimised(const SwingArm& arm, double length, bool farthest) {
  Goal goal{&arm, length};
  const auto value = [](const std::vector<double>& x, std::vector<double>&, void* data) {
    const Goal& g = *static_cast<Goal*>(data);
    return distance_of_points(*g.arm, g.length, x[0]);
  };
  const auto search = [&](nlopt::algorithm algorithm, std::vector<double>& at, int evaluations) {
    nlopt::opt opt(algorithm, 1);
    opt.set_lower_bounds(arm.bump);
    opt.set_upper_bounds(arm.droop);
    if (farthest) {
      opt.set_max_objective(value, &goal);
    } else {
      opt.set_min_objective(value, &goal);
    }
    opt.set_maxeval(evaluations);
    opt.set_xtol_abs(1e-10);
    double best = 0;
    try {
      opt.optimize(at, best);
    } catch (const nlopt::roundoff_limited&) {
      // A flat top has no better digits: what was found stands.
    }
    return best;
  };
  std::vector<double> at{0.5 * (arm.bump + arm.droop)};
  if (arm.droop - arm.bump < 1e-9) return distance_of_points(arm, length, arm.bump);
  search(nlopt::GN_DIRECT, at, 60);
  return search(nlopt::LN_BOBYQA, at, 200);
}

TEST(SwingArm, IsTightestWhereAnOptimiserFindsTheLargestDistance) {
  Dice dice(60);
  int inside = 0;
  int at_end = 0;
  for (int i = 0; i < 1000; ++i) {
    SCOPED_TRACE(i);
    const SwingArm arm = random_drive(dice).arm;
    const double length = dice.between(0.40, 0.60);
    const double angle = tightest_angle(arm);
    EXPECT_GE(angle, arm.bump);
    EXPECT_LE(angle, arm.droop);
    (angle > arm.bump && angle < arm.droop ? inside : at_end) += 1;
    EXPECT_NEAR(centre_distance(arm, length, angle), optimised(arm, length, true), 1e-9);
    EXPECT_NEAR(centre_distance(arm, length, loosest_angle(arm)), optimised(arm, length, false),
                1e-9);
  }
  EXPECT_GT(inside, 100);
  EXPECT_GT(at_end, 100);
}

TEST(SwingArm, LiesInOneLineWithTheShaftWhereThatIsInsideTheTravel) {
  // Forward 75 mm, up 20 mm: 14.93 deg (atan 20/75), where the distances add up.
  const SwingArm arm{0.075, 0.020, 18 * kDegree, 11 * kDegree, -2 * kDegree};
  EXPECT_NEAR(tightest_angle(arm) / kDegree, 14.931417, 1e-6);
  EXPECT_NEAR(centre_distance(arm, 0.5, tightest_angle(arm)), 0.5 + std::hypot(0.075, 0.020),
              1e-15);
  EXPECT_EQ(loosest_angle(arm), arm.bump);
}

TEST(SwingArm, OfAShaftOnThePivotNeverChangesTheDistance) {
  const SwingArm arm{0, 0, 0.3, 0.1, -0.2};
  const auto s = slack_setting(arm, 12.7e-3, 12, 60, 126);
  ASSERT_TRUE(s.has_value());
  EXPECT_NEAR(s->path_change, 0, 1e-12);
  EXPECT_NEAR(s->play_rest, s->play_tightest, 1e-9);
  EXPECT_NEAR(s->play_rest, kLeastPlay * s->rest_span, 1e-9);
  EXPECT_NEAR(s->pivot_to_upper, 0.5 * pitch_diameter(12.7e-3, 12), 1e-12);
}

TEST(ArmLength, IsTheInverseOfTheCentreDistance) {
  Dice dice(61);
  for (int i = 0; i < 2000; ++i) {
    const SwingArm arm = random_drive(dice).arm;
    const double length = dice.between(0.35, 0.7);
    const double angle = dice.between(arm.bump, arm.droop);
    EXPECT_NEAR(arm_length(arm, angle, centre_distance(arm, length, angle)), length, 1e-14);
    EXPECT_EQ(centre_distance(arm, length, angle),
              std::hypot(arm.shaft_forward + length * std::cos(angle),
                         arm.shaft_up + length * std::sin(angle)));
  }
}

TEST(ArmLength, DoesNotExistForADistanceThatNoArmMakes) {
  // The shaft lies 80 mm straight above the pivot and the arm is level: the axle is never nearer.
  const SwingArm arm{0, 0.08, 0, 0, 0};
  EXPECT_TRUE(std::isnan(arm_length(arm, 0, 0.079)));
  EXPECT_NEAR(arm_length(arm, 0, 0.1), 0.06, 1e-15);
}

TEST(FreePlay, IsTheMoveOfTheMiddleOfARunOfTwoStraightHalves) {
  Dice dice(62);
  for (int i = 0; i < 2000; ++i) {
    const double span = dice.between(0.3, 0.8);
    const double play = dice.between(0.0, 0.15);
    // Pulled down by half the play, each half is the hypotenuse of half the run.
    const double bent = 2 * std::hypot(span / 2, play / 2);
    EXPECT_NEAR(excess_length(span, play), bent - span, 1e-15);
    EXPECT_NEAR(free_play(span, bent - span), play, 1e-7);
  }
  EXPECT_EQ(free_play(0.5, -0.001), 0);
  EXPECT_EQ(free_play(0.5, 0), 0);
}

TEST(SlackSetting, LeavesTheLeastPlayWhereTheChainIsTightestAndMoreElsewhere) {
  Dice dice(63);
  int set = 0;
  for (int i = 0; i < 2000; ++i) {
    SCOPED_TRACE(i);
    const Drive d = random_drive(dice);
    const auto s = slack_setting(d.arm, d.pitch, d.front, d.rear, d.links);
    if (!s) continue;
    ++set;
    const double apart = (pitch_diameter(d.pitch, d.rear) - pitch_diameter(d.pitch, d.front)) / 2;
    const auto span = [&](double centre) { return std::sqrt(centre * centre - apart * apart); };
    // The chain's own length closes on the bent run of each position.
    const auto left = [&](double angle, double play) {
      const double centre = distance_of_points(d.arm, s->length, angle);
      const double bent = 2 * std::hypot(span(centre) / 2, play / 2);
      return d.pitch * (d.links - chain_length(d.pitch, d.front, d.rear, centre)) -
             (bent - span(centre));
    };
    EXPECT_NEAR(left(d.arm.rest, s->play_rest), 0, 1e-11);
    EXPECT_NEAR(left(d.arm.droop, s->play_droop), 0, 1e-11);
    EXPECT_NEAR(left(d.arm.bump, s->play_bump), 0, 1e-11);
    EXPECT_NEAR(s->play_tightest, kLeastPlay * span(s->tightest_distance), 1e-8);
    for (const double play : {s->play_rest, s->play_droop, s->play_bump}) {
      EXPECT_GE(play, s->play_tightest - 1e-8);
    }
    EXPECT_NEAR(s->rest_distance, distance_of_points(d.arm, s->length, d.arm.rest), 1e-14);
    // Pulled straight the same chain would reach farther.
    EXPECT_LT(s->tightest_distance, centre_distance(d.pitch, d.front, d.rear, d.links).value_or(0));
  }
  EXPECT_GT(set, 1500);
}

TEST(SlackSetting, DoesNotExistForAChainThatIsTooShort) {
  const SwingArm arm{0.07, 0.02, 0.3, 0.2, 0};
  EXPECT_FALSE(slack_setting(arm, 12.7e-3, 12, 60, 30).has_value());
}

// Distance of the origin from the line that touches both pitch circles on one side, by its points
// of contact; negative outside of the loop.
double distance_to_run(const Drive& d, double length, double angle, int side) {
  const double r1 = pitch_diameter(d.pitch, d.front) / 2;
  const double r2 = pitch_diameter(d.pitch, d.rear) / 2;
  const double ax = -length * std::cos(angle);
  const double ay = -length * std::sin(angle);
  const double cx = d.arm.shaft_forward - ax;
  const double cy = d.arm.shaft_up - ay;
  const double c = std::hypot(cx, cy);
  // The unit normal n with n.(S - A) = r2 - r1, on the upper or lower side of the line of centres.
  const double along = (r2 - r1) / c;
  const double across = std::sqrt(1 - along * along);
  const double ux = cx / c;
  const double uy = cy / c;
  const double nx = along * ux - side * across * uy;
  const double ny = along * uy + side * across * ux;
  const double px = d.arm.shaft_forward + r1 * nx;
  const double py = d.arm.shaft_up + r1 * ny;
  return px * nx + py * ny;
}

TEST(SlackSetting, FindsTheNearestThatARunComesToThePivot) {
  Dice dice(64);
  int touching = 0;
  for (int i = 0; i < 1000; ++i) {
    SCOPED_TRACE(i);
    const Drive d = random_drive(dice);
    const auto s = slack_setting(d.arm, d.pitch, d.front, d.rear, d.links);
    if (!s) continue;
    for (const int side : {1, -1}) {
      double least = 1;
      bool inside = false;
      bool outside = false;
      constexpr int kSteps = 2000;
      for (int k = 0; k <= kSteps; ++k) {
        const double angle = d.arm.bump + (d.arm.droop - d.arm.bump) * k / kSteps;
        const double distance = distance_to_run(d, s->length, angle, side);
        least = std::min(least, std::abs(distance));
        (distance > 0 ? inside : outside) = true;
      }
      const double found = side > 0 ? s->pivot_to_upper : s->pivot_to_lower;
      if (inside && outside) {
        ++touching;
        EXPECT_EQ(found, 0);
      } else {
        EXPECT_NEAR(found, least, 1e-9);
      }
    }
  }
  EXPECT_GT(touching, 10);
}

}  // namespace
}  // namespace sprocketry::model
