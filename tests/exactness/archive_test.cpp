// The archive and the bulk front against every pair compared.

#include "search/archive.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <string>

#include "exactness/random_points.hpp"
#include "search/front_of.hpp"

namespace sprocketry::test {
namespace {

using search::Archive;
using search::Member;

Member member(const PointList& points, std::size_t i) {
  Member m;
  std::ranges::copy(points[i], m.objectives.begin());
  // Ascending indices have ascending keys.
  m.key = {static_cast<std::uint32_t>(i / 7), static_cast<std::uint32_t>(i % 7), 0};
  return m;
}

std::set<std::size_t> held(Archive& archive) {
  std::set<std::size_t> indices;
  for (const Member& m : archive.members()) indices.insert(m.key.level * 7 + m.key.charger);
  return indices;
}

std::set<std::size_t> plainly(const PointList& points) {
  const std::vector<std::size_t> front = plain_front(points);
  return {front.begin(), front.end()};
}

std::vector<std::uint32_t> bulk(const PointList& points, std::size_t objectives,
                                std::size_t pieces) {
  std::vector<std::vector<double>> columns(objectives);
  std::vector<const double*> pointers;
  for (std::size_t i = 0; i < objectives; ++i) {
    for (const auto& point : points) columns[i].push_back(point[i]);
    pointers.push_back(columns[i].data());
  }
  return search::front_of(pointers, points.size(), pieces);
}

std::string described(std::uint64_t seed, std::size_t objectives, std::size_t count) {
  return "seed " + std::to_string(seed) + ", " + std::to_string(objectives) + " objectives, " +
         std::to_string(count) + " points";
}

void expect_bulk_is_plain(const PointList& points, std::size_t objectives) {
  const std::set<std::size_t> expected = plainly(points);
  const std::vector<std::uint32_t> one = bulk(points, objectives, 1);
  ASSERT_EQ(std::set<std::size_t>(one.begin(), one.end()), expected);
  ASSERT_EQ(one.size(), expected.size());
  ASSERT_TRUE(std::ranges::is_sorted(one, [&](std::uint32_t a, std::uint32_t b) {
    return points[a] != points[b] ? points[a] < points[b] : a < b;
  }));
  ASSERT_EQ(bulk(points, objectives, 3), one);
}

TEST(ExactArchive, BulkFrontIsWhatEveryPairComparedLeaves) {
  for (std::uint64_t seed = 0; seed < 6000; ++seed) {
    const std::size_t objectives = 1 + seed / kShapes % 6;
    const std::size_t count = seed / kShapes / 6 % 60;
    SCOPED_TRACE(described(seed, objectives, count));
    expect_bulk_is_plain(random_points(seed, objectives, count), objectives);
    if (HasFatalFailure()) return;
  }
}

// Sizes at which pivots, the grid and the trees come in.
TEST(ExactArchive, LargeBulkFrontIsWhatEveryPairComparedLeaves) {
  for (std::size_t objectives = 1; objectives <= 6; ++objectives) {
    for (std::uint64_t seed = 0; seed < 2 * kShapes; ++seed) {
      const std::size_t count = seed < kShapes ? 2500 : 1100;
      SCOPED_TRACE(described(seed, objectives, count));
      expect_bulk_is_plain(random_points(seed, objectives, count), objectives);
      if (HasFatalFailure()) return;
    }
  }
  for (const std::uint64_t seed : {0u, 1u, 3u, 4u, 5u, 6u, 7u, 9u}) {
    SCOPED_TRACE(described(seed, 3, 30000));
    expect_bulk_is_plain(random_points(seed, 3, 30000), 3);
    if (HasFatalFailure()) return;
  }
}

TEST(ExactArchive, HoldsTheFrontWhateverTheOrderAndTheMerging) {
  for (std::uint64_t seed = 0; seed < 3000; ++seed) {
    const std::size_t objectives = 1 + seed / kShapes % 6;
    // A few hundred are settled more than once on the way.
    const std::size_t count = seed % 97 == 0 ? 1500 : seed % 50;
    SCOPED_TRACE(described(seed, objectives, count));
    const PointList points = random_points(seed, objectives, count);
    Archive forward(objectives);
    Archive backward(objectives);
    Archive even(objectives);
    Archive odd(objectives);
    for (std::size_t i = 0; i < count; ++i) {
      forward.offer(member(points, i));
      backward.offer(member(points, count - 1 - i));
      (i % 2 == 0 ? even : odd).offer(member(points, i));
      if (i == count / 2) static_cast<void>(backward.members());
    }
    even.merge(odd);
    ASSERT_EQ(held(forward), plainly(points));
    const auto same = [&](const Member& a, const Member& b) {
      return a.objectives == b.objectives && a.key == b.key;
    };
    ASSERT_TRUE(std::ranges::equal(forward.members(), backward.members(), same));
    ASSERT_TRUE(std::ranges::equal(forward.members(), even.members(), same));
  }
}

TEST(ExactArchive, KnowsWhatIsStrictlyDominated) {
  for (std::uint64_t seed = 0; seed < 1500; ++seed) {
    const std::size_t objectives = 1 + seed / kShapes % 6;
    const std::size_t count = seed % 97 == 0 ? 1500 : 1 + seed % 80;
    SCOPED_TRACE(described(seed, objectives, count));
    const PointList points = random_points(seed, objectives, count);
    Archive waiting(objectives);
    Archive settled(objectives);
    for (std::size_t i = 0; i < count; ++i) {
      waiting.offer(member(points, i));
      settled.offer(member(points, i));
    }
    static_cast<void>(settled.members());
    PointList asked = random_points(seed + kShapes, objectives, 20);
    asked.insert(asked.end(), points.begin(),
                 points.begin() + static_cast<std::ptrdiff_t>(std::min<std::size_t>(20, count)));
    for (const auto& point : asked) {
      const bool dominated = std::ranges::any_of(
          points, [&](const auto& other) { return plainly_dominates(other, point); });
      ASSERT_EQ(waiting.dominated(point.data()), dominated);
      ASSERT_EQ(settled.dominated(point.data()), dominated);
    }
  }
}

// Too many for every pair: none of the front is dominated by it, all else is.
// Of three objectives so many that the grid is made anew several times.
TEST(ExactArchive, FrontOfManyDominatesTheRestAndNotItself) {
  for (std::size_t objectives = 3; objectives <= 5; ++objectives) {
    for (const std::uint64_t seed : {0u, 1u, 8u, 9u}) {
      const std::size_t count = objectives == 3 ? 300000 : 100000;
      SCOPED_TRACE(described(seed, objectives, count));
      const PointList points = random_points(seed, objectives, count);
      const std::vector<std::uint32_t> front = bulk(points, objectives, 1);
      ASSERT_EQ(bulk(points, objectives, 2), front);
      std::vector<double> values;
      std::vector<bool> on_front(count);
      for (const std::uint32_t i : front) {
        values.insert(values.end(), points[i].begin(), points[i].end());
        on_front[i] = true;
      }
      const search::DominanceTree tree(objectives, values);
      for (std::size_t i = 0; i < count; ++i) {
        ASSERT_EQ(tree.dominates(points[i].data()), !on_front[i]) << i;
      }
    }
  }
}

}  // namespace
}  // namespace sprocketry::test
