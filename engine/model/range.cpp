#include "model/range.hpp"

#include <algorithm>
#include <array>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>
#include <vector>

#include "model/charge_sweep.hpp"
#include "model/charge_window.hpp"
#include "model/column_sum.hpp"

namespace sprocketry::model {
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

// The stretch in so many equal parts, each given to `use`.
template <typename Use>
void each_panel(const Stretch& part, int panels, const Use& use) {
  const double charge = (part.high_charge - part.low_charge) / panels;
  const double rise = (part.high_voltage - part.low_voltage) / panels;
  for (int i = 0; i < panels; ++i) {
    use(Stretch{part.low_charge + charge * i, part.low_charge + charge * (i + 1),
                part.low_voltage + rise * i, part.low_voltage + rise * (i + 1)});
  }
}

// Integral of 1/charge over a panel. With E = steep + t^2 a root that begins at the voltage
// `steep`, not above the panel, is smooth in t.
double panel_integral(const ChargeLaw& law, const Stretch& panel, double steep) {
  using Rule = boost::math::quadrature::gauss<double, 7>;
  const double charge = panel.high_charge - panel.low_charge;
  const double rise = panel.high_voltage - panel.low_voltage;
  if (!(rise > 0)) return charge / law.limited(panel.low_voltage);
  const auto inverse = [&](double t) { return 2.0 * t / law.limited(steep + t * t); };
  return charge / rise *
         Rule::integrate(inverse, std::sqrt(panel.low_voltage - steep),
                         std::sqrt(panel.high_voltage - steep));
}

// Where the currents of the points begin that last longest.
void add_main_starts(const ChargeLaw& law, const ChargeWindow& window, std::vector<double>& cuts) {
  const RideWork& w = law.work();
  const double all = w.idle_duration + column_sum(w.duration);
  for (std::size_t i = 0; i < w.hard_speed.size(); ++i) {
    if (w.hard_duration[i] < kMainShare * all) continue;
    add_graded_cuts(law.limits().torque_constant * w.hard_speed[i], window, cuts);
  }
  std::ranges::sort(cuts);
}

// Every point at every node, whatever the cell weighs and however near the matched load is. The
// window is cut at the kinks of the points that last longest, and into panels as close as the
// rest's need: one for each gap where there are no others and no demand comes near the matched
// load.
double direct_integral(const ChargeLaw& law, const ChargeWindow& window) {
  constexpr std::size_t kMostCutPoints = 48;
  constexpr double kPanels = 32;
  ChargeLaw::Kinks kinks = law.kinks(kMostCutPoints);
  add_main_starts(law, window, kinks.all);
  const bool at_kinks = law.work().power.size() <= kMostCutPoints &&
                        law.singularity() < window.low &&
                        !law.crosses_reference(window.low, window.high);
  const double close = at_kinks ? 1.0 : kPanels;
  double sum = 0;
  for (const Stretch& part : stretches(*law.side().pack, window, kinks.all)) {
    const int panels = static_cast<int>(std::ceil(close * window.share(part)));
    each_panel(part, panels, [&](const Stretch& panel) {
      const auto above = std::ranges::upper_bound(kinks.steep, panel.low_voltage);
      const double steep = above == kinks.steep.begin() ? 0.0 : *(above - 1);
      sum += panel_integral(law, panel, steep);
    });
  }
  return sum;
}

}  // namespace

double inverse_charge_integral(ChargeLaw& law) {
  const auto window = charge_window(*law.side().pack, law.side().low_voltage);
  if (!window) return 0.0;
  if (is_smooth(law, *window)) return smooth_integral(law);
  law.sort_out(window->low);
  if (!law.weighs()) {
    const auto swept = swept_inverse_charge(law.limits(), law.side(), *window, law.work());
    if (swept) return *swept;
  }
  return direct_integral(law, *window);
}

std::optional<IntegralBounds> inverse_charge_bounds(ChargeLaw& law) {
  const Pack& pack = *law.side().pack;
  const auto window = charge_window(pack, law.side().low_voltage);
  if (!window || !law.weighs() || is_smooth(law, *window)) return std::nullopt;
  law.sort_out(window->low);
  constexpr double kPanels = 6;
  IntegralBounds sum;
  for (const Stretch& part : stretches(pack, *window, {})) {
    const int panels = static_cast<int>(std::ceil(kPanels * window->share(part)));
    each_panel(part, panels, [&](const Stretch& panel) {
      const double share = panel.high_charge - panel.low_charge;
      const ChargeLaw::Bounds charge = law.bounds(panel.low_voltage, panel.high_voltage);
      sum.least += share / charge.most;
      sum.most += share / charge.least;
    });
  }
  return sum;
}

}  // namespace sprocketry::model
