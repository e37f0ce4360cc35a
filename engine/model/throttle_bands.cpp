#include "model/throttle_bands.hpp"

#include <algorithm>
#include <utility>

#include "model/constants.hpp"

namespace sprocketry::model {
namespace {

// Which part or wish states the limit on the battery current, or whether the pack itself does.
ThrottleLimit battery_limit(const Level& level, double ceiling) {
  const DriveLimits& d = level.full;
  const std::pair<double, ThrottleLimit> limits[] = {
      {level.controller->battery_current, ThrottleLimit::kControllerDraw},
      {level.pack->current_limit, ThrottleLimit::kPackCurrent},
      {ceiling, ThrottleLimit::kCeiling},
      {(d.voltage - level.side.low_voltage) / d.pack_resistance, ThrottleLimit::kLowVoltage},
      {d.voltage / (2.0 * d.pack_resistance), ThrottleLimit::kMatchedLoad}};
  return std::ranges::min_element(limits, {}, [](const auto& limit) { return limit.first; })
      ->second;
}

// See largest_drive_force(): the lesser of grip and what lifts the front wheel.
ThrottleLimit tyre_limit(const Stance& stance, const Rolling& rolling) {
  const double lift = rolling.mass * kGravity *
                      (stance.wheelbase - stance.centre_of_gravity_behind) /
                      stance.centre_of_gravity_height;
  return rolling.largest_force < lift ? ThrottleLimit::kGrip : ThrottleLimit::kLiftOff;
}

// What holds between two corners, decided in the middle: no law crosses another there.
ThrottleLimit limit_at(const Build& b, const Stance& stance, double ceiling, double speed) {
  const DriveLimits& d = b.level->full;
  const double w = b.gearing.ratio * speed;
  const double current = largest_motor_current(d, w);
  const double force = (d.torque_constant * current - d.loss.at(w)) * b.gearing.lever;
  if (force >= b.rolling.largest_force) return tyre_limit(stance, b.rolling);
  if (current >= d.phase_current) {
    return b.level->motor->peak_current <= b.level->controller->motor_current
               ? ThrottleLimit::kMotorCurrent
               : ThrottleLimit::kControllerCurrent;
  }
  const double duty = (d.voltage - d.torque_constant * w) / d.duty_resistance;
  return current < duty ? battery_limit(*b.level, ceiling) : ThrottleLimit::kFullDuty;
}

ThrottlePoint point_at(const Build& b, double speed) {
  const DriveLimits& d = b.level->full;
  const double w = b.gearing.ratio * speed;
  const double current = full_throttle_current(d, b.gearing, b.rolling.largest_force, speed);
  const double power = current * (current * d.resistance + d.torque_constant * w);
  const double drawn = battery_current(d.voltage, d.pack_resistance, power / d.efficiency);
  return {speed, drive_force(d, b.gearing, b.rolling.largest_force, speed), current,
          std::min(drawn, d.battery_current)};
}

}  // namespace

std::vector<ThrottleBand> throttle_bands(const Build& b, const Stance& stance, double ceiling,
                                         double top_speed) {
  std::vector<ThrottleBand> bands;
  double from = 0;
  for (std::size_t i = 0; i <= b.corners.count && from < top_speed; ++i) {
    const double to = i < b.corners.count ? std::min(b.corners.speed[i], top_speed) : top_speed;
    if (to <= from) continue;
    const ThrottleLimit limit = limit_at(b, stance, ceiling, 0.5 * (from + to));
    if (!bands.empty() && bands.back().limit == limit) {
      bands.back().to = point_at(b, to);
    } else {
      bands.push_back({point_at(b, from), point_at(b, to), limit});
    }
    from = to;
  }
  return bands;
}

}  // namespace sprocketry::model
