#pragma once

#include <cstdint>
#include <numeric>
#include <stdexcept>

namespace sprocketry::units {

// A positive conversion factor as a fraction in lowest terms, so that a conversion has one rounding
// only and "72 km/h" is 20 m/s to the last bit.
struct Factor {
  std::uint64_t numerator = 1;
  std::uint64_t denominator = 1;
};

// Product of two whole numbers. Only evaluated while compiling the table, where a product that does
// not fit stops the build.
constexpr std::uint64_t fitting_product(std::uint64_t a, std::uint64_t b) {
  if (a != 0 && a * b / a != b) throw std::overflow_error("a unit's factor does not fit");
  return a * b;
}

constexpr Factor fraction(std::uint64_t numerator, std::uint64_t denominator) {
  const std::uint64_t common = std::gcd(numerator, denominator);
  return {numerator / common, denominator / common};
}

constexpr Factor operator*(Factor a, Factor b) {
  const Factor left = fraction(a.numerator, b.denominator);
  const Factor right = fraction(b.numerator, a.denominator);
  return {fitting_product(left.numerator, right.numerator),
          fitting_product(left.denominator, right.denominator)};
}

constexpr Factor operator/(Factor a, Factor b) { return a * Factor{b.denominator, b.numerator}; }

}  // namespace sprocketry::units
