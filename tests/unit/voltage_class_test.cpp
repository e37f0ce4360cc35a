#include "parts/voltage_class.hpp"

#include <gtest/gtest.h>

#include <array>

namespace sprocketry::parts {
namespace {

constexpr std::array kClasses = {36.0, 48.0, 72.0};

TEST(VoltageClass, IsTheNearestOneWithinFifteenPercent) {
  EXPECT_EQ(voltage_class(kClasses, 51.2), 48.0);  // 16 LFP cells
  EXPECT_EQ(voltage_class(kClasses, 76.8), 72.0);  // 24 LFP cells
  EXPECT_EQ(voltage_class(kClasses, 60.0), std::nullopt);
}

TEST(VoltageClass, OfAPackNearestToAClassTooFarOffIsNotTheNextOne) {
  // 13 LFP cells are nearest to 36 V, but 15.6 % off; that they lie within 15 % of 48 V does not
  // count.
  EXPECT_EQ(voltage_class(kClasses, 41.6), std::nullopt);
  EXPECT_EQ(voltage_class(std::array{48.0}, 41.6), 48.0);
}

TEST(VoltageClass, TakesTheLowerOfTwoAsNearAndTheEndsOfItsWidth) {
  EXPECT_EQ(voltage_class(std::array{100.0, 90.0}, 95.0), 90.0);
  EXPECT_EQ(voltage_class(std::array{40.0}, 46.0), 40.0);
  EXPECT_EQ(voltage_class(std::array{40.0}, 46.001), std::nullopt);
}

TEST(VoltageClass, OfNoClassesIsNone) { EXPECT_EQ(voltage_class({}, 48.0), std::nullopt); }

}  // namespace
}  // namespace sprocketry::parts
