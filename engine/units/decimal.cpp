#include "units/decimal.hpp"

#include <cmath>
#include <cstddef>
#include <cstdint>

namespace sprocketry::units {
namespace {

constexpr int kLeastPositional = -4;    // 0.00001234
constexpr int kLargestPositional = 15;  // 123456789012345
constexpr double kDecimalsPerBit = 0.30103;

// What remains of the value, and how far it may be from the decimal, while digits are taken off.
struct Remainder {
  Natural value;
  Natural below;
  Natural above;
};

void times_ten(Remainder& rest) {
  rest.value.multiply(10);
  rest.below.multiply(10);
  rest.above.multiply(10);
}

bool reaches(const Natural& rest, const Natural& margin, const Natural& unit, bool with_ends) {
  Natural sum = rest;
  sum.add(margin);
  return with_ends ? sum >= unit : sum > unit;
}

// The exponent with which every number of the interval is 0.d1d2... Scales the interval to it.
int scale(Remainder& rest, Natural& divisor, bool with_ends) {
  Natural high = rest.value;
  high.add(rest.above);
  const int bits = high.bit_length() - divisor.bit_length();
  // One below the estimate, which is itself never too large by more than one.
  int exponent = static_cast<int>(std::floor((bits - 1) * kDecimalsPerBit)) - 1;
  divisor.multiply_by_power_of_ten(exponent);
  rest.value.multiply_by_power_of_ten(-exponent);
  rest.below.multiply_by_power_of_ten(-exponent);
  rest.above.multiply_by_power_of_ten(-exponent);
  while (reaches(rest.value, rest.above, divisor, with_ends)) {
    divisor.multiply(10);
    ++exponent;
  }
  return exponent;
}

void align(Remainder& rest, Natural& divisor) {
  const int bits = divisor.alignment();
  divisor.shift_left(bits);
  rest.value.shift_left(bits);
  rest.below.shift_left(bits);
  rest.above.shift_left(bits);
}

// Whether the rest behind a last digit lies nearer to the next one; half-way, even digits win.
bool rounds_up(std::uint64_t digit, const Natural& rest, const Natural& unit) {
  Natural twice = rest;
  twice.add(rest);
  return twice > unit || (twice == unit && digit % 2 != 0);
}

}  // namespace

std::optional<Decimal> shortest_decimal(Interval interval, std::size_t most_digits) {
  const bool with_ends = interval.with_ends;
  Natural& unit = interval.divisor;
  Remainder rest{interval.value, interval.value, interval.high};
  rest.below.subtract(interval.low);
  rest.above.subtract(interval.value);

  Decimal decimal;
  decimal.exponent = scale(rest, unit, with_ends);
  align(rest, unit);
  while (decimal.digits.size() < most_digits) {
    times_ten(rest);
    std::uint64_t digit = divide(rest.value, unit);
    const bool low = with_ends ? rest.value <= rest.below : rest.value < rest.below;
    const bool high = reaches(rest.value, rest.above, unit, with_ends);
    const bool last = low || high;
    if (last && high && (!low || rounds_up(digit, rest.value, unit))) ++digit;
    if (digit != 0 || !decimal.digits.empty()) {
      decimal.digits += static_cast<char>('0' + digit);
    } else {
      --decimal.exponent;
    }
    if (last) return decimal;
  }
  return std::nullopt;
}

std::string decimal_text(const Decimal& decimal, bool negative) {
  const std::string& digits = decimal.digits;
  const int count = static_cast<int>(digits.size());
  const int point = decimal.exponent;  // how many digits stand in front of the point
  std::string text = negative ? "-" : "";
  if (point < kLeastPositional || point > kLargestPositional) {
    text += digits.front();
    if (count > 1) text.append(1, '.').append(digits, 1);
    return text.append(1, 'e').append(std::to_string(point - 1));
  }
  if (point <= 0) {
    return text.append("0.").append(static_cast<std::size_t>(-point), '0').append(digits);
  }
  const auto split = static_cast<std::size_t>(point);
  text.append(digits, 0, split);
  if (count <= point) return text.append(split - digits.size(), '0');
  return text.append(1, '.').append(digits, split);
}

}  // namespace sprocketry::units
