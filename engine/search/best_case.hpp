#pragma once

#include <array>
#include <optional>

#include "model/bounds.hpp"
#include "search/archive.hpp"
#include "search/drive_tree.hpp"
#include "search/evaluator.hpp"

namespace sprocketry::search {

// Options of motor, pack and some controllers taken together: the best and the weakest that any of
// them can be. Prices and masses without drive and charger.
struct LevelRange {
  model::Level best;
  model::DriveLimits weakest;
  rules::Selection parts;  // motor and pack; the controller only when there is one
  Money least_price = 0;
  double least_mass = 0;  // kg of the bike ready to ride, without drive and charger
  double most_mass = 0;
  // What `best` points to when there are several controllers.
  model::Controller best_controller;
  model::Controller weakest_controller;
};

// Bounds for all combinations of a level range, a node of drives and some chargers. Every metric
// that a named objective or a provable rule reads is at least as good as in any of them, so
// - a member of the front that dominates these values dominates every one of the combinations, and
// - a rule that they break is broken by every one.
// Reuses its room: not shared between threads.
class BestCase {
 public:
  explicit BestCase(const Setup& setup);

  // Takes up a range and a node. `charger_price` is the least, `charge_current` (A) the greatest
  // and the masses (kg) the least and greatest that ride along among the chargers.
  struct Chargers {
    Money least_price = 0;
    double least_carried = 0;
    double most_carried = 0;
    double most_current = 0;
    bool none = false;
  };
  void set(const LevelRange& range, const DriveNode& node, const Chargers& chargers);
  // The first rule, of those that a best case can prove, that all combinations break.
  [[nodiscard]] std::optional<std::size_t> broken();
  // Values of the objectives, all to be minimised, NaN for one that no combination has.
  using Values = std::array<double, kMostObjectives>;
  [[nodiscard]] const Values& values();
  // The same for one drive of the node with its own price.
  [[nodiscard]] Values values_at(Money price);

 private:
  void ensure(unsigned figures);

  const Setup* setup_;
  std::vector<rules::Check> provable_;
  model::RideWork work_;
  model::BuildRange range_;
  model::Build build_;
  rules::Selection parts_;
  spec::Metrics metrics_;
  Values values_{};
  unsigned present_ = 0;
};

// The range of one prepared level, and of a motor and pack with several controllers (indices into
// the space, at least one). The result refers to itself: keep it where it is made.
void set_level_range(const Setup& setup, const PreparedLevel& level, LevelRange& range);
void set_level_range(const Setup& setup, const Space& space, std::size_t motor,
                     const std::vector<std::uint32_t>& controllers, std::size_t pack,
                     LevelRange& range);

}  // namespace sprocketry::search
