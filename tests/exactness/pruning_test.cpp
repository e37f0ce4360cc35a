// What the bounded search leaves out: it must find the very front that evaluating everything finds,
// with any of its bounds switched off, and no bound may be better than it says.

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string>

#include "exactness/random_job.hpp"
#include "search/best_case.hpp"
#include "search/search.hpp"

namespace sprocketry::test {
namespace {

using search::Pruning;
using search::SearchOptions;

// Front and account in one comparable text.
std::string front_text(const search::Front& front) {
  std::string text;
  for (std::size_t i = 0; i < front.members.size(); ++i) {
    const search::Combination& c = front.members[i];
    for (const std::size_t part :
         {c.motor, c.controller, c.pack, c.charger, c.chain, c.front, c.rear}) {
      text += std::to_string(part) + ' ';
    }
    for (const double value : front.objectives[i]) text += std::to_string(value) + ' ';
    text += '\n';
  }
  return text;
}

std::string account_text(const search::Account& account) {
  std::string text;
  const auto add = [&](search::Count count) {
    text += std::to_string(static_cast<std::uint64_t>(count)) + ' ';
  };
  for (const search::Count count : account.rejected) add(count);
  add(account.evaluated);
  add(account.pruned);
  return text;
}

SearchOptions always(int i) {
  SearchOptions options;
  options.threads = 1;
  options.pruning = Pruning::kAlways;
  options.bound_packs = i % 2 == 0 || i % 3 == 0;
  options.bound_drives = i % 5 != 1;
  options.bound_prices = i % 7 != 2;
  options.coarse_first = i % 11 != 3;
  return options;
}

int cases() {
  const char* asked = std::getenv("SPROCKETRY_EXACTNESS_CASES");
  return asked ? std::atoi(asked) : 2000;
}

TEST(Pruning, LeavesTheFrontOfRandomSpacesAsItIs) {
  std::uint64_t pruned = 0;
  std::uint64_t rejected_whole = 0;
  for (int i = 0; i < cases(); ++i) {
    SCOPED_TRACE("seed " + std::to_string(i));
    const spec::Job job = random_job(static_cast<std::uint64_t>(i));
    const search::Setup setup = search::make_setup(job.requirement);
    const search::Space space = search::make_space(job);
    SearchOptions everything;
    everything.threads = 1;
    everything.pruning = Pruning::kNever;
    const search::Front plain = search::search(setup, space, everything);
    SearchOptions how = always(i);
    const search::Front bounded = search::search(setup, space, how);
    ASSERT_EQ(front_text(bounded), front_text(plain));
    if (i % 8 == 0) {
      how.threads = 2;
      const search::Front shared = search::search(setup, space, how);
      ASSERT_EQ(front_text(shared), front_text(plain));
      ASSERT_EQ(account_text(shared.account), account_text(bounded.account));
    }
    ASSERT_LE(bounded.account.evaluated, plain.account.evaluated);
    pruned += static_cast<std::uint64_t>(bounded.account.pruned);
    rejected_whole += account_text(bounded.account) != account_text(plain.account) ? 1U : 0U;
  }
  EXPECT_GT(pruned * 20, static_cast<std::uint64_t>(cases()));
  EXPECT_GT(rejected_whole * 20, static_cast<std::uint64_t>(cases()));
}

spec::Job demo(const std::vector<std::string>& overrides) {
  document::Diagnostics diagnostics;
  auto job = spec::load_job(SPROCKETRY_SOURCE_DIR "/specs/demo.yaml", overrides, diagnostics);
  EXPECT_TRUE(job) << diagnostics.text();
  return job ? std::move(*job) : spec::Job{};
}

TEST(Pruning, LeavesTheDemosFrontAsItIsForAnyObjectives) {
  const std::vector<std::vector<std::string>> questions = {
      {"objectives=[pull_away, range, price]"},
      {"objectives=[pull_away, range, price]", "ride={steady: 45 km/h}"},
      {"objectives=[top_speed, mass]"},
      {"objectives=[price, sustained_speed, start_grade, charge_time]"},
      {"objectives=[consumption, winding_ride, price]", "conditions.headwind=20 km/h"},
      {"objectives=[climb_margin, climb_winding, cruise_current, price]"},
      {"objectives=[range, price, mass, pull_away, top_speed, charge_time]",
       "choose.chain=[\"420\"]"},
      {"objectives=[pull_away, consumption, price]", "conditions.headwind=-40 km/h",
       "conditions.grip=0.4"},
  };
  for (std::size_t i = 0; i < questions.size(); ++i) {
    SCOPED_TRACE(questions[i].front());
    spec::Job job = demo(questions[i]);
    if (i == 1) job.requirement.bike.road = model::RegulationLoad::kUnGtr2;
    const search::Setup setup = search::make_setup(job.requirement);
    const search::Space space = search::make_space(job);
    SearchOptions everything;
    everything.pruning = Pruning::kNever;
    const search::Front plain = search::search(setup, space, everything);
    SearchOptions options;
    options.pruning = Pruning::kAlways;
    const search::Front bounded = search::search(setup, space, options);
    options.threads = 1;
    const search::Front alone = search::search(setup, space, options);
    EXPECT_FALSE(plain.members.empty());
    EXPECT_EQ(front_text(bounded), front_text(plain));
    EXPECT_EQ(account_text(bounded.account), account_text(alone.account));
  }
}

// Every combination of one motor, pack and set of controllers against the best case of every node.
class BoundCheck {
 public:
  BoundCheck(const search::Setup& setup, const search::Space& space)
      : setup_(setup),
        space_(space),
        compatible_(search::make_compatible(setup, space)),
        best_(setup),
        evaluator_(setup, space) {}

