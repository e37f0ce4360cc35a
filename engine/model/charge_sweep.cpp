#include "model/charge_sweep.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>

#include "model/column_sum.hpp"
#include "model/point_kinds.hpp"

namespace sprocketry::model {
namespace {

class Sweep {
 public:
  Sweep(const DriveLimits& d, const PackSide& side, const ChargeWindow& window, RideWork& work)
      : laws_(d, side.low_voltage, side.stated_limit),
        window_(window),
        resistance_(d.pack_resistance),
        low_voltage_(side.low_voltage),
        accessories_(side.accessories),
        work_(&work),
        sweep_(work.sweep) {
    note_points(1.0 / d.efficiency, d.torque_constant);
  }

  std::optional<double> integral(const Pack& pack) {
    const auto kinds = choose_stand_ins(laws_, window_, resistance_, accessories_, sweep_);
    if (!kinds) return std::nullopt;
    followed_ = kinds->followed;
    duty_ = kinds->duty;
    const double panels = note_cuts();
    const KinkedRule rule(pack, window_, sweep_.cuts, panels, sweep_.rule);
    place_points(rule);
    return sum_up(rule);
  }

 private:
  // Powers at the pack, and the voltages at which the limits of the hard points change.
  void note_points(double per_efficiency, double torque_constant) {
    const RideWork& w = *work_;
    const std::size_t hard = w.hard_speed.size();
    sweep_.easy_power.resize(w.easy_power.size());
    for (std::size_t i = 0; i < w.easy_power.size(); ++i) {
      sweep_.easy_power[i] = w.easy_power[i] * per_efficiency + accessories_;
    }
    sweep_.hard_power.resize(hard);
    sweep_.back.resize(hard);
    sweep_.changes.resize(hard);
    for (std::size_t i = 0; i < hard; ++i) {
      const double given = w.hard_power[i] * per_efficiency;
      sweep_.back[i] = torque_constant * w.hard_speed[i];
      sweep_.hard_power[i] = given + accessories_;
      sweep_.changes[i] = laws_.changes(w.hard_current[i], given, sweep_.back[i]);
    }
  }

  [[nodiscard]] bool is_inside(double e) const { return e > window_.low && e < window_.high; }

  void add_cut(double e) {
    if (is_inside(e)) sweep_.cuts.push_back(e);
  }

  // Cuts the window where the battery limit bends, and where points change their limit that last so
  // long that the second order of their kinks would tell. Returns how many panels the rest needs.
  double note_cuts() {
    constexpr double kLong = 1.0 / 200.0;
    constexpr double kMuch = 0.25;
    const RideWork& w = *work_;
    sweep_.cuts.clear();
    for (const double e : laws_.battery_changes()) add_cut(e);
    const double hard = column_sum(w.hard_duration);
    const double all = w.idle_duration + column_sum(w.duration);
    for (std::size_t i = 0; i < w.hard_duration.size(); ++i) {
      if (w.hard_duration[i] < kLong * all) continue;
      for (const double e : sweep_.changes[i].from) add_cut(e);
      if (w.hard_duration[i] >= kMainShare * all)
        add_graded_cuts(sweep_.back[i], window_, sweep_.cuts);
    }
    if (hard > kMuch * all) add_graded_cuts(low_voltage_, window_, sweep_.cuts);
    std::ranges::sort(sweep_.cuts);
    constexpr double kFewest = 4;
    constexpr double kPerShare = 50;
    constexpr double kMost = 20;
    return std::min(kMost, kFewest + kPerShare * hard / all);
  }

  // What changes at a node: the weights of the stand-ins, followed ones first, then the seconds on
  // the battery limit and those without current.
  [[nodiscard]] double* row(std::size_t node) { return sweep_.moved.data() + node * width_; }

  void place_points(const KinkedRule& rule) {
    const RideWork& w = *work_;
    width_ = followed_.count() + duty_.count() + 2;
    sweep_.moved.assign((rule.count() + 1) * width_, 0.0);
    sweep_.kinks.assign(rule.count(), 0.0);
    followed_.gather(sweep_.easy_power, w.easy_duration, {row(0), followed_.count()});
    row(0)[width_ - 1] += w.idle_duration;
    const std::size_t hard = w.hard_speed.size();
    for (std::size_t first = 0; first < hard; first += StandIns::kWidth) {
      const std::size_t count = std::min(StandIns::kWidth, hard - first);
      note_shares(first, count);
      for (std::size_t lane = 0; lane < count; ++lane) place(rule, first + lane, lane);
    }
  }

  // The shares of a few points; one that is never of a kind has any.
  void note_shares(std::size_t first, std::size_t count) {
    std::array<double, StandIns::kWidth> power{};
    std::array<double, StandIns::kWidth> back{};
    std::array<double, StandIns::kWidth> duration{};
    for (std::size_t j = 0; j < count; ++j) {
      power[j] = sweep_.hard_power[first + j];
      back[j] = sweep_.back[first + j];
      duration[j] = work_->hard_duration[first + j];
    }
    followed_.shares(power.data(), duration.data(), followed_shares_);
    if (duty_.count() > 0) duty_.shares(back.data(), duration.data(), duty_shares_);
  }

