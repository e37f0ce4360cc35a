#include "model/kinked_rule.hpp"

#include <algorithm>
#include <cmath>

namespace sprocketry::model {
namespace {

// Equal parts of the window that remember their first panel, to find a voltage's panel by.
constexpr std::size_t kBins = 64;

}  // namespace

KinkedRule::KinkedRule(const Pack& pack, const ChargeWindow& window,
                       const std::vector<double>& cuts, double panels, Room& room)
    : room_(&room),
      low_(window.low),
      per_bin_(static_cast<double>(kBins) / std::max(window.high - window.low, 1e-12)) {
  room.panels.clear();
  for (const Stretch& part : stretches(pack, window, cuts)) {
    const double rise = part.high_voltage - part.low_voltage;
    const int count = rise > 0 ? static_cast<int>(std::ceil(panels * window.share(part))) : 1;
    const double charge = (part.high_charge - part.low_charge) / count;
    for (int i = 0; i < count; ++i) {
      room.panels.push_back(
          {part.low_voltage + rise * i / count, part.low_voltage + rise * (i + 1) / count, charge});
    }
  }
  room.first_panel.resize(kBins + 1);
  std::size_t panel = 0;
  for (std::size_t bin = 0; bin <= kBins; ++bin) {
    const double from = low_ + static_cast<double>(bin) / per_bin_;
    while (panel + 1 < room.panels.size() && room.panels[panel].high <= from) ++panel;
    room.first_panel[bin] = static_cast<std::uint32_t>(panel);
  }
}

std::size_t KinkedRule::panel_of(double voltage) const {
  const auto bin = static_cast<std::size_t>(std::max(0.0, (voltage - low_) * per_bin_));
  std::size_t at = room_->first_panel[std::min(bin, kBins)];
  while (at > 0 && room_->panels[at].low > voltage) --at;
  while (at + 1 < room_->panels.size() && room_->panels[at].high <= voltage) ++at;
  return at;
}

KinkedRule::Place KinkedRule::place(double voltage) const {
  const std::size_t at = panel_of(voltage);
  const Panel& panel = room_->panels[at];
  const double rise = panel.high - panel.low;
  if (!(rise > 0)) return {at * kNodes, at * kNodes, 0.0};
  const double part = std::min((voltage - panel.low) / rise, 1.0);
  double missed = 0.5 * (1.0 - part) * (1.0 - part);
  std::size_t below = 0;
  for (std::size_t k = 0; k < kNodes; ++k) {
    const double ahead = kNode[k] - part;
    missed -= kWeight[k] * std::max(0.0, ahead);
    below += ahead < 0 ? 1U : 0U;
  }
  // The node below is the nearest up to half way to the next.
  std::size_t nearest = 0;
  for (std::size_t k = 0; k + 1 < kNodes; ++k) {
    nearest += 2.0 * part > kNode[k] + kNode[k + 1] ? 1U : 0U;
  }
  return {at * kNodes + below, at * kNodes + nearest, missed * rise * panel.charge};
}

}  // namespace sprocketry::model
