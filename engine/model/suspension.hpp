#pragma once

#include <optional>

namespace sprocketry::model {

// A swing arm from the side. Places are those of the front sprocket's shaft seen from the arm's
// pivot, in m. Angles are the arm's, from pivot to axle, in rad below the horizontal: positive with
// the axle lower than the pivot. droop >= rest >= bump: droop with the wheel hanging, rest with the
// bike on its wheels and nobody on it, bump fully sprung in. The adjuster moves the axle along the
// arm.
struct SwingArm {
  double shaft_forward = 0;
  double shaft_up = 0;
  double droop = 0;
  double rest = 0;
  double bump = 0;
};

// Distance of shaft and pivot in m.
double shaft_distance(const SwingArm& arm);

// Shaft to axle in m for an arm (pivot to axle) of `length` m at an angle:
// C^2 = L^2 + d^2 + 2 L d cos(angle - a), d the distance of shaft and pivot, a = atan2(up, forward)
// (law of cosines).
double centre_distance(const SwingArm& arm, double length, double angle);

// Its inverse: pivot to axle in m for a centre distance (m) at an angle; NaN when the axle would
// have to lie in front of the pivot or no arm reaches.
double arm_length(const SwingArm& arm, double angle, double centre_distance);

// The angles within [bump, droop] at which shaft and axle are farthest apart and nearest: farthest
// with shaft, pivot and axle in one line and the pivot between them, nearest with the shaft between
// pivot and axle, or the end of the travel that is nearer to it. Neither depends on the arm's
// length.
double tightest_angle(const SwingArm& arm);
double loosest_angle(const SwingArm& arm);

// Free play in m: how far the middle of a straight run of `span` m moves up and down in all when
// the chain is `excess` m longer than its path, all of it in that run, which then makes two
// straight halves: sqrt(excess (2 span + excess)). What a bent run gains or loses on the sprockets
// is of the third order in its slope. 0 for a chain that is not longer.
double free_play(double span, double excess);
// Its inverse: excess length in m for a free play (m).
double excess_length(double span, double play);

// Share of the span that stays as free play where the chain is tightest: handbooks give 2 % for
// shock loads and fixed centres (from memory).
inline constexpr double kLeastPlay = 0.02;

// A chain set so that in its tightest position kLeastPlay is left. Lengths in m, angles in rad.
struct SlackSetting {
  double length = 0;          // pivot to axle
  double rest_distance = 0;   // shaft to axle at rest
  double rest_span = 0;       // straight run at rest
  double tightest_angle = 0;  //
  double tightest_distance = 0;
  double path_change = 0;    // chain path at the tightest position less that at the loosest
  double play_tightest = 0;  // free play, up and down in all, in the middle of one run
  double play_droop = 0;     //
  double play_rest = 0;      // what to set
  double play_bump = 0;      //
  // Least distance of the pivot's axis from the pitch line of each run anywhere in the travel; 0
  // when the run passes over it.
  double pivot_to_upper = 0;
  double pivot_to_lower = 0;
};

// The setting for a chain of so many links; nothing when the chain is too short for the sprockets
// or no arm reaches. The shaft must lie nearer to the pivot than half the arm's length: then each
// run turns in one sense through the travel, and its distance from the pivot is least at an end or
// where it is least at all.
std::optional<SlackSetting> slack_setting(const SwingArm& arm, double pitch, int front_teeth,
                                          int rear_teeth, int links);

}  // namespace sprocketry::model
