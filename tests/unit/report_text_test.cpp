#include <gtest/gtest.h>

#include <limits>

#include "report/text.hpp"

namespace sprocketry::report {
namespace {

TEST(Rounded, GivesTheDecimalsAskedFor) {
  EXPECT_EQ(rounded(12.345, 1), "12.3");
  EXPECT_EQ(rounded(-0.04, 1), "0.0");
  EXPECT_EQ(rounded(999999999999999.0, 0), "999999999999999");
}

TEST(Rounded, SpendsNoLineOnWhatNobodyCanBuild) {
  EXPECT_EQ(rounded(1e15, 0), "1.0e+15");
  EXPECT_EQ(rounded(-1.2e150, 3), "-1.2e+150");
  EXPECT_EQ(rounded(std::numeric_limits<double>::max(), 2), "1.8e+308");
  EXPECT_EQ(rounded(std::numeric_limits<double>::infinity(), 0), "-");
}

}  // namespace
}  // namespace sprocketry::report
