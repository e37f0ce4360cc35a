#pragma once

#include <cstdint>
#include <vector>

#include "search/setup.hpp"
#include "search/space.hpp"

namespace sprocketry::search {

// Which motor, controller and pack pass the electrical rules together, and which chargers a pack
// may have, as tables of pairs: a catalogue with 10^8 such triples is not listed.
class LevelGrid {
 public:
  LevelGrid(const Setup& setup, const Space& space);

  // True when no electrical rule rejects the triple (whatever its charger).
  [[nodiscard]] bool passes(std::size_t motor, std::size_t controller, std::size_t pack) const {
    return failure(motor, controller, pack) == kPasses;
  }
  // Chargers of a pack that pass, ascending.
  [[nodiscard]] const std::vector<std::uint32_t>& chargers(std::size_t pack) const {
    return chargers_[pack];
  }
  // A triple's number, in the order of motor, controller, pack, and back.
  [[nodiscard]] std::uint64_t index(std::size_t motor, std::size_t controller,
                                    std::size_t pack) const {
    return (std::uint64_t{motor} * controllers_ + controller) * packs_ + pack;
  }
  struct Place {
    std::size_t motor, controller, pack;
  };
  [[nodiscard]] Place place(std::uint64_t index) const {
    return {static_cast<std::size_t>(index / packs_ / controllers_),
            static_cast<std::size_t>(index / packs_ % controllers_),
            static_cast<std::size_t>(index % packs_)};
  }
  // Adds to `rejected` (per rule) what each rule rejects among the triples with their chargers,
  // times `drives`; returns per motor how many (controller, pack, charger) pass.
  std::vector<Count> count(Count drives, std::vector<Count>& rejected) const;

 private:
  using RuleIndex = std::uint16_t;
  static constexpr RuleIndex kPasses = 0xffff;
  struct Failed {
    RuleIndex rule;
    Count chargers;
  };

  [[nodiscard]] RuleIndex failure(std::size_t motor, std::size_t controller,
                                  std::size_t pack) const;
  void fill_pairs(const Setup& setup);
  void fill_chargers(const Setup& setup);

  const Setup* setup_;
  const Space* space_;
  std::size_t motors_, controllers_, packs_;
  // First failing rule of each pair.
  std::vector<RuleIndex> motor_controller_, motor_pack_, controller_pack_;
  std::vector<rules::Check> of_three_;  // checks that read all three
  std::vector<std::vector<std::uint32_t>> chargers_;
  std::vector<std::vector<Failed>> failed_chargers_;  // per pack, how many under which rule
};

// Index of the first rule of `checks` that rejects, or kNoRule. An unchecked rule rejects nothing.
inline constexpr std::size_t kNoRule = static_cast<std::size_t>(-1);
std::size_t first_failure(const std::vector<rules::Check>& checks, const rules::Context& context);

}  // namespace sprocketry::search