  // Takes a hard point from limit to limit as E rises; limits that begin at once or below the
  // window are passed over.
  void place(const KinkedRule& rule, std::size_t i, std::size_t lane) {
    const auto& from = sweep_.changes[i].from;
    std::size_t turn = 0;
    while (turn < from.size() && from[turn] <= window_.low) ++turn;
    Held held = kHeldInTurn[turn];
    change(0, i, lane, held, 1.0);
    while (turn < from.size() && from[turn] < window_.high) {
      const double e = from[turn];
      while (turn < from.size() && from[turn] == e) ++turn;
      const Held next = kHeldInTurn[turn];
      if (next != held) move(rule, i, lane, e, held, next);
      held = next;
    }
  }

  void move(const KinkedRule& rule, std::size_t i, std::size_t lane, double e, Held before,
            Held after) {
    const KinkedRule::Place at = rule.place(e);
    change(at.above, i, lane, before, -1.0);
    change(at.above, i, lane, after, 1.0);
    // The current's slope jumps by that of the power over the root of E^2 - 4 R_b P.
    const double back = sweep_.back[i];
    const double jump = laws_.power_slope(after, e, back) - laws_.power_slope(before, e, back);
    const double power = after == Held::kFollowed
                             ? sweep_.hard_power[i]
                             : laws_.power(laws_.duty(e, back), e) + accessories_;
    sweep_.kinks[at.nearest] +=
        work_->hard_duration[i] * jump * at.missed / std::sqrt(e * e - 4.0 * resistance_ * power);
  }

  void change(std::size_t node, std::size_t i, std::size_t lane, Held held, double sign) {
    double* to = row(node);
    switch (held) {
      case Held::kFollowed:
        for (std::size_t k = 0; k < followed_.count(); ++k) {
          to[k] += sign * followed_shares_[k][lane];
        }
        break;
      case Held::kDuty:
        to += followed_.count();
        for (std::size_t k = 0; k < duty_.count(); ++k) to[k] += sign * duty_shares_[k][lane];
        break;
      case Held::kBattery:
        to[width_ - 2] += sign * work_->hard_duration[i];
        break;
      case Held::kOff:
        to[width_ - 1] += sign * work_->hard_duration[i];
        break;
    }
  }

  double sum_up(const KinkedRule& rule) {
    constexpr std::size_t kWidest = 2 * StandIns::kMost + 2;
    std::array<double, kWidest> seconds{};
    std::array<double, kWidest> power{};
    for (std::size_t k = 0; k < followed_.count(); ++k) power[k] = followed_.at(k);
    power[width_ - 1] = accessories_;
    const auto width = static_cast<Eigen::Index>(width_);
    Eigen::Map<Eigen::ArrayXd> lasting(seconds.data(), width);
    const Eigen::Map<const Eigen::ArrayXd> asked(power.data(), width);
    double sum = 0;
    for (std::size_t node = 0; node < rule.count(); ++node) {
      const double e = rule.voltage(node);
      lasting += Eigen::Map<const Eigen::ArrayXd>(row(node), width);
      for (std::size_t k = 0; k < duty_.count(); ++k) {
        power[followed_.count() + k] = laws_.power(laws_.duty(e, duty_.at(k)), e) + accessories_;
      }
      power[width_ - 2] = laws_.power(laws_.battery(e), e) + accessories_;
      const auto root = (e * e - 4.0 * resistance_ * asked).sqrt();
      const double inverse = 1.0 / (2.0 * asked * lasting / (e + root)).sum();
      sum += inverse * (rule.weight(node) - sweep_.kinks[node] * inverse);
    }
    return sum;
  }

  LimitLaws laws_;
  ChargeWindow window_;
  double resistance_;   // ohm, R_b
  double low_voltage_;  // V
  double accessories_;  // W
  RideWork* work_;
  SweepWork& sweep_;
  StandIns followed_;
  StandIns duty_;
  StandIns::Shares followed_shares_{};
  StandIns::Shares duty_shares_{};
  std::size_t width_ = 0;
};

}  // namespace

void add_graded_cuts(double from, const ChargeWindow& window, std::vector<double>& cuts) {
  constexpr double kGrade = 0.7;
  constexpr double kClosest = 1.0 / 4096.0;
  const double width = window.high - std::max(from, window.low);
  double rest = kGrade * (window.high - from);
  while (rest > kClosest * width && from + rest > window.low) {
    cuts.push_back(from + rest);
    rest *= kGrade;
  }
}

std::optional<double> swept_inverse_charge(const DriveLimits& limits, const PackSide& side,
                                           const ChargeWindow& window, RideWork& work) {
  return Sweep(limits, side, window, work).integral(*side.pack);
}

}  // namespace sprocketry::model