  int run() {
    for (std::size_t m = 0; m < space_.motors.size(); ++m) {
      const search::DriveTree tree =
          search::make_drive_tree(space_, compatible_.drives, compatible_.motor_drives[m]);
      for (std::size_t p = 0; p < space_.packs.size(); ++p) {
        std::vector<std::uint32_t> controllers;
        for (std::size_t c = 0; c < space_.controllers.size(); ++c) {
          if (compatible_.grid.passes(m, c, p)) {
            controllers.push_back(static_cast<std::uint32_t>(c));
          }
        }
        if (controllers.empty()) continue;
        search::set_level_range(setup_, space_, m, controllers, p, range_);
        for (const search::DriveNode& node : tree.nodes) check(m, controllers, p, tree, node);
        for (const std::uint32_t c : controllers) {
          const auto level = search::prepare_level(setup_, space_, m, c, p);
          search::set_level_range(setup_, level, range_);
          for (const search::DriveNode& node : tree.nodes) check(m, {c}, p, tree, node);
        }
      }
    }
    return compared_;
  }

 private:
  void check(std::size_t m, const std::vector<std::uint32_t>& controllers, std::size_t p,
             const search::DriveTree& tree, const search::DriveNode& node) {
    for (const std::uint32_t h : compatible_.grid.chargers(p)) {
      const search::ChargerOption& charger = space_.chargers[h];
      best_.set(range_, node,
                {charger.price, charger.carried_mass, charger.carried_mass,
                 charger.part ? charger.part->current : 0.0, charger.part == nullptr});
      const auto broken = best_.broken();
      for (std::uint32_t i = node.first; i < node.last; ++i) {
        for (const std::uint32_t c : controllers) compare(m, c, p, h, tree.order[i], broken);
      }
    }
  }

  void compare(std::size_t m, std::size_t c, std::size_t p, std::size_t h, std::uint32_t drive,
               std::optional<std::size_t> broken) {
    const auto level = search::prepare_level(setup_, space_, m, c, p);
    const search::DriveOption& option = compatible_.drives[drive];
    const search::ChargerOption& charger = space_.chargers[h];
    evaluator_.take(level, option, charger.carried_mass);
    const bool rejected = evaluator_.strength_fail(level, option) ||
                          evaluator_.riding_fail(level, option) ||
                          evaluator_.demands_fail(level, option, charger);
    if (rejected) return;
    ++compared_;
    ASSERT_FALSE(broken) << "a best case breaks `" << rules::rule_table()[*broken].name
                         << "`, which a combination passes";
    const spec::Metrics& metrics = evaluator_.metrics();
    for (std::size_t i = 0; i < setup_.objectives.size(); ++i) {
      const spec::MetricInfo& info = *setup_.objectives[i];
      const double value = info.value(metrics);
      const double cost = info.better == spec::Better::kLower ? value : -value;
      ASSERT_LE(best_.values()[i], cost) << info.name;
    }
  }

  const search::Setup& setup_;
  const search::Space& space_;
  search::Compatible compatible_;
  search::BestCase best_;
  search::Evaluator evaluator_;
  search::LevelRange range_;
  int compared_ = 0;
};

TEST(Bounds, AreNeverBetterThanAnyCombinationThatTheyStandFor) {
  int compared = 0;
  for (int i = 0; i < cases() / 4; ++i) {
    SCOPED_TRACE("seed " + std::to_string(i));
    const spec::Job job = random_job(static_cast<std::uint64_t>(i));
    const search::Setup setup = search::make_setup(job.requirement);
    const search::Space space = search::make_space(job);
    compared += BoundCheck(setup, space).run();
    if (HasFatalFailure()) return;
  }
  EXPECT_GT(compared, 1000);
}

}  // namespace
}  // namespace sprocketry::test
