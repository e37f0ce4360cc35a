#include "search/workers.hpp"

#include <gtest/gtest.h>
#include <sys/resource.h>
#include <tbb/parallel_for.h>

#include <atomic>

namespace sprocketry::search {
namespace {

TEST(GrantedThreads, AreThoseWantedWhereNothingForbids) {
  EXPECT_EQ(granted_threads(1), 1);
  EXPECT_EQ(granted_threads(2), 2);
  EXPECT_EQ(granted_threads(40), 40);
}

TEST(Workers, DoAllTheWorkHoweverManyThereAre) {
  for (const int threads : {0, 1, 2, 64}) {
    std::atomic<int> done = 0;
    Workers(threads).run([&] { tbb::parallel_for(0, 1000, [&](int) { ++done; }); });
    EXPECT_EQ(done, 1000) << threads;
  }
}

}  // namespace
}  // namespace sprocketry::search
