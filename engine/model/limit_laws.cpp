#include "model/limit_laws.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace sprocketry::model {

LimitLaws::LimitLaws(const DriveLimits& limits, double low_voltage, double stated_limit)
    : pack_resistance_(limits.pack_resistance),
      low_voltage_(low_voltage),
      stated_(stated_limit),
      per_stated_(1.0 / stated_limit),
      sag_per_power_(limits.pack_resistance / low_voltage),
      duty_resistance_(limits.duty_resistance),
      per_duty_(1.0 / (limits.efficiency * limits.duty_resistance)) {
  const double slope = per_duty_ * pack_resistance_;
  from_at_rest_ = low_voltage_ / (1.0 - slope);
  from_per_back_ = -slope / (1.0 - slope);
  stated_on_duty_ = stated_ / per_duty_;
  const double steep = 2.0 * slope;
  until_per_back_ = steep > 1.0 ? steep / (steep - 1.0) : std::numeric_limits<double>::infinity();
}

// By the product rule on I (E - I R_b), with dI/dE of the line that holds.
double LimitLaws::power_slope(Held held, double e, double back) const {
  if (held == Held::kDuty) {
    const double current = duty(e, back);
    return current + per_duty_ * (e - 2.0 * current * pack_resistance_);
  }
  if (held != Held::kBattery) return 0.0;
  const double current = battery(e);
  if (current >= stated_) return current;
  const bool sags = e < 2.0 * low_voltage_;
  return sags ? current + (e - 2.0 * current * pack_resistance_) / pack_resistance_ : current;
}

std::array<double, 3> LimitLaws::battery_changes() const {
  return {low_voltage_ + stated_ * pack_resistance_, 2.0 * stated_ * pack_resistance_,
          2.0 * low_voltage_};
}

// No current takes more than the matched load's power E^2/(4 R_b), and up to that load power rises
// with current. So each line alone asks for its own E where it lies below the matched load, and the
// highest of them counts.
double LimitLaws::battery_gives(double power) const {
  double e = 2.0 * std::sqrt(power * pack_resistance_);
  const double sagging = low_voltage_ + power * sag_per_power_;
  if (sagging < 2.0 * low_voltage_) e = std::max(e, sagging);
  const double limited = power * per_stated_ + stated_ * pack_resistance_;
  if (limited > 2.0 * stated_ * pack_resistance_) e = std::max(e, limited);
  return e;
}

// Above the crossing with (E - V_low)/R_b, which is the steeper line: c R_b < 1, for eta R' exceeds
// R_b by eta R.
double LimitLaws::duty_from(double back) const { return from_at_rest_ + back * from_per_back_; }

// Up to the crossings with the stated limit and with E/(2 R_b), if that is the less steep line.
double LimitLaws::duty_until(double back) const {
  return std::min(back + stated_on_duty_, back * until_per_back_);
}

LimitChanges LimitLaws::changes(double motor_current, double power, double back) const {
  const double followed = std::max(back + motor_current * duty_resistance_, battery_gives(power));
  const double from = std::clamp(duty_from(back), back, followed);
  const double until = std::clamp(duty_until(back), from, followed);
  return {{back, from, until, followed}};
}

}  // namespace sprocketry::model
