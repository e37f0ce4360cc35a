#include "search/in_order.hpp"

#include <gtest/gtest.h>

#include <string>

namespace sprocketry::test {
namespace {

std::string numbers(std::size_t first, std::size_t last) {
  std::string text;
  for (std::size_t i = first; i < last; ++i) text += std::to_string(i) + ' ';
  return text;
}

TEST(InOrder, WritesEachItemOnceInItsPlaceOnAnyNumberOfThreads) {
  for (const std::size_t items : {0U, 1U, 31U, 32U, 33U, 64U, 1000U}) {
    for (const int threads : {0, 1, 2, 5}) {
      SCOPED_TRACE(std::to_string(items) + " items, " + std::to_string(threads) + " threads");
      std::string written;
      search::write_in_order(
          items, threads,
          [](std::size_t first, std::size_t last, std::string& text) {
            // The first items take longest, so that later ones are done before them.
            volatile double busy = 0;
            for (std::size_t i = first; i < 1000; ++i) busy = busy + 1.0;
            text += numbers(first, last);
          },
          [&](std::string_view text) { written += text; });
      EXPECT_EQ(written, numbers(0, items));
    }
  }
}

}  // namespace
}  // namespace sprocketry::test
