#include "search/level_grid.hpp"

#include <algorithm>
#include <stdexcept>

namespace sprocketry::search {
namespace {

using rules::Check;
namespace slot = rules::slot;

// A pairwise rule sees neither a chain run nor metrics.
const spec::Metrics kNoMetrics;
const rules::ChainRun kNoRun{};

std::vector<Check> reading_within(const std::vector<Check>& checks, unsigned slots) {
  std::vector<Check> result;
  std::ranges::copy_if(checks, std::back_inserter(result),
                       [&](const Check& check) { return (check.rule->reads & ~slots) == 0; });
  return result;
}

}  // namespace

std::size_t first_failure(const std::vector<Check>& checks, const rules::Context& context) {
  for (const Check& check : checks) {
    const rules::Finding finding = check.rule->check(context, check.item);
    if (!finding.unchecked() && !finding.holds()) return check.index;
  }
  return kNoRule;
}

LevelGrid::LevelGrid(const Setup& setup, const Space& space)
    : setup_(&setup),
      space_(&space),
      motors_(space.motors.size()),
      controllers_(space.controllers.size()),
      packs_(space.packs.size()),
      motor_controller_(motors_ * controllers_, kPasses),
      motor_pack_(motors_ * packs_, kPasses),
      controller_pack_(controllers_ * packs_, kPasses) {
  if (rules::rule_table().size() >= kPasses) throw std::logic_error("too many rules for the grid");
  fill_pairs(setup);
  fill_chargers(setup);
}

void LevelGrid::fill_pairs(const Setup& setup) {
  const auto fill = [&](std::vector<RuleIndex>& table, unsigned slots, std::size_t rows,
                        std::size_t columns, const auto& select) {
    const std::vector<Check> checks = reading_within(setup.electrical, slots);
    for (std::size_t r = 0; r < rows; ++r) {
      for (std::size_t c = 0; c < columns; ++c) {
        rules::Selection s;
        select(s, r, c);
        const auto failed = first_failure(checks, {*setup.requirement, s, kNoRun, kNoMetrics});
        if (failed != kNoRule) table[r * columns + c] = static_cast<RuleIndex>(failed);
      }
    }
  };
  const Space& space = *space_;
  fill(motor_controller_, slot::kMotor | slot::kController, motors_, controllers_,
       [&](rules::Selection& s, std::size_t m, std::size_t c) {
         s.motor = space.motors[m].part;
         s.controller = space.controllers[c].part;
       });
  fill(motor_pack_, slot::kMotor | slot::kPack, motors_, packs_,
       [&](rules::Selection& s, std::size_t m, std::size_t p) {
         s.motor = space.motors[m].part;
         s.pack = &space.packs[p].part;
       });
  fill(controller_pack_, slot::kController | slot::kPack, controllers_, packs_,
       [&](rules::Selection& s, std::size_t c, std::size_t p) {
         s.controller = space.controllers[c].part;
         s.pack = &space.packs[p].part;
       });
  constexpr unsigned kThree = slot::kMotor | slot::kController | slot::kPack;
  for (const Check& check : setup.electrical) {
    if (check.rule->reads == kThree) of_three_.push_back(check);
  }
}

void LevelGrid::fill_chargers(const Setup& setup) {
  std::vector<Check> checks;
  for (const Check& check : setup.electrical) {
    if ((check.rule->reads & slot::kCharger) == 0) continue;
    if ((check.rule->reads & ~(slot::kCharger | slot::kPack)) != 0) {
      throw std::logic_error("a rule joins the charger with more than the pack");
    }
    checks.push_back(check);
  }
  chargers_.resize(packs_);
  failed_chargers_.resize(packs_);
  for (std::size_t p = 0; p < packs_; ++p) {
    for (std::size_t h = 0; h < space_->chargers.size(); ++h) {
      rules::Selection s;
      s.pack = &space_->packs[p].part;
      s.charger = space_->chargers[h].part;
      const auto failed = first_failure(checks, {*setup.requirement, s, kNoRun, kNoMetrics});
      if (failed == kNoRule) {
        chargers_[p].push_back(static_cast<std::uint32_t>(h));
        continue;
      }
      const auto rule = static_cast<RuleIndex>(failed);
      const auto known = std::ranges::find(failed_chargers_[p], rule, &Failed::rule);
      if (known != failed_chargers_[p].end()) {
        ++known->chargers;
      } else {
        failed_chargers_[p].push_back({rule, 1});
      }
    }
  }
}

LevelGrid::RuleIndex LevelGrid::failure(std::size_t motor, std::size_t controller,
                                        std::size_t pack) const {
  const RuleIndex pairs =
      std::min({motor_controller_[motor * controllers_ + controller],
                motor_pack_[motor * packs_ + pack], controller_pack_[controller * packs_ + pack]});
  if (of_three_.empty()) return pairs;
  rules::Selection s;
  s.motor = space_->motors[motor].part;
  s.controller = space_->controllers[controller].part;
  s.pack = &space_->packs[pack].part;
  const auto failed = first_failure(of_three_, {*setup_->requirement, s, kNoRun, kNoMetrics});
  return failed == kNoRule ? pairs : std::min(pairs, static_cast<RuleIndex>(failed));
}

std::vector<Count> LevelGrid::count(Count drives, std::vector<Count>& rejected) const {
  std::vector<Count> passing(motors_);
  for (std::size_t m = 0; m < motors_; ++m) {
    for (std::size_t c = 0; c < controllers_; ++c) {
      for (std::size_t p = 0; p < packs_; ++p) {
        const RuleIndex first = failure(m, c, p);
        Count rest = chargers_[p].size();
        for (const Failed& failed : failed_chargers_[p]) {
          if (failed.rule < first) {
            rejected[failed.rule] += failed.chargers * drives;
          } else {
            rest += failed.chargers;
          }
        }
        if (first == kPasses) {
          passing[m] += rest;
        } else {
          rejected[first] += rest * drives;
        }
      }
    }
  }
  return passing;
}

}  // namespace sprocketry::search
