#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "model/charge_window.hpp"

namespace sprocketry::model {

// Gauss quadrature in panels over a window of states of charge, of functions of the voltage whose
// slope jumps at many places.
//
// A rule errs at a kink by the jump of the slope times the rule's Peano kernel there (Davis and
// Rabinowitz, Methods of Numerical Integration, 4.3): what it misses of (E - kink)+ . Where the
// kinks are known, so is most of their error. What is left is of third order in the panel's width:
// the jump of the second derivative, and the square of the jump.
class KinkedRule {
 public:
  static constexpr std::size_t kNodes = 4;  // in each panel
  // Gauss's nodes and weights on [0, 1]: 1/2 -+ 1/2 sqrt(3/7 +- 2/7 sqrt(6/5)), and
  // (18 -+ sqrt(30))/72 (Abramowitz and Stegun, 25.4.30).
  static constexpr std::array<double, kNodes> kNode = {0.06943184420297371, 0.33000947820757187,
                                                       0.66999052179242813, 0.93056815579702629};
  static constexpr std::array<double, kNodes> kWeight = {0.17392742256872693, 0.32607257743127307,
                                                         0.32607257743127307, 0.17392742256872693};

  // A part of the window on which the voltage is linear.
  struct Panel {
    double low = 0;  // V
    double high = 0;
    double charge = 0;  // of state of charge
  };
  // Room that is used again.
  struct Room {
    std::vector<Panel> panels;
    std::vector<std::uint32_t> first_panel;
  };

  // The window cut at `cuts` (V, ascending) into `panels` equal parts or somewhat more. The room
  // must outlive the rule.
  KinkedRule(const Pack& pack, const ChargeWindow& window, const std::vector<double>& cuts,
             double panels, Room& room);

  // The nodes of all panels, counted through as the voltage rises: V and share of state of charge.
  [[nodiscard]] std::size_t count() const { return room_->panels.size() * kNodes; }
  [[nodiscard]] double voltage(std::size_t node) const {
    const Panel& panel = room_->panels[node / kNodes];
    return panel.low + (panel.high - panel.low) * kNode[node % kNodes];
  }
  [[nodiscard]] double weight(std::size_t node) const {
    return room_->panels[node / kNodes].charge * kWeight[node % kNodes];
  }

  // Where a voltage inside the window lies: the first node above, which is count() when there is
  // none; the node nearest to it in its panel, and what the rule misses of (E - voltage)+, in V.
  struct Place {
    std::size_t above = 0;
    std::size_t nearest = 0;
    double missed = 0;
  };
  [[nodiscard]] Place place(double voltage) const;

 private:
  // The panel of a voltage; the upper one at an edge.
  [[nodiscard]] std::size_t panel_of(double voltage) const;

  Room* room_;
  double low_;      // V
  double per_bin_;  // 1/V
};

}  // namespace sprocketry::model
