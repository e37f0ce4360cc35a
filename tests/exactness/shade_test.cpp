// What the order of the bounded search reads: a member's shade at a share, and how large a share it
// takes.

#include "search/shade.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <limits>
#include <random>

namespace sprocketry::test {
namespace {

using search::kLanes;
using search::kMostObjectives;

struct Question {
  std::size_t objectives = 2;
  std::array<double, kMostObjectives> values{};
  std::array<double, kLanes * kMostObjectives> rows{};
};

Question question(std::mt19937_64& random) {
  const auto number = [&] { return static_cast<double>(random() % 41) - 20.0; };
  Question q;
  q.objectives = 2 + random() % 5;
  for (double& value : q.values) value = number();
  q.rows.fill(std::numeric_limits<double>::infinity());
  const std::size_t members = 1 + random() % kLanes;
  for (std::size_t k = 0; k < q.objectives; ++k) {
    for (std::size_t lane = 0; lane < members; ++lane) q.rows[k * kLanes + lane] = number();
  }
  return q;
}

bool covered(const Question& q, double share) {
  for (std::size_t lane = 0; lane < kLanes; ++lane) {
    bool below = true;
    for (std::size_t k = 0; k < q.objectives; ++k) {
      const double value = q.values[k] + share * std::abs(q.values[k]);
      below = below && q.rows[k * kLanes + lane] <= value;
    }
    if (below) return true;
  }
  return false;
}

TEST(Shade, TellsTheLeastShareThatPutsValuesInIt) {
  std::mt19937_64 random(1);
  int reached = 0;
  for (int i = 0; i < 20'000; ++i) {
    const Question q = question(random);
    const double share = search::least_share(q.rows.data(), q.values.data(), q.objectives);
    if (!std::isfinite(share)) {
      EXPECT_EQ(covered(q, 1e9), share < 0);
      continue;
    }
    ++reached;
    EXPECT_TRUE(covered(q, share + 1e-9));
    EXPECT_FALSE(covered(q, share - 1e-9));
  }
  EXPECT_GT(reached, 5'000);
}

TEST(Shade, IsWiderByItsShare) {
  search::Archive known(2);
  search::Archive none(2);
  known.offer({{10.0, -100.0}, {}});
  search::Shade shade(2, 0.0);
  shade.fall(known, none);
  const std::array<double, 2> near{9.95, -100.5};
  const std::array<double, 2> worse{10.0, -99.0};
  EXPECT_FALSE(shade.dominated(near.data()));
  EXPECT_TRUE(shade.dominated(worse.data()));
  shade.set_share(-0.01);
  EXPECT_TRUE(shade.dominated(near.data()));
  shade.set_share(-0.001);
  EXPECT_FALSE(shade.dominated(near.data()));
  shade.set_share(0.05);
  EXPECT_FALSE(shade.dominated(worse.data()));
}

}  // namespace
}  // namespace sprocketry::test
