// The promise of a coarser front, against every feasible combination.

#include "search/resolution.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "exactness/random_job.hpp"
#include "search/enumerate.hpp"

namespace sprocketry::test {
namespace {

using search::Front;
using search::Resolution;
using Vectors = std::vector<std::array<double, search::kMostObjectives>>;

bool matched(const Vectors& kept, const std::array<double, search::kMostObjectives>& point,
             std::size_t count, const Resolution& resolution) {
  return std::ranges::any_of(kept, [&](const auto& member) {
    for (std::size_t k = 0; k < count; ++k) {
      if (member[k] > point[k] + resolution[k]) return false;
    }
    return true;
  });
}

// The values of all combinations that meet every rule, all to be made small.
Vectors feasible(const search::Setup& setup, const search::Space& space) {
  Vectors all;
  search::enumerate(
      setup, space, 1,
      [&](const search::Design& design, std::string&) {
        if (!design.rejected_by().empty()) return;
        auto& values = all.emplace_back();
        for (std::size_t k = 0; k < setup.objectives.size(); ++k) {
          const spec::MetricInfo& info = *setup.objectives[k];
          const double value = info.value(design.metrics);
          values[k] = info.better == spec::Better::kLower ? value : -value;
        }
      },
      [](std::string_view) { return true; });
  return all;
}

TEST(Resolution, MatchesEveryFeasibleCombinationOfRandomJobs) {
  int coarser = 0;
  for (std::uint64_t seed = 0; seed < 300; ++seed) {
    const spec::Job job = random_job(seed);
    const search::Setup setup = search::make_setup(job.requirement);
    const search::Space space = search::make_space(job);
    const std::size_t count = setup.objectives.size();
    const Front whole = search::search(setup, space, 1);
    if (whole.members.empty()) continue;
    Resolution resolution{};
    for (std::size_t k = 0; k < count; ++k) {
      const auto [low, high] =
          std::ranges::minmax(whole.objectives, {}, [&](const auto& v) { return v[k]; });
      resolution[k] = (seed + k) % 4 == 0 ? 0.0 : 0.15 * (high[k] - low[k]);
    }
    Front kept = whole;
    search::coarsen(kept, count, resolution);
    EXPECT_EQ(kept.coarseness->whole, whole.members.size());
    EXPECT_EQ(kept.account.evaluated, whole.account.evaluated);
    coarser += kept.members.size() < whole.members.size() ? 1 : 0;
    for (const auto& point : feasible(setup, space)) {
      ASSERT_TRUE(matched(kept.objectives, point, count, resolution)) << "seed " << seed;
    }
    for (const auto& member : kept.objectives) {
      EXPECT_TRUE(std::ranges::find(whole.objectives, member) != whole.objectives.end());
    }
  }
  EXPECT_GT(coarser, 30);
}

// In two objectives the least number of members is found by trying all subsets.
TEST(Resolution, InTwoObjectivesKeepsAsFewAsPossible) {
  for (unsigned seed = 0; seed < 200; ++seed) {
    Vectors front;
    unsigned state = seed * 2654435761U + 1;
    const auto next = [&] { return (state = state * 1664525U + 1013904223U) >> 16; };
    double x = 0;
    double y = 100;
    for (int i = 0; i < 11; ++i) {
      x += 1 + next() % 9;
      y -= 1 + next() % 9;
      front.push_back({x, y});
    }
    const Resolution resolution = {static_cast<double>(next() % 15),
                                   static_cast<double>(next() % 15)};
    std::size_t fewest = front.size();
    for (unsigned subset = 1; subset < (1U << front.size()); ++subset) {
      Vectors kept;
      for (std::size_t i = 0; i < front.size(); ++i) {
        if (subset & (1U << i)) kept.push_back(front[i]);
      }
      if (kept.size() >= fewest) continue;
      if (std::ranges::all_of(front,
                              [&](const auto& p) { return matched(kept, p, 2, resolution); })) {
        fewest = kept.size();
      }
    }
    EXPECT_EQ(search::coarsened(front, 2, resolution).size(), fewest) << "seed " << seed;
  }
}

TEST(Resolution, OfNothingKeepsOneOfEqualMembersAndAllOthers) {
  const Vectors front = {{1, 5, 2}, {1, 5, 2}, {2, 4, 2}, {3, 3, 3}};
  EXPECT_EQ(search::coarsened(front, 3, Resolution{}), (std::vector<std::size_t>{0, 2, 3}));
}

}  // namespace
}  // namespace sprocketry::test
