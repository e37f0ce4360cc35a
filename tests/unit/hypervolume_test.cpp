#include "search/hypervolume.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <random>

// Against inclusion and exclusion over all subsets, and greedy choice written out.

namespace sprocketry::search {
namespace {

double by_subsets(const std::vector<Values>& points, const Values& reference) {
  double sum = 0;
  for (unsigned subset = 1; subset < (1U << points.size()); ++subset) {
    double volume = 1;
    for (std::size_t k = 0; k < reference.size(); ++k) {
      double corner = -1e300;
      for (std::size_t i = 0; i < points.size(); ++i) {
        if (subset & (1U << i)) corner = std::max(corner, points[i][k]);
      }
      volume *= std::max(0.0, reference[k] - corner);
    }
    sum += std::popcount(subset) % 2 == 1 ? volume : -volume;
  }
  return sum;
}

std::vector<Values> random_points(std::mt19937_64& random, std::size_t count,
                                  std::size_t objectives, bool rounded) {
  std::uniform_real_distribution<double> share(0, 1.2);
  std::vector<Values> points(count, Values(objectives));
  for (Values& point : points) {
    for (double& value : point) {
      value = share(random);
      if (rounded) value = std::round(4 * value) / 4;
    }
  }
  return points;
}

TEST(Hypervolume, IsTheUnionsVolumeByInclusionAndExclusion) {
  std::mt19937_64 random(11);
  for (int round = 0; round < 400; ++round) {
    const std::size_t objectives = 1 + static_cast<std::size_t>(round) % 6;
    const auto points =
        random_points(random, 1 + static_cast<std::size_t>(round) % 10, objectives, round % 3 == 0);
    const Values reference(objectives, 1.0);
    EXPECT_NEAR(hypervolume(points, reference), by_subsets(points, reference), 1e-12);
  }
}

TEST(Hypervolume, OfTwoBoxesByHand) {
  // 2 x 1 and 1 x 2 share 1 x 1.
  EXPECT_NEAR(hypervolume({{1, 2}, {2, 1}}, {3, 3}), 2 + 2 - 1, 1e-15);
  EXPECT_EQ(hypervolume({}, {3, 3}), 0);
  EXPECT_EQ(hypervolume({{3, 0}, {4, 4}}, {3, 3}), 0);
}

TEST(ExclusiveVolume, IsTheDifferenceThatAPointMakes) {
  std::mt19937_64 random(12);
  for (int round = 0; round < 200; ++round) {
    const std::size_t objectives = 2 + static_cast<std::size_t>(round) % 5;
    auto points = random_points(random, 9, objectives, round % 2 == 0);
    const Values reference(objectives, 1.1);
    const Values last = points.back();
    const double whole = hypervolume(points, reference);
    points.pop_back();
    EXPECT_NEAR(exclusive_volume(last, points, reference), whole - hypervolume(points, reference),
                1e-12);
  }
}

// Every candidate asked in every round.
std::vector<std::size_t> plainly_widest(const std::vector<Values>& points, const Values& reference,
                                        std::vector<std::size_t> chosen, std::size_t most) {
  while (chosen.size() < most) {
    double best = -1;
    std::size_t add = 0;
    std::vector<Values> kept;
    for (const std::size_t i : chosen) kept.push_back(points[i]);
    for (std::size_t i = 0; i < points.size(); ++i) {
      if (std::ranges::find(chosen, i) != chosen.end()) continue;
      const double gain = exclusive_volume(points[i], kept, reference);
      if (gain > best) {
        best = gain;
        add = i;
      }
    }
    chosen.push_back(add);
  }
  std::ranges::sort(chosen);
  return chosen;
}

TEST(Widest, IsWhatAskingEveryCandidateEachTimeChooses) {
  std::mt19937_64 random(13);
  for (int round = 0; round < 60; ++round) {
    const std::size_t objectives = 2 + static_cast<std::size_t>(round) % 5;
    const auto points = random_points(random, 40, objectives, false);
    const Values reference(objectives, 1.3);
    const auto chosen = widest(points, reference, {7, 3}, 8);
    const auto plain = plainly_widest(points, reference, {3, 7}, 8);
    // Sums in another order may swap what adds the same to the last digits: compare what is won.
    const auto won = [&](const std::vector<std::size_t>& indices) {
      std::vector<Values> kept;
      for (const std::size_t i : indices) kept.push_back(points[i]);
      return hypervolume(kept, reference);
    };
    EXPECT_EQ(chosen.size(), 8U);
    EXPECT_NEAR(won(chosen), won(plain), 1e-9);
    EXPECT_TRUE(std::ranges::is_sorted(chosen));
    EXPECT_TRUE(std::ranges::find(chosen, 7U) != chosen.end());
    EXPECT_TRUE(std::ranges::find(chosen, 3U) != chosen.end());
  }
}

TEST(Widest, TakesAllWhereThereAreNoMore) {
  EXPECT_EQ(widest({{0, 1}, {1, 0}}, {2, 2}, {}, 5), (std::vector<std::size_t>{0, 1}));
}

}  // namespace
}  // namespace sprocketry::search
