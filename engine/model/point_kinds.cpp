#include "model/point_kinds.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace sprocketry::model {
namespace {

constexpr double kError = 1e-10;  // of the current, that stand-ins may leave
// Room that the pack's load keeps to the matched one, as a share of the voltage.
constexpr double kRoom = 0.02;

struct Extent {
  double least = std::numeric_limits<double>::max();
  double most = std::numeric_limits<double>::lowest();

  void take(double value) {
    least = std::min(least, value);
    most = std::max(most, value);
  }
  [[nodiscard]] bool empty() const { return least > most; }
};

// True when the window has something at or above a voltage; it may be a single voltage.
bool reaches(const ChargeWindow& window, double e) { return e < window.high || e <= window.low; }

// True when full duty holds a hard point back somewhere in the window.
bool on_duty(const ChargeWindow& window, const LimitChanges& c) {
  return reaches(window, c.from[1]) && std::max(c.from[1], window.low) < c.from[2];
}

// The current is analytic in the power up to the matched load, E^2/(4 R_b).
std::optional<StandIns> for_followed(const ChargeWindow& window, double resistance,
                                     double accessories, const SweepWork& sweep) {
  Extent power;
  for (const double easy : sweep.easy_power) power.take(easy);
  for (std::size_t i = 0; i < sweep.hard_power.size(); ++i) {
    if (reaches(window, sweep.changes[i].from[3])) power.take(sweep.hard_power[i]);
  }
  if (power.empty()) power.take(accessories);
  const double half = 0.5 * std::max(power.most - power.least, 1e-6 * power.most);
  const double matched = 0.25 * window.low * window.low / resistance;
  const std::size_t count = stand_ins_needed((matched - power.most) / half, kError);
  if (count > StandIns::kMost) return std::nullopt;
  return StandIns(power.least, power.most, count);
}

// With the reserve u = E - 2 R_b I the current with accessories is (E - sqrt(u^2 - bend^2))/(2 R_b)
// where bend = 2 sqrt(R_b accessories). u is linear in E and in the back EMF, and so exact with two
// stand-ins; the root is another by about (bend/u)^2 of it.
std::optional<StandIns> for_duty(const LimitLaws& laws, const ChargeWindow& window, double bend,
                                 const SweepWork& sweep) {
  Extent back;
  for (std::size_t i = 0; i < sweep.back.size(); ++i) {
    if (on_duty(window, sweep.changes[i])) back.take(sweep.back[i]);
  }
  if (back.empty()) return StandIns();
  const double at_low = laws.duty_reserve(window.low, back.least);
  const double least = std::min(at_low, laws.duty_reserve(window.high, back.least));
  if (!(least > 2.0 * bend + kRoom * window.high)) return std::nullopt;
  const double half = 0.5 * (laws.duty_reserve(window.low, back.most) - at_low);
  const double part = bend * bend / (least * least);
  const bool straight = part <= kError || half <= 1e-9 * least;
  const std::size_t count =
      straight ? 2 : stand_ins_needed((least - bend) / half, std::min(0.1, kError / part));
  if (count > StandIns::kMost) return std::nullopt;
  return StandIns(back.least, back.most, count);
}

// True when the battery limit nearly is the matched load, or when full duty asks for so much more
// that LimitLaws::changes() does not hold. The reserves are convex in E and bend only where the
// battery limit does.
bool meets_matched_load(const LimitLaws& laws, const ChargeWindow& window, double bend,
                        const SweepWork& sweep) {
  const double back = sweep.back.empty() ? window.high : *std::ranges::min_element(sweep.back);
  const auto meets = [&](double e) {
    const double reserve = laws.battery_reserve(e);
    return reserve < bend + kRoom * e || reserve + laws.duty_reserve(e, back) < 0;
  };
  if (meets(window.low) || meets(window.high)) return true;
  return std::ranges::any_of(laws.battery_changes(), [&](double e) {
    return e > window.low && e < window.high && meets(e);
  });
}

}  // namespace

std::optional<PointKinds> choose_stand_ins(const LimitLaws& laws, const ChargeWindow& window,
                                           double resistance, double accessories,
                                           const SweepWork& sweep) {
  const double bend = 2.0 * std::sqrt(resistance * accessories);
  if (meets_matched_load(laws, window, bend, sweep)) return std::nullopt;
  const auto followed = for_followed(window, resistance, accessories, sweep);
  const auto duty = for_duty(laws, window, bend, sweep);
  if (!followed || !duty) return std::nullopt;
  return PointKinds{*followed, *duty};
}

}  // namespace sprocketry::model
