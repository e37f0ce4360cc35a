#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <random>
#include <stdexcept>

#include "units/natural.hpp"

namespace sprocketry::units {
namespace {

constexpr std::uint64_t kAllOnes = std::numeric_limits<std::uint64_t>::max();
constexpr std::uint64_t kTopBit = std::uint64_t{1} << 63U;

// limb x 2^(64 limbs) + lower
Natural above(std::uint64_t limb, const Natural& lower, int limbs) {
  Natural result{limb};
  result.shift_left(64 * limbs);
  result.add(lower);
  return result;
}

// Built from its solution: dividend = quotient x divisor + rest.
void expect_division(std::uint64_t quotient, const Natural& divisor, const Natural& rest) {
  Natural dividend = divisor;
  dividend.multiply(quotient);
  dividend.add(rest);
  EXPECT_EQ(divide(dividend, divisor), quotient);
  EXPECT_EQ(dividend, rest);
}

TEST(UnitsNatural, DivisionFindsTheQuotientThatWasMultiplied) {
  std::mt19937_64 random(1);
  for (int i = 0; i < 20000; ++i) {
    Natural divisor{random()};
    const int limbs = static_cast<int>(random() % 5);
    for (int j = 1; j < limbs; ++j) divisor = above(random(), divisor, j);
    divisor = above(random() | kTopBit, divisor, std::max(limbs, 1));
    const std::uint64_t quotient = random() >> (1 + random() % 63);
    expect_division(quotient, divisor, Natural{random()});
  }
}

// The leading limbs alone suggest a quotient that is too large by one or two here.
TEST(UnitsNatural, DivisionCorrectsAnEstimateThatIsTooLarge) {
  for (const std::uint64_t low : {kAllOnes, kAllOnes - 1, kTopBit}) {
    const Natural divisor = above(kTopBit, Natural{low}, 1);
    const Natural wide = above(kTopBit, above(low, Natural{kAllOnes}, 1), 2);
    Natural largest_rest = divisor;
    largest_rest.subtract(Natural{1});
    for (const std::uint64_t quotient : {kAllOnes >> 1U, (kAllOnes >> 1U) - 1, kTopBit >> 1U}) {
      expect_division(quotient, divisor, Natural{});
      expect_division(quotient, divisor, Natural{1});
      expect_division(quotient, divisor, largest_rest);
      expect_division(quotient, wide, Natural{});
      expect_division(quotient, wide, divisor);
    }
  }
}

TEST(UnitsNatural, SubtractionUndoesAdditionAcrossLimbs) {
  Natural ones{kAllOnes};
  for (int i = 1; i < 6; ++i) ones = above(kAllOnes, ones, i);
  Natural sum = ones;
  sum.add(Natural{1});
  EXPECT_EQ(sum.bit_length(), 6 * 64 + 1);
  EXPECT_GT(sum, ones);
  sum.subtract(ones);
  EXPECT_EQ(sum, Natural{1});
  sum.subtract(Natural{1});
  EXPECT_TRUE(sum.is_zero());
  EXPECT_EQ(sum.bit_length(), 0);
}

TEST(UnitsNatural, PowersOfTenAreTheirFactors) {
  for (int exponent = 0; exponent < 300; ++exponent) {
    Natural stepwise{7};
    for (int i = 0; i < exponent; ++i) stepwise.multiply(10);
    Natural at_once{7};
    at_once.multiply_by_power_of_ten(exponent);
    ASSERT_EQ(at_once, stepwise) << exponent;
  }
}

TEST(UnitsNatural, ANumberBeyondItsRoomIsADefectNotAWrongResult) {
  Natural number{1};
  number.shift_left(2047);
  EXPECT_THROW(number.multiply(2), std::out_of_range);
}

TEST(UnitsNatural, TheNearestDoubleOfAFractionIsTheirRoundedQuotient) {
  std::mt19937_64 random(2);
  for (int i = 0; i < 20000; ++i) {
    const std::uint64_t a = random() >> (11 + random() % 50);
    const std::uint64_t b = 1 + (random() >> (12 + random() % 50));
    ASSERT_EQ(nearest_double(Natural{a}, Natural{b}),
              static_cast<double>(a) / static_cast<double>(b));
  }
  Natural huge{1};
  huge.shift_left(1024);
  EXPECT_EQ(nearest_double(huge, Natural{1}), std::numeric_limits<double>::infinity());
  EXPECT_EQ(nearest_double(Natural{1}, huge), std::ldexp(1.0, -1024));
}

}  // namespace
}  // namespace sprocketry::units
