// A search that is stopped: what it gives is true, and what it did not get to is counted.

#include <gtest/gtest.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <thread>

#include "exactness/random_job.hpp"
#include "search/enumerate.hpp"
#include "search/search.hpp"
#include "support/plain_front.hpp"

namespace sprocketry::test {
namespace {

using search::Front;
using search::Pruning;
using search::Watch;

spec::Job demo() {
  document::Diagnostics diagnostics;
  auto job = spec::load_job(SPROCKETRY_SOURCE_DIR "/specs/demo.yaml", {}, diagnostics);
  if (!job) throw std::runtime_error(diagnostics.text());
  return std::move(*job);
}

// A searched job with what it takes to look closer.
struct Ground {
  spec::Job job;
  search::Setup setup;
  search::Space space;

  explicit Ground(spec::Job taken)
      : job(std::move(taken)),
        setup(search::make_setup(job.requirement)),
        space(search::make_space(job)) {}

  Front search(Watch* watch, Pruning pruning, int threads) const {
    search::SearchOptions options;
    options.threads = threads;
    options.pruning = pruning;
    options.watch = watch;
    return search::search(setup, space, options);
  }
};

search::Count sum_of(const search::Account& a) {
  search::Count sum = a.evaluated + a.pruned + a.unsettled;
  for (const search::Count count : a.rejected) sum += count;
  return sum;
}

void expect_true_members(const Ground& ground, const Front& front) {
  const std::size_t count = ground.setup.objectives.size();
  for (std::size_t i = 0; i < front.members.size(); ++i) {
    const search::Design design =
        search::evaluate_design(ground.setup, ground.space, front.members[i]);
    EXPECT_TRUE(design.rejected_by().empty());
    for (std::size_t k = 0; k < count; ++k) {
      const spec::MetricInfo& info = *ground.setup.objectives[k];
      const double value = info.value(design.metrics);
      EXPECT_EQ(front.objectives[i][k], info.better == spec::Better::kLower ? value : -value);
    }
  }
}

void expect_no_member_beats_another(const Ground& ground, const Front& front) {
  const std::size_t count = ground.setup.objectives.size();
  PointList points;
  for (const auto& values : front.objectives) {
    points.emplace_back(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(count));
  }
  EXPECT_EQ(plain_front(points).size(), points.size());
}

void expect_honest(const Ground& ground, const Front& front, const Front& whole) {
  EXPECT_EQ(sum_of(front.account), front.account.combinations);
  EXPECT_EQ(front.exact, front.account.unsettled == 0);
  EXPECT_LE(front.account.unsettled, front.account.compatible);
  expect_true_members(ground, front);
  expect_no_member_beats_another(ground, front);
  if (front.exact) {
    EXPECT_EQ(front.objectives, whole.objectives);
  }
}

TEST(Anytime, StoppedBeforeItBeginsEverythingThatFitsIsUnsettled) {
  const Ground ground(demo());
  for (const Pruning pruning : {Pruning::kNever, Pruning::kAlways}) {
    Watch watch;
    watch.stop = true;
    const Front front = ground.search(&watch, pruning, 1);
    EXPECT_TRUE(front.members.empty());
    EXPECT_FALSE(front.exact);
    EXPECT_EQ(front.account.unsettled, front.account.compatible);
    EXPECT_EQ(sum_of(front.account), front.account.combinations);
  }
}

TEST(Anytime, StoppedAtAnyMomentItTellsWhatItHasDone) {
  const Ground ground(demo());
  const Front whole = ground.search(nullptr, Pruning::kAuto, 0);
  ASSERT_TRUE(whole.exact);
  int stopped = 0;
  for (int i = 0; i < 24; ++i) {
    Watch watch;
    std::thread stopper([&, i] {
      std::this_thread::sleep_for(std::chrono::milliseconds(3 * i));
      watch.stop = true;
    });
    const Pruning pruning = i % 2 == 0 ? Pruning::kAlways : Pruning::kNever;
    const Front front = ground.search(&watch, pruning, 1 + i % 3);
    stopper.join();
    expect_honest(ground, front, whole);
    stopped += front.exact ? 0 : 1;
  }
  EXPECT_GT(stopped, 4);
}

TEST(Anytime, OnRandomJobsAWatchThatDoesNotStopChangesNothing) {
  for (std::uint64_t seed = 0; seed < 200; ++seed) {
    const Ground ground(random_job(seed));
    Watch watch;
    const Front watched = ground.search(&watch, Pruning::kAlways, 2);
    const Front plain = ground.search(nullptr, Pruning::kAlways, 1);
    EXPECT_EQ(watched.objectives, plain.objectives);
    EXPECT_EQ(watched.account.rejected, plain.account.rejected);
    EXPECT_TRUE(watched.exact);
    EXPECT_EQ(watch.settled.load(), watch.compatible.load());
  }
}

// Lists ids, one a line, and raises the stop while the line of that number is made (never for 0).
std::string list_ids(const Ground& ground, int threads, int stop_at, bool& whole) {
  Watch watch;
  std::atomic<int> made = 0;
  std::string all;
  whole = search::enumerate(
      ground.setup, ground.space, threads,
      [&](const search::Design& design, std::string& text) {
        if (++made == stop_at) watch.stop = true;
        text += rules::design_id(design.parts) + '\n';
      },
      [&](std::string_view text) {
        all += text;
        return true;
      },
      &watch);
  return all;
}

TEST(Anytime, AStoppedListIsTheBeginningOfTheWhole) {
  const Ground ground(demo());
  bool complete = false;
  const std::string whole = list_ids(ground, 0, 0, complete);
  ASSERT_TRUE(complete);
  std::size_t longest = 0;
  for (const int stop_at : {1, 255, 256, 257, 1000, 5000}) {
    for (const int threads : {1, 3}) {
      const std::string part = list_ids(ground, threads, stop_at, complete);
      EXPECT_FALSE(complete);
      EXPECT_LT(part.size(), whole.size());
      EXPECT_TRUE(whole.starts_with(part)) << stop_at;
      EXPECT_TRUE(part.empty() || part.back() == '\n');
      longest = std::max(longest, part.size());
    }
  }
  EXPECT_GT(longest, 0U);
}

}  // namespace
}  // namespace sprocketry::test
