#include "model/range.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>
#include <numeric>

#include "model/charge_window.hpp"
#include "model/constants.hpp"

namespace sprocketry::model {
namespace {

// The lowest voltage in [low, high] from which on `holds` is true; `holds` must be false at `low`
// and true at `high`. To a few parts in 1e10: a kink misplaced by so little changes no integral.
template <typename Holds>
double threshold(const Holds& holds, double low, double high) {
  constexpr int kSteps = 32;
  for (int step = 0; step < kSteps; ++step) {
    const double middle = 0.5 * (low + high);
    (holds(middle) ? high : low) = middle;
  }
  return high;
}

// Chebyshev nodes on [-1, 1] and their barycentric weights.
template <std::size_t Count>
struct Chebyshev {
  std::array<double, Count> node{};
  std::array<double, Count> weight{};

  Chebyshev() {
    for (std::size_t k = 0; k < Count; ++k) {
      const double angle = (2.0 * static_cast<double>(k) + 1.0) * kPi / (2.0 * Count);
      node[k] = std::cos(angle);
      weight[k] = (k % 2 == 0 ? 1.0 : -1.0) * std::sin(angle);
    }
  }
};

template <std::size_t Count>
const Chebyshev<Count>& chebyshev() {
  static const Chebyshev<Count> kTable;
  return kTable;
}

void add_inside(double value, double low, double high, std::vector<double>& cuts) {
  if (value > low && value < high) cuts.push_back(value);
}

}  // namespace

ChargeLaw::ChargeLaw(const DriveLimits& limits, double largest_force, const Gearing& gearing,
                     const PackSide& side, RideWork& work)
    : limits_(&limits), side_(&side), work_(&work) {
  const Cell& cell = side.pack->cell;
  reference_current_ = side.pack->parallel * cell.capacity / (cell.rated_hours * 3600.0);
  held_torque_ = largest_force / gearing.lever;
  force_followed_ = work.largest_force <= largest_force;
}

double ChargeLaw::motor_power(double voltage) const {
  const double current = largest_battery_current(voltage, limits_->pack_resistance,
                                                 side_->low_voltage, side_->stated_limit);
  return limits_->efficiency * current * (voltage - current * limits_->pack_resistance);
}

bool ChargeLaw::follows(double voltage) const {
  return force_followed_ && work_->largest_current <= limits_->phase_current &&
         work_->largest_duty_voltage <= voltage && work_->largest_power <= motor_power(voltage);
}

bool ChargeLaw::follows(std::size_t i, double voltage, double motor_power) const {
  const DriveLimits& d = *limits_;
  const double current = work_->current[i];
  return current <= d.phase_current && work_->power[i] <= motor_power &&
         current * d.duty_resistance + d.torque_constant * work_->motor_speed[i] <= voltage &&
         current <= (held_torque_ + d.loss.at(work_->motor_speed[i])) / d.torque_constant;
}

double ChargeLaw::motor_current(std::size_t i, double voltage, double motor_power) const {
  if (follows(i, voltage, motor_power)) return work_->current[i];
  DriveLimits d = *limits_;
  d.voltage = voltage;
  d.motor_power = motor_power;
  const double w = work_->motor_speed[i];
  const double held = (held_torque_ + d.loss.at(w)) / d.torque_constant;
  return std::min({work_->current[i], held, largest_motor_current(d, w)});
}

double ChargeLaw::weighted(double current, double duration) const {
  if (!weighs() || current <= reference_current_) return current * duration;
  const double exponent = side_->pack->cell.peukert_exponent - 1.0;
  return current * duration * std::pow(current / reference_current_, exponent);
}

double ChargeLaw::drawn(const std::vector<double>& power, const std::vector<double>& duration,
                        double voltage) const {
  double charge = 0;
  for (std::size_t i = 0; i < power.size(); ++i) {
    const double total = power[i] / limits_->efficiency + side_->accessories;
    charge += weighted(battery_current(voltage, limits_->pack_resistance, total), duration[i]);
  }
  return charge;
}

void ChargeLaw::drawn(const std::vector<double>& power, const std::vector<double>& duration,
                      std::span<const double> voltages, std::span<double> charges) const {
  const double four_resistances = 4.0 * limits_->pack_resistance;
  const double per_efficiency = 1.0 / limits_->efficiency;
  const double accessories = side_->accessories;
  const double least = *std::ranges::min_element(voltages);
  const bool matched =
      four_resistances * (work_->largest_power * per_efficiency + accessories) >= least * least;
  if (weighs() || matched) {
    for (std::size_t k = 0; k < voltages.size(); ++k) {
      charges[k] = drawn(power, duration, voltages[k]);
    }
    return;
  }
  // The hot loop, two voltages at a time: battery_current() where nothing meets the matched load.
  for (std::size_t k = 0; k < voltages.size(); k += 2) {
    const std::size_t next = std::min(k + 1, voltages.size() - 1);
    const Eigen::Array2d voltage(voltages[k], voltages[next]);
    const Eigen::Array2d square = voltage * voltage;
    Eigen::Array2d charge(0.0, 0.0);
    for (std::size_t i = 0; i < power.size(); ++i) {
      const double total = power[i] * per_efficiency + accessories;
      charge += 2.0 * total * duration[i] / (voltage + (square - four_resistances * total).sqrt());
    }
    charges[k] = charge[0];
    charges[next] = charge[1];
  }
}

void ChargeLaw::followed(std::span<const double> voltages, std::span<double> charges) const {
  if (work_->series.holds() && !weighs()) {
    work_->series.charges(voltages, charges);
    return;
  }
  drawn(work_->power, work_->duration, voltages, charges);
  for (std::size_t k = 0; k < voltages.size(); ++k) {
    const double idle = battery_current(voltages[k], limits_->pack_resistance, side_->accessories);
    charges[k] += weighted(idle, work_->idle_duration);
  }
}

double ChargeLaw::easy_charge(double voltage) const {
  if (weighs() || !(node_half_ > 0)) return drawn(work_->easy_power, work_->easy_duration, voltage);
  // Barycentric interpolation (Berrut and Trefethen, SIAM Review 46, 2004). The charge is analytic
  // in E as far as the matched load, so ten nodes leave rounding.
  const double x = (voltage - node_middle_) / node_half_;
  const auto& table = chebyshev<kNodes>();
  double above = 0;
  double below = 0;
  for (std::size_t k = 0; k < kNodes; ++k) {
    const double distance = x - table.node[k];
    if (distance == 0) return node_charge_[k];
    const double weight = table.weight[k] / distance;
    above += weight * node_charge_[k];
    below += weight;
  }
  return above / below;
}

void ChargeLaw::split(double low, double high) {
  RideWork& w = *work_;
  for (auto* column : {&w.easy_power, &w.easy_duration, &w.hard_speed, &w.hard_current,
                       &w.hard_power, &w.hard_duration}) {
    column->clear();
  }
  const DriveLimits& d = *limits_;
  const double most = motor_power(low);
  for (std::size_t i = 0; i < w.power.size(); ++i) {
    if (follows(i, low, most)) {
      w.easy_power.push_back(w.power[i]);
      w.easy_duration.push_back(w.duration[i]);
      continue;
    }
    const double held = (held_torque_ + d.loss.at(w.motor_speed[i])) / d.torque_constant;
    w.hard_speed.push_back(w.motor_speed[i]);
    const double current = std::min({w.current[i], held, d.phase_current});
    w.hard_current.push_back(current);
    w.hard_power.push_back(current *
                           (current * d.resistance + d.torque_constant * w.motor_speed[i]));
    w.hard_duration.push_back(w.duration[i]);
  }
  node_middle_ = 0.5 * (low + high);
  node_half_ = 0.5 * (high - low);
  if (weighs() || !(node_half_ > 0)) return;
  std::array<double, kNodes> voltages{};
  for (std::size_t k = 0; k < kNodes; ++k) {
    voltages[k] = node_middle_ + node_half_ * chebyshev<kNodes>().node[k];
  }
  drawn(w.easy_power, w.easy_duration, voltages, node_charge_);
}

double ChargeLaw::duty_limit(std::size_t hard, double voltage) const {
  return (voltage - limits_->torque_constant * work_->hard_speed[hard]) / limits_->duty_resistance;
}

double ChargeLaw::battery_limit(std::size_t hard, double motor_power) const {
  return motor_power > 0 ? current_from_power(limits_->resistance, limits_->torque_constant,
                                              work_->hard_speed[hard], motor_power)
                         : 0.0;
}

double ChargeLaw::limited(double voltage) const {
  held_powers(voltage);
  return held_charge(voltage);
}

void ChargeLaw::held_powers(double voltage) const {
  const std::size_t count = hard_points();
  work_->held_pack_power.resize(count);
  // Power rises with current, so the least of the limits' powers is the power of the least current.
  const double most = motor_power(voltage);
  const double* __restrict demanded = work_->hard_power.data();
  const double* __restrict speed = work_->hard_speed.data();
  double* __restrict held = work_->held_pack_power.data();
  const double constant = limits_->torque_constant;
  const double resistance = limits_->resistance;
  const double per_duty = 1.0 / limits_->duty_resistance;
  const double per_efficiency = 1.0 / limits_->efficiency;
  const double accessories = side_->accessories;
  for (std::size_t i = 0; i < count; ++i) {
    const double back = constant * speed[i];
    const double current = std::max(0.0, (voltage - back) * per_duty);
    const double power =
        std::min(std::min(demanded[i], most), current * (current * resistance + back));
    held[i] = power * per_efficiency + accessories;
  }
}

double ChargeLaw::held_charge(double voltage) const {
  const double resistance = limits_->pack_resistance;
  const double idle = battery_current(voltage, resistance, side_->accessories);
  const double others = weighted(idle, work_->idle_duration) + easy_charge(voltage);
  const std::vector<double>& power = work_->held_pack_power;
  if (weighs()) {
    double charge = others;
    for (std::size_t i = 0; i < power.size(); ++i) {
      charge += weighted(battery_current(voltage, resistance, power[i]), work_->hard_duration[i]);
    }
    return charge;
  }
  // The hot loop, as columns: battery_current(), the power cut to what the matched load takes.
  const auto count = static_cast<Eigen::Index>(power.size());
  const Eigen::Map<const Eigen::ArrayXd> asked(power.data(), count);
  const Eigen::Map<const Eigen::ArrayXd> duration(work_->hard_duration.data(), count);
  const double square = voltage * voltage;
  const double matched = 0.25 * square / resistance;
  const auto given = asked.min(matched);
  const auto root = (square - 4.0 * resistance * given).max(0.0).sqrt();
  return others + (2.0 * given * duration / (voltage + root)).sum();
}

// Every point's power is fixed or rises with the voltage (pack and full duty give more), and the
// current that a power takes rises with the power and falls with the voltage. So the power at
// `high` drawn at `low` bounds the current above, and the power at `low` drawn at `high` below. The
// current stops falling where the pack meets its matched load, E/(2 R): there the first bound may
// be short by high/low and the second long by as much. Peukert's weight of s times a current is at
// most s^k times (s >= 1), at least (s <= 1), its weight.
ChargeLaw::Bounds ChargeLaw::bounds(double low, double high) const {
  const double largest = motor_power(high) / limits_->efficiency + side_->accessories;
  const bool matched = 4.0 * limits_->pack_resistance * largest >= low * low;
  const double stretch =
      matched ? std::pow(high / low, std::max(1.0, side_->pack->cell.peukert_exponent)) : 1.0;
  Bounds result;
  held_powers(high);
  result.most = held_charge(low) * stretch;
  held_powers(low);
  result.least = held_charge(high) / stretch;
  return result;
}

void ChargeLaw::add_shared_kinks(double low, double high, std::vector<double>& cuts) const {
  // Where the battery current's own limit changes, for all points that it limits at once.
  const double most = side_->stated_limit;
  add_inside(side_->low_voltage + most * limits_->pack_resistance, low, high, cuts);
  add_inside(2.0 * most * limits_->pack_resistance, low, high, cuts);
  add_inside(2.0 * side_->low_voltage, low, high, cuts);
}

void ChargeLaw::add_kinks(std::size_t most, double low, double high,
                          std::vector<double>& cuts) const {
  const DriveLimits& d = *limits_;
  std::vector<std::size_t> order(hard_points());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const auto last = order.begin() + static_cast<std::ptrdiff_t>(std::min(most, order.size()));
  std::partial_sort(order.begin(), last, order.end(), [&](std::size_t a, std::size_t b) {
    return work_->hard_duration[a] > work_->hard_duration[b];
  });
  for (auto at = order.begin(); at != last; ++at) {
    const std::size_t i = *at;
    const auto given = [&](double voltage) {
      return std::min(battery_limit(i, motor_power(voltage)), duty_limit(i, voltage));
    };
    const auto enough = [&](double voltage) { return given(voltage) >= work_->hard_current[i]; };
    const auto duty_leads = [&](double voltage) {
      return duty_limit(i, voltage) >= battery_limit(i, motor_power(voltage));
    };
    if (!enough(low) && enough(high)) cuts.push_back(threshold(enough, low, high));
    if (!duty_leads(low) && duty_leads(high)) cuts.push_back(threshold(duty_leads, low, high));
    add_inside(d.torque_constant * work_->hard_speed[i], low, high, cuts);
  }
}

double ChargeLaw::singularity() const {
  const double power = work_->largest_power / limits_->efficiency + side_->accessories;
  return 2.0 * std::sqrt(limits_->pack_resistance * power);
}

bool ChargeLaw::crosses_reference(double low, double high) const {
  if (!weighs()) return false;
  // At the reference current a power P is drawn from E = P/I + I R_b, rising with P.
  const auto crosses = [&](double power) {
    const double at = power / reference_current_ + reference_current_ * limits_->pack_resistance;
    return at > low && at < high;
  };
  if (work_->idle_duration > 0 && crosses(side_->accessories)) return true;
  return std::ranges::any_of(work_->power, [&](double power) {
    return crosses(power / limits_->efficiency + side_->accessories);
  });
}

namespace {

// Whether a few nodes of the window's own measure serve: see ride().
bool is_smooth(const ChargeLaw& law, const ChargeWindow& window) {
  const Pack& pack = *law.side().pack;
  return window.whole && law.singularity() <= pack.series * pack.nodes_reach &&
         law.follows(window.low) && !law.crosses_reference(window.low, window.high);
}

double smooth_integral(const ChargeLaw& law) {
  const Pack& pack = *law.side().pack;
  std::array<double, kMostChargeNodes> voltages{};
  std::array<double, kMostChargeNodes> charges{};
  const std::size_t count = pack.nodes.size();
  for (std::size_t k = 0; k < count; ++k) voltages[k] = pack.series * pack.nodes[k].voltage;
  law.followed({voltages.data(), count}, {charges.data(), count});
  double sum = 0;
  for (std::size_t k = 0; k < count; ++k) sum += pack.nodes[k].weight / charges[k];
  return sum;
}

// The stretch in so many equal parts, each given to `use` with its states of charge.
template <typename Use>
void each_panel(const Stretch& part, int panels, const Use& use) {
  const double width = part.high_charge - part.low_charge;
  for (int panel = 0; panel < panels; ++panel) {
    use(part.low_charge + width * panel / panels, part.low_charge + width * (panel + 1) / panels);
  }
}

}  // namespace

double inverse_charge_integral(ChargeLaw& law) {
  const Pack& pack = *law.side().pack;
  const auto window = charge_window(pack, law.side().low_voltage);
  if (!window) return 0.0;
  if (is_smooth(law, *window)) return smooth_integral(law);
  const double low = window->low;
  const double high = window->high;
  law.split(low, high);
  // The window is cut at the kinks of the points that last longest, which weigh most. When they are
  // all that fall behind, one panel fills each gap; else panels as close as the rest's kinks need.
  constexpr std::size_t kMostCutPoints = 12;
  constexpr double kPanels = 32;
  std::vector<double> cuts;
  law.add_shared_kinks(low, high, cuts);
  law.add_kinks(kMostCutPoints, low, high, cuts);
  // Peukert's kinks are as many as points and weak, so they too are left to close panels.
  const bool at_kinks = law.hard_points() <= kMostCutPoints && !law.crosses_reference(low, high);
  std::ranges::sort(cuts);
  double sum = 0;
  for (const Stretch& part : stretches(pack, *window, cuts)) {
    const int panels = at_kinks ? 1 : static_cast<int>(std::ceil(kPanels * window->share(part)));
    each_panel(part, panels, [&](double from, double to) {
      sum += boost::math::quadrature::gauss<double, 7>::integrate(
          [&](double charge) { return 1.0 / law.limited(part.voltage(charge)); }, from, to);
    });
  }
  return sum;
}

std::optional<IntegralBounds> inverse_charge_bounds(ChargeLaw& law) {
  const Pack& pack = *law.side().pack;
  const auto window = charge_window(pack, law.side().low_voltage);
  if (!window || is_smooth(law, *window)) return std::nullopt;
  law.split(window->low, window->high);
  constexpr double kPanels = 6;
  IntegralBounds sum;
  for (const Stretch& part : stretches(pack, *window, {})) {
    const int panels = static_cast<int>(std::ceil(kPanels * window->share(part)));
    each_panel(part, panels, [&](double from, double to) {
      const ChargeLaw::Bounds charge = law.bounds(part.voltage(from), part.voltage(to));
      sum.least += (to - from) / charge.most;
      sum.most += (to - from) / charge.least;
    });
  }
  return sum;
}

}  // namespace sprocketry::model
