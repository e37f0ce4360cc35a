#include "model/suspension.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "model/chain.hpp"
#include "model/constants.hpp"

namespace sprocketry::model {
namespace {

// The arm's angle at which shaft, pivot and axle lie in one line, pivot between them.
double straight_angle(const SwingArm& arm) { return std::atan2(arm.shaft_up, arm.shaft_forward); }

// The angle of the travel that lies nearest to another, round the circle: the cosine law falls with
// the turn away from the straight line, either way.
double nearest_within(const SwingArm& arm, double angle) {
  if (angle >= arm.bump && angle <= arm.droop) return angle;
  return std::cos(arm.droop - angle) > std::cos(arm.bump - angle) ? arm.droop : arm.bump;
}

// One run's tangent: the direction of its outward normal, seen from behind the pivot, in rad.
// `side` is 1 for the upper run, -1 for the lower.
double normal_angle(const SwingArm& arm, double length, double angle, double radius_difference,
                    int side) {
  const double behind = arm.shaft_forward + length * std::cos(angle);
  const double below = arm.shaft_up + length * std::sin(angle);
  // Shaft to axle points back by `behind` and down by `below`; the normal is a quarter turn from
  // it, less what the larger sprocket at the axle tilts the run.
  const double to_axle = std::atan2(-below, -behind);
  const double tilt = std::asin(radius_difference / std::hypot(behind, below));
  return to_axle - side * (0.5 * kPi + tilt);
}

// Whether an angle, or one that differs by whole turns, lies within [low, high].
bool turns_past(double angle, double low, double high) {
  constexpr double kTurn = 2.0 * kPi;
  return angle + std::ceil((low - angle) / kTurn) * kTurn <= high;
}

// Least distance of the pivot from a run's pitch line. The run lies `front_radius` from the shaft
// along its normal, the pivot d cos(normal - direction of the shaft) inside of that.
double pivot_distance(const SwingArm& arm, double length, double front_radius,
                      double radius_difference, int side) {
  const double shaft = std::atan2(arm.shaft_up, arm.shaft_forward);
  const double d = shaft_distance(arm);
  double low = normal_angle(arm, length, arm.bump, radius_difference, side);
  double high = normal_angle(arm, length, arm.droop, radius_difference, side);
  // The normal turns by less than half a turn on the way.
  high = low + std::remainder(high - low, 2.0 * kPi);
  if (high < low) std::swap(low, high);
  const double at_low = front_radius + d * std::cos(low - shaft);
  const double at_high = front_radius + d * std::cos(high - shaft);
  double least = std::min(at_low, at_high);
  double most = std::max(at_low, at_high);
  if (turns_past(shaft + kPi, low, high)) least = front_radius - d;
  if (turns_past(shaft, low, high)) most = front_radius + d;
  if (least <= 0 && most >= 0) return 0;
  return std::min(std::abs(least), std::abs(most));
}

// Radii of the pitch circles, and the straight run between them.
struct Circles {
  double front, rear;

  [[nodiscard]] double difference() const { return rear - front; }
  [[nodiscard]] double span(double centre) const {
    return std::sqrt((centre - difference()) * (centre + difference()));
  }
};

// Centre distance at which a chain of so many links keeps kLeastPlay in one run.
std::optional<double> slack_distance(double pitch, int front_teeth, int rear_teeth, int links,
                                     const Circles& circles) {
  auto centre = centre_distance(pitch, front_teeth, rear_teeth, links);
  // The excess is 0.0002 of the span and hardly changes with it: each round gains four digits.
  constexpr int kRounds = 5;
  for (int round = 0; centre && round < kRounds; ++round) {
    const double span = circles.span(*centre);
    const double excess = excess_length(span, kLeastPlay * span);
    centre = centre_distance(pitch, front_teeth, rear_teeth, links - excess / pitch);
  }
  return centre;
}

}  // namespace

double shaft_distance(const SwingArm& arm) { return std::hypot(arm.shaft_forward, arm.shaft_up); }

double centre_distance(const SwingArm& arm, double length, double angle) {
  return std::hypot(arm.shaft_forward + length * std::cos(angle),
                    arm.shaft_up + length * std::sin(angle));
}

double arm_length(const SwingArm& arm, double angle, double centre_distance) {
  const double d = shaft_distance(arm);
  const double turn = angle - straight_angle(arm);
  const double across = d * std::sin(turn);
  const double length =
      std::sqrt((centre_distance - across) * (centre_distance + across)) - d * std::cos(turn);
  return length > 0 ? length : std::numeric_limits<double>::quiet_NaN();
}

double tightest_angle(const SwingArm& arm) { return nearest_within(arm, straight_angle(arm)); }

double loosest_angle(const SwingArm& arm) {
  const double straight = straight_angle(arm);
  return nearest_within(arm, straight > 0 ? straight - kPi : straight + kPi);
}

double free_play(double span, double excess) {
  return excess > 0 ? std::sqrt(excess * (2.0 * span + excess)) : 0.0;
}

double excess_length(double span, double play) {
  return play * play / (span + std::sqrt(span * span + play * play));
}

std::optional<SlackSetting> slack_setting(const SwingArm& arm, double pitch, int front_teeth,
                                          int rear_teeth, int links) {
  const Circles circles{0.5 * pitch_diameter(pitch, front_teeth),
                        0.5 * pitch_diameter(pitch, rear_teeth)};
  const auto tightest = slack_distance(pitch, front_teeth, rear_teeth, links, circles);
  if (!tightest) return std::nullopt;
  SlackSetting s;
  s.tightest_angle = tightest_angle(arm);
  s.tightest_distance = *tightest;
  s.length = arm_length(arm, s.tightest_angle, *tightest);
  if (std::isnan(s.length)) return std::nullopt;
  const auto path = [&](double centre) {
    return pitch * chain_length(pitch, front_teeth, rear_teeth, centre);
  };
  const auto play = [&](double centre) {
    return free_play(circles.span(centre), pitch * links - path(centre));
  };
  s.rest_distance = centre_distance(arm, s.length, arm.rest);
  s.rest_span = circles.span(s.rest_distance);
  s.path_change = path(*tightest) - path(centre_distance(arm, s.length, loosest_angle(arm)));
  s.play_tightest = play(*tightest);
  s.play_droop = play(centre_distance(arm, s.length, arm.droop));
  s.play_rest = play(s.rest_distance);
  s.play_bump = play(centre_distance(arm, s.length, arm.bump));
  s.pivot_to_upper = pivot_distance(arm, s.length, circles.front, circles.difference(), 1);
  s.pivot_to_lower = pivot_distance(arm, s.length, circles.front, circles.difference(), -1);
  return s;
}

}  // namespace sprocketry::model
