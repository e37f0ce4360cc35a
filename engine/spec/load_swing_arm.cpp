#include <cmath>

#include "model/constants.hpp"
#include "spec/limits.hpp"
#include "spec/load_sections.hpp"

namespace sprocketry::spec {
namespace {

namespace rule = limits::bike;

// What two tapes may differ by and still mean the same frame; common practice, no source.
constexpr double kMeasuring = 0.010;  // m

std::string millimetres(double length) {
  return parts::number_text(std::round(length * 1000)) + " mm";
}

void add_with_centre_distance(Reader& bike, Reader& arm, std::string_view key, std::string message,
                              std::string hint) {
  document::Diagnostic finding;
  finding.mark = arm.mark_of(key);
  finding.message = std::move(message);
  finding.hint = std::move(hint);
  finding.second_mark = bike.mark_of("centre_distance");
  finding.second_message = "the centre distance stands here";
  bike.findings().diagnostics.add(std::move(finding));
}

// Arm, shaft and centre distance make one triangle at rest: the arm's length must lie where the
// adjuster lets the axle go.
void check_triangle(Reader& bike, Reader& arm, const model::SwingArm& geometry, double length,
                    const Bike& result) {
  if (2 * model::shaft_distance(geometry) > length) {
    add_with_centre_distance(bike, arm, "shaft_from_pivot",
                             "the shaft is farther from the pivot than half the arm's length",
                             "measure from the pivot's axis to the shaft's axis, level and plumb");
    return;
  }
  if (!(result.min_centre_distance > 0) || !(result.max_centre_distance > 0)) return;
  const double shortest = model::arm_length(geometry, geometry.rest, result.min_centre_distance);
  const double longest = model::arm_length(geometry, geometry.rest, result.max_centre_distance);
  if (length >= shortest - kMeasuring && length <= longest + kMeasuring) return;
  const std::string fitting = std::isnan(shortest) || std::isnan(longest)
                                  ? "no arm reaches that centre distance"
                                  : "at rest, that centre distance needs an arm of " +
                                        millimetres(shortest) + " to " + millimetres(longest);
  add_with_centre_distance(
      bike, arm, "length",
      "the arm's length of " + millimetres(length) + " contradicts the centre distance: " + fitting,
      "measure both again: `length` from pivot to axle, `centre_distance` from "
      "shaft to axle with the arm at `rest`, angles positive below horizontal");
}

}  // namespace

void read_swing_arm(Reader& bike, Bike& result) {
  auto arm =
      bike.optional_map("swing_arm", "`swing_arm` of the bike",
                        "{length: 510 mm, shaft_from_pivot: {forward: 75 mm, up: 20 mm}, ...}");
  if (!arm) return;
  const auto length = arm->quantity("length", rule::kArmLength);
  std::optional<double> forward;
  std::optional<double> up;
  if (auto shaft = arm->map("shaft_from_pivot", "`shaft_from_pivot` of the swing arm",
                            "{forward: 75 mm, up: 20 mm}")) {
    forward = shaft->quantity("forward", rule::kShaftFromPivot);
    up = shaft->quantity("up", rule::kShaftFromPivot);
    shaft->finish();
  }
  const auto droop = arm->quantity("droop", rule::kArmAngle);
  const auto rest = arm->quantity("rest", rule::kArmAngle);
  const auto bump = arm->quantity("bump", rule::kArmAngle);
  constexpr std::string_view kOrder =
      "angles are positive below the horizontal, so `droop` is the largest and `bump` the smallest";
  arm->check_ascending("rest", rest, "droop", droop, kOrder);
  arm->check_ascending("bump", bump, "rest", rest, kOrder);
  result.pivot_diameter = arm->optional_quantity("pivot_diameter", rule::kPivotDiameter);
  arm->finish();
  if (!length || !forward || !up || !droop || !rest || !bump) return;
  result.swing_arm = model::SwingArm{*forward, *up, *droop, *rest, *bump};
  check_triangle(bike, *arm, *result.swing_arm, *length, result);
}

}  // namespace sprocketry::spec
