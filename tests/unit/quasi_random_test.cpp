#include "search/quasi_random.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>

#include "search/rank.hpp"

namespace sprocketry::search {
namespace {

// Of 2^k points one lies in each of the 2^k equal intervals of every dimension, and one in each
// box of 2^a by 2^b of the first two (a + b = k): a (0, k, 2) net in base 2 (Niederreiter).
TEST(QuasiRandom, PointsLieEvenly) {
  for (const std::uint64_t seed : {1U, 2U, 77U}) {
    constexpr int kPower = 8;
    constexpr std::size_t kCount = std::size_t{1} << kPower;
    const auto columns = quasi_random(kCount, 40, seed);
    for (const auto& column : columns) {
      std::vector<int> hits(kCount);
      for (const double u : column) {
        ASSERT_GT(u, 0.0);
        ASSERT_LT(u, 1.0);
        ++hits[static_cast<std::size_t>(u * kCount)];
      }
      EXPECT_EQ(std::ranges::count(hits, 1), static_cast<std::ptrdiff_t>(kCount));
    }
    for (int a = 0; a <= kPower; ++a) {
      const double wide = std::ldexp(1.0, a);
      const double high = std::ldexp(1.0, kPower - a);
      std::vector<int> hits(kCount);
      for (std::size_t i = 0; i < kCount; ++i) {
        const double x = std::floor(columns[0][i] * wide);
        const double y = std::floor(columns[1][i] * high);
        ++hits[static_cast<std::size_t>(x * high + y)];
      }
      EXPECT_EQ(std::ranges::count(hits, 1), static_cast<std::ptrdiff_t>(kCount)) << a;
    }
  }
}

TEST(QuasiRandom, MoreIsAContinuationAndAnotherSeedIsAnother) {
  const auto few = quasi_random(50, 3, 5);
  const auto many = quasi_random(80, 7, 5);
  for (std::size_t d = 0; d < few.size(); ++d) {
    EXPECT_TRUE(std::equal(few[d].begin(), few[d].end(), many[d].begin()));
  }
  EXPECT_NE(quasi_random(50, 3, 6), few);
  EXPECT_THROW(quasi_random(1, kMostDimensions + 1, 1), std::invalid_argument);
  EXPECT_EQ(quasi_random(2, kMostDimensions, 1).size(), kMostDimensions);
}

// The integral of a product of 2 u over six dimensions is 1; plain sampling of 4096 points is off
// by 0.036 as a rule (the standard deviation of one point is 2.15).
TEST(QuasiRandom, IntegratesBetterThanChance) {
  const auto columns = quasi_random(4096, 6, 3);
  double sum = 0;
  for (std::size_t i = 0; i < 4096; ++i) {
    double product = 1;
    for (const auto& column : columns) product *= 2 * column[i];
    sum += product;
  }
  EXPECT_NEAR(sum / 4096, 1.0, 0.01);
}

// By the definition: the correlation of ranks, a rank being one more than the number of smaller
// values and half the number of other equal ones.
double plain_spearman(const std::vector<double>& a, const std::vector<double>& b) {
  const auto ranks = [](const std::vector<double>& values) {
    std::vector<double> result;
    for (const double v : values) {
      double rank = 0.5;
      for (const double other : values) rank += other < v ? 1.0 : (other == v ? 0.5 : 0.0);
      result.push_back(rank);
    }
    return result;
  };
  const auto x = ranks(a);
  const auto y = ranks(b);
  const auto count = static_cast<double>(a.size());
  const double mean_x = std::accumulate(x.begin(), x.end(), 0.0) / count;
  const double mean_y = std::accumulate(y.begin(), y.end(), 0.0) / count;
  double xy = 0;
  double xx = 0;
  double yy = 0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    xy += (x[i] - mean_x) * (y[i] - mean_y);
    xx += (x[i] - mean_x) * (x[i] - mean_x);
    yy += (y[i] - mean_y) * (y[i] - mean_y);
  }
  return xy / std::sqrt(xx * yy);
}

TEST(RankCorrelation, IsSpearmansWithAndWithoutTies) {
  std::mt19937_64 words(4);
  for (int round = 0; round < 200; ++round) {
    const std::size_t count = 3 + words() % 60;
    const std::uint64_t steps = 2 + words() % 40;  // few steps make ties
    std::vector<double> a;
    std::vector<double> b;
    for (std::size_t i = 0; i < count; ++i) {
      a.push_back(static_cast<double>(words() % steps));
      b.push_back(static_cast<double>(words() % steps) + (round % 3) * a.back());
    }
    if (std::ranges::min(a) == std::ranges::max(a) || std::ranges::min(b) == std::ranges::max(b)) {
      continue;
    }
    EXPECT_NEAR(rank_correlation(unit_ranks(a), unit_ranks(b)), plain_spearman(a, b), 1e-12);
  }
}

TEST(RankCorrelation, KnowsTheExtremes) {
  const std::vector<double> rising = {1, 2, 30, 400};
  const std::vector<double> falling = {9, 5, 1, -std::numeric_limits<double>::infinity()};
  const std::vector<double> level = {3, 3, 3, 3};
  EXPECT_NEAR(rank_correlation(unit_ranks(rising), unit_ranks(rising)), 1, 1e-15);
  EXPECT_NEAR(rank_correlation(unit_ranks(rising), unit_ranks(falling)), -1, 1e-15);
  EXPECT_EQ(rank_correlation(unit_ranks(rising), unit_ranks(level)), 0);
}

TEST(Quantile, LiesBetweenTheTwoNearest) {
  const std::vector<double> values = {10, 20, 30, 40, 50, 60};
  EXPECT_EQ(quantile(values, 0), 10);
  EXPECT_EQ(quantile(values, 1), 60);
  EXPECT_EQ(quantile(values, 0.5), 35);
  EXPECT_DOUBLE_EQ(quantile(values, 0.1), 15);
  const std::vector<double> level(37, 126.107);
  for (int i = 0; i <= 100; ++i) EXPECT_EQ(quantile(level, i / 100.0), 126.107);
  const double infinity = std::numeric_limits<double>::infinity();
  EXPECT_EQ(quantile(std::vector<double>{1, infinity}, 0), 1);
  EXPECT_EQ(quantile(std::vector<double>{1, infinity, infinity}, 0.9), infinity);
}

}  // namespace
}  // namespace sprocketry::search
