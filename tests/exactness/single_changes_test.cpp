// Changes of one part against every combination of the product that differs in one slot.

#include "search/single_changes.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "exactness/random_job.hpp"
#include "search/search.hpp"
#include "support/every_combination.hpp"

namespace sprocketry::test {
namespace {

using search::Combination;

int slots_apart(const Combination& a, const Combination& b) {
  return (a.motor != b.motor) + (a.controller != b.controller) + (a.pack != b.pack) +
         (a.charger != b.charger) + (a.chain != b.chain) + (a.front != b.front) +
         (a.rear != b.rear);
}

// A neighbour of the design, as `evaluate` shows it.
struct Neighbour {
  std::string id;
  bool holds = false;
  parts::Money price = 0;
  spec::Metrics metrics;
};

// By what share a figure is better; infinite when it did not exist before, 0 when it is not better.
double better_share(const spec::MetricInfo& info, double now, double then) {
  if (std::isnan(then)) return 0;
  if (std::isnan(now)) return std::numeric_limits<double>::infinity();
  const double gain = info.better == spec::Better::kLower ? now - then : then - now;
  return gain > 0 ? gain / std::abs(now) : 0;
}

struct Case {
  const search::Design& design;
  const std::vector<Neighbour>& neighbours;
  const std::vector<search::Change>& changes;
};

// What the named changes give, against the best that any neighbour gives.
void expect_mover(const Case& c, const search::Mover& mover, int& named) {
  const spec::MetricInfo& info = *mover.metric;
  const double now = info.value(c.design.metrics);
  std::optional<parts::Money> least_price;
  double most = 0;
  for (const Neighbour& n : c.neighbours) {
    const double share = better_share(info, now, info.value(n.metrics));
    if (!n.holds || share < 0.01) continue;
    least_price = std::min(least_price.value_or(n.price), n.price);
    most = std::max(most, share);
  }
  ASSERT_EQ(mover.cheapest.has_value(), least_price.has_value()) << info.name;
  ASSERT_EQ(mover.furthest.has_value(), least_price.has_value()) << info.name;
  if (!least_price) return;
  ++named;
  const auto neighbour = [&](std::size_t change) {
    return *std::ranges::find(c.neighbours, c.changes[change].design, &Neighbour::id);
  };
  const Neighbour cheapest = neighbour(*mover.cheapest);
  const Neighbour furthest = neighbour(*mover.furthest);
  EXPECT_TRUE(cheapest.holds && furthest.holds);
  EXPECT_EQ(cheapest.price, *least_price) << info.name;
  EXPECT_GE(better_share(info, now, info.value(cheapest.metrics)), 0.01) << info.name;
  EXPECT_EQ(better_share(info, now, info.value(furthest.metrics)), most) << info.name;
}

void expect_repairs(const Case& c, const std::vector<std::size_t>& repairs, std::size_t most) {
  std::vector<parts::Money> prices;
  for (const Neighbour& n : c.neighbours) {
    if (n.holds) prices.push_back(n.price);
  }
  std::ranges::sort(prices);
  prices.resize(std::min(prices.size(), most));
  ASSERT_EQ(repairs.size(), prices.size());
  for (std::size_t i = 0; i < repairs.size(); ++i) {
    EXPECT_EQ(c.design.metrics.price + c.changes[repairs[i]].price_change, prices[i]);
    EXPECT_TRUE(c.changes[repairs[i]].rejected_by.empty());
  }
}

TEST(SingleChanges, AreThoseThatDifferInOneSlotAndTheBestAreNamed) {
  constexpr int kJobs = 400;
  constexpr std::size_t kMost = 4;
  int named = 0;
  int mended = 0;
  for (int i = 0; i < kJobs; ++i) {
    SCOPED_TRACE("seed " + std::to_string(i));
    const spec::Job job = random_job(static_cast<std::uint64_t>(i));
    const search::Setup setup = search::make_setup(job.requirement);
    const search::Space space = search::make_space(job);
    std::vector<Combination> all;
    every_combination(space, [&](const Combination& c) { all.push_back(c); });
    if (all.empty()) continue;
    // One that holds where there is one, so that its neighbours may.
    Combination pick = all[static_cast<std::size_t>(i) * 31 % all.size()];
    const search::Front front = search::all_feasible(setup, space, 1, nullptr);
    if (!front.members.empty() && i % 3 != 0) pick = front.members[front.members.size() / 2];
    const search::Design design = search::evaluate_design(setup, space, pick);
    std::vector<Neighbour> neighbours;
    for (const Combination& c : all) {
      if (slots_apart(c, pick) != 1) continue;
      const search::Design d = search::evaluate_design(setup, space, c);
      neighbours.push_back(
          {rules::design_id(d.parts), d.rejected_by().empty(), d.metrics.price, d.metrics});
    }
    const auto changes = search::single_changes(setup, space, space, pick, design);
    ASSERT_EQ(changes.size(), neighbours.size());
    const Case c{design, neighbours, changes};
    const auto movers = search::movers(design, changes);
    ASSERT_EQ(movers.size(), spec::metric_table().size());
    for (const search::Mover& mover : movers) {
      ASSERT_NO_FATAL_FAILURE(expect_mover(c, mover, named));
    }
    const auto repairs = search::repairs(changes, kMost);
    ASSERT_NO_FATAL_FAILURE(expect_repairs(c, repairs, kMost));
    if (!design.rejected_by().empty()) mended += repairs.empty() ? 0 : 1;
  }
  EXPECT_GT(named, 200);
  EXPECT_GT(mended, 5);
}

}  // namespace
}  // namespace sprocketry::test
