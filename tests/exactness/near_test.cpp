// What lies within a share of the front, against every feasible combination compared with every
// other.

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <set>

#include "exactness/random_job.hpp"
#include "search/enumerate.hpp"
#include "search/search.hpp"
#include "support/plain_front.hpp"

namespace sprocketry::test {
namespace {

using search::Pruning;

struct Plain {
  PointList points;  // all to be made small
  std::vector<std::string> ids;
};

Plain feasible(const search::Setup& setup, const search::Space& space) {
  Plain all;
  search::enumerate(
      setup, space, 1,
      [&](const search::Design& design, std::string&) {
        if (!design.rejected_by().empty()) return;
        std::vector<double> values;
        for (const spec::MetricInfo* info : setup.objectives) {
          const double value = info->value(design.metrics);
          values.push_back(info->better == spec::Better::kLower ? value : -value);
        }
        all.points.push_back(std::move(values));
        all.ids.push_back(rules::design_id(design.parts));
      },
      [](std::string_view) { return true; });
  return all;
}

std::set<std::string> plainly_near(const Plain& all, double share) {
  std::set<std::string> near;
  for (std::size_t i = 0; i < all.points.size(); ++i) {
    std::vector<double> better = all.points[i];
    for (double& value : better) value -= share * std::abs(value);
    if (std::ranges::none_of(all.points,
                             [&](const auto& p) { return plainly_dominates(p, better); })) {
      near.insert(all.ids[i]);
    }
  }
  return near;
}

int cases() {
  const char* asked = std::getenv("SPROCKETRY_EXACTNESS_CASES");
  return asked ? std::atoi(asked) : 2000;
}

TEST(Near, IsAllThatNothingDominatesWhenMadeBetterByTheShare) {
  int wider = 0;
  for (int i = 0; i < cases() / 4; ++i) {
    const spec::Job job = random_job(static_cast<std::uint64_t>(i));
    const search::Setup setup = search::make_setup(job.requirement);
    const search::Space space = search::make_space(job);
    const Plain all = feasible(setup, space);
    const double share = i % 3 == 0 ? 0.02 : i % 3 == 1 ? 0.15 : 0.5;
    const std::set<std::string> expected = plainly_near(all, share);
    const std::size_t on_front = plain_front(all.points).size();
    for (const Pruning pruning : {Pruning::kNever, Pruning::kAlways}) {
      search::SearchOptions options;
      options.threads = 1 + i % 2;
      options.pruning = pruning;
      options.near = share;
      const search::Front front = search::search(setup, space, options);
      std::set<std::string> found;
      for (const search::Combination& c : front.members) {
        found.insert(rules::design_id(search::selection(space, c)));
      }
      ASSERT_EQ(found, expected) << "seed " << i;
      EXPECT_EQ(front.members.size(), expected.size());
      EXPECT_EQ(front.near->beyond, expected.size() - on_front);
      EXPECT_TRUE(front.exact);
    }
    wider += expected.size() > on_front ? 1 : 0;
  }
  EXPECT_GT(wider, cases() / 100);
}

}  // namespace
}  // namespace sprocketry::test
