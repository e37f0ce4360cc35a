#pragma once

#include <array>

#include "model/drive.hpp"

namespace sprocketry::model {

// What a driving point that demands more than it gets is held back by.
enum class Held { kOff, kBattery, kDuty, kFollowed };

// As the open-circuit voltage E rises a point meets the limits in this order. It is without current
// up to its back EMF K w, then on the battery limit, on full duty, on the battery limit again, and
// followed at last; any of these may be empty. The second begins at `from[0]`, the last at
// `from[3]` (V, never descending).
inline constexpr std::array<Held, 5> kHeldInTurn = {Held::kOff, Held::kBattery, Held::kDuty,
                                                    Held::kBattery, Held::kFollowed};
struct LimitChanges {
  std::array<double, 4> from{};
};

// The limits of a drive as laws of E, in closed form. Everything is at the pack: a motor current I
// on full duty draws I/eta, so full duty gives c (E - K w) with c = 1/(eta R'), and the battery
// limit the least of the stated limit, (E - V_low)/R_b and E/(2 R_b). All are straight lines.
// Powers are the motor's share: the accessories come on top.
class LimitLaws {
 public:
  // Cut-off in V and stated limit in A as those of PackSide.
  LimitLaws(const DriveLimits& limits, double low_voltage, double stated_limit);

  // Currents in A at E in V; `back` is the back EMF K w in V.
  [[nodiscard]] double battery(double e) const {
    return largest_battery_current(e, pack_resistance_, low_voltage_, stated_);
  }
  [[nodiscard]] double duty(double e, double back) const { return (e - back) * per_duty_; }
  // Power in W that a current takes out of the pack, and how it grows with E in W/V at a limit.
  [[nodiscard]] double power(double current, double e) const {
    return current * (e - current * pack_resistance_);
  }
  [[nodiscard]] double power_slope(Held held, double e, double back) const;
  // E - 2 R_b I in V, which is 0 at the matched load.
  [[nodiscard]] double battery_reserve(double e) const {
    return e - 2.0 * pack_resistance_ * battery(e);
  }
  [[nodiscard]] double duty_reserve(double e, double back) const {
    return e - 2.0 * pack_resistance_ * duty(e, back);
  }
  // The voltages in V at which the battery limit goes over from one of its three lines to another.
  [[nodiscard]] std::array<double, 3> battery_changes() const;
  // Where the limits of a point change that asks for a motor current in A and a power in W of the
  // pack. Holds where duty_reserve() + battery_reserve() >= 0; below, full duty asks for so much
  // more than the matched load that the pack would give less power, not more.
  [[nodiscard]] LimitChanges changes(double motor_current, double power, double back) const;

 private:
  // The lowest E at which the battery limit gives a power.
  [[nodiscard]] double battery_gives(double power) const;
  // Full duty gives less than the battery limit between these voltages.
  [[nodiscard]] double duty_from(double back) const;
  [[nodiscard]] double duty_until(double back) const;

  double pack_resistance_;
  double low_voltage_;
  double stated_;           // A
  double per_stated_;       // 1/A
  double sag_per_power_;    // 1/A, R_b/V_low
  double duty_resistance_;  // ohm, R'
  double per_duty_;         // A/V, c
  // What duty_from() and duty_until() are made of, whatever the point's back EMF.
  double from_at_rest_;    // V
  double from_per_back_;   // V/V
  double stated_on_duty_;  // V
  double until_per_back_;  // V/V
};

}  // namespace sprocketry::model
