#pragma once

#include <optional>
#include <string>

#include "units/natural.hpp"

namespace sprocketry::units {

// A positive decimal number 0.d1d2d3... x 10^exponent with d1 > 0.
struct Decimal {
  std::string digits;
  int exponent = 0;
};

// The numbers between low/divisor and high/divisor around value/divisor, all positive.
struct Interval {
  Natural low;
  Natural value;
  Natural high;
  Natural divisor;
  bool with_ends = false;
};

// The decimal with the fewest digits inside the interval and, of those, the one nearest to the
// value; none when it would need more than `most_digits`. Steele and White, "How to print
// floating-point numbers accurately", 1990 (from memory), for any interval.
std::optional<Decimal> shortest_decimal(Interval interval, std::size_t most_digits);

// "0.25", "-1500", "3e-7": positional for magnitudes that people read, otherwise with an exponent.
std::string decimal_text(const Decimal& decimal, bool negative);

}  // namespace sprocketry::units
