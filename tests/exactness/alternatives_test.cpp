// The nearest designs without a part, against all feasible combinations that lack it.

#include "search/alternatives.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "exactness/random_job.hpp"
#include "search/enumerate.hpp"

namespace sprocketry::test {
namespace {

double cost(const spec::MetricInfo& info, const spec::Metrics& metrics) {
  const double value = info.value(metrics);
  return info.better == spec::Better::kLower ? value : -value;
}

double loss(const search::Setup& setup, const spec::Metrics& from, const spec::Metrics& to) {
  double most = 0;
  for (const spec::MetricInfo* info : setup.objectives) {
    const double worse = cost(*info, to) - cost(*info, from);
    if (worse > 0) most = std::max(most, worse / std::abs(cost(*info, from)));
  }
  return most;
}

std::string part_of(const rules::Selection& s, std::string_view slot) {
  if (slot == "motor") return s.motor->id;
  if (slot == "controller") return s.controller->id;
  if (slot == "cell") return s.pack->cell_id;
  if (slot == "charger") return s.charger ? s.charger->id : "";
  if (slot == "chain") return s.chain->id;
  return slot == "front_sprocket" ? s.front->id : s.rear->id;
}

TEST(Alternatives, AreTheNearestOfAllThatLackThePart) {
  int compared = 0;
  int empty = 0;
  for (std::uint64_t seed = 0; seed < 250; ++seed) {
    const spec::Job job = random_job(seed);
    const search::Setup setup = search::make_setup(job.requirement);
    const search::Space space = search::make_space(job);
    const search::Front front = search::search(setup, space, 1);
    if (front.members.empty()) continue;
    const auto& member = front.members[seed % front.members.size()];
    const search::Design design = search::evaluate_design(setup, space, member);
    const auto list = search::find_alternatives(setup, space, member, 3, 1);
    ASSERT_EQ(list.size(), design.parts.charger ? 7U : 6U);
    for (const search::Without& without : list) {
      EXPECT_EQ(without.id, part_of(design.parts, without.slot));
      double least = INFINITY;
      search::enumerate(
          setup, space, 1,
          [&](const search::Design& other, std::string&) {
            if (!other.rejected_by().empty()) return;
            if (part_of(other.parts, without.slot) == without.id) return;
            least = std::min(least, loss(setup, design.metrics, other.metrics));
          },
          [](std::string_view) { return true; });
      if (std::isinf(least) && without.nearest.empty()) {
        ++empty;
        continue;
      }
      ASSERT_FALSE(without.nearest.empty()) << "seed " << seed << ' ' << without.slot;
      EXPECT_EQ(without.nearest.front().loss, least) << "seed " << seed << ' ' << without.slot;
      for (const search::Alternative& a : without.nearest) {
        EXPECT_NE(part_of(a.design.parts, without.slot), without.id);
        EXPECT_TRUE(a.design.rejected_by().empty());
        EXPECT_GE(a.loss, without.nearest.front().loss);
      }
      ++compared;
    }
  }
  EXPECT_GT(compared, 100);
  EXPECT_GT(empty, 10);
}

}  // namespace
}  // namespace sprocketry::test
