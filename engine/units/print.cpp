#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <limits>
#include <optional>
#include <string>

#include "units/decimal.hpp"
#include "units/natural.hpp"
#include "units/table.hpp"
#include "units/units.hpp"

namespace sprocketry::units {
namespace {

// A double never needs more than 17 digits in a proportional unit. A shifted one may need hundreds
// near the zero of SI; nobody reads more than these.
constexpr std::size_t kMostDigits = 19;

using DoubleLimits = std::numeric_limits<double>;
constexpr int kFractionBits = DoubleLimits::digits - 1;
constexpr std::int64_t kHiddenBit = std::int64_t{1} << kFractionBits;
constexpr int kSmallestExponent = DoubleLimits::min_exponent - DoubleLimits::digits;
constexpr int kQuarter = -2;  // as a power of two: half the way to the nearer neighbour

// A value and the two points half-way to its neighbours, counted in 2^exponent. Every text between
// these points reads as the value; one on a point does if the value's last bit is 0.
struct Steps {
  std::int64_t low = 0;
  std::int64_t value = 0;
  std::int64_t high = 0;
  int exponent = 0;
  bool with_ends = false;
};

Steps steps_of(double magnitude) {
  const auto bits = std::bit_cast<std::int64_t>(magnitude);
  const std::int64_t fraction = bits & (kHiddenBit - 1);
  const int biased = static_cast<int>(bits >> kFractionBits);
  const std::int64_t mantissa = biased == 0 ? fraction : fraction + kHiddenBit;
  const bool neighbour_is_near = fraction == 0 && biased > 1;  // below a power of two
  return {4 * mantissa - (neighbour_is_near ? 1 : 2), 4 * mantissa, 4 * mantissa + 2,
          kSmallestExponent + std::max(biased - 1, 0) + kQuarter, mantissa % 2 == 0};
}

std::uint64_t size_of(std::int64_t value) { return static_cast<std::uint64_t>(std::abs(value)); }

Natural product(std::uint64_t a, std::uint64_t b, std::uint64_t c = 1, std::uint64_t d = 1) {
  Natural result{a};
  result.multiply(b);
  result.multiply(c);
  result.multiply(d);
  return result;
}

struct Signed {
  Natural magnitude;
  bool negative = false;
};

// a - b, a with a sign.
Signed difference(Natural a, bool negative, const Natural& b) {
  if (negative) {
    a.add(b);
    return {a, true};
  }
  if (a >= b) {
    a.subtract(b);
    return {a, false};
  }
  Natural result = b;
  result.subtract(a);
  return {result, true};
}

// x = value / factor - shift, over the common divisor factor x kShiftSteps.
std::optional<std::string> shifted_text(double value, const Unit& unit) {
  const Steps steps = steps_of(std::abs(value));
  const int up = std::max(steps.exponent, 0);
  const int down = std::max(-steps.exponent, 0);
  Natural shift = product(unit.shift, unit.factor.numerator);
  shift.shift_left(down);
  const auto in_the_unit = [&](std::int64_t point) {
    Natural size = product(size_of(point), unit.factor.denominator, kShiftSteps);
    size.shift_left(up);
    return difference(size, (point < 0) != std::signbit(value), shift);
  };
  const Signed near = in_the_unit(steps.low);
  const Signed middle = in_the_unit(steps.value);
  const Signed far = in_the_unit(steps.high);
  if (near.negative != far.negative) return "0";

  Natural divisor = product(unit.factor.numerator, kShiftSteps);
  divisor.shift_left(down);
  const bool ascending = near.magnitude < far.magnitude;
  const auto decimal =
      shortest_decimal({ascending ? near.magnitude : far.magnitude, middle.magnitude,
                        ascending ? far.magnitude : near.magnitude, divisor, steps.with_ends},
                       kMostDigits);
  if (!decimal) return std::nullopt;
  return decimal_text(*decimal, middle.negative);
}

// x = factor / value, over the common divisor of the three points.
std::optional<std::string> reciprocal_text(double value, const Unit& unit) {
  if (value == 0) return std::nullopt;
  const Steps steps = steps_of(std::abs(value));
  const std::uint64_t low = size_of(steps.low);
  const std::uint64_t middle = size_of(steps.value);
  const std::uint64_t high = size_of(steps.high);
  const auto [numerator, denominator] = unit.factor;
  Interval interval{product(numerator, low, middle), product(numerator, low, high),
                    product(numerator, middle, high), product(denominator, low, middle, high),
                    steps.with_ends};
  const int down = std::max(-steps.exponent, 0);
  interval.low.shift_left(down);
  interval.value.shift_left(down);
  interval.high.shift_left(down);
  interval.divisor.shift_left(std::max(steps.exponent, 0));
  const auto decimal = shortest_decimal(interval, kMostDigits);
  if (!decimal) return std::nullopt;
  return decimal_text(*decimal, value < 0);
}

std::optional<std::string> number_text(double value, const Unit& unit) {
  return unit.scale == Scale::kReciprocal ? reciprocal_text(value, unit)
                                          : shifted_text(value, unit);
}

}  // namespace

std::string print(double value, Dimension dimension, std::string_view symbol) {
  const Unit& plain = plain_unit(dimension);
  const Unit* const wanted = find_unit(dimension, symbol);
  if (wanted != nullptr) {
    if (const auto text = number_text(value, *wanted)) return *text + " " + std::string(symbol);
  }
  return number_text(value, plain).value() + " " + std::string(plain.symbol);
}

double in_unit(double value, Dimension dimension, std::string_view symbol) {
  const Unit* const wanted = find_unit(dimension, symbol);
  const Unit& unit = wanted != nullptr ? *wanted : plain_unit(dimension);
  // Factors stay below 2^64: what is halved so often first cannot overflow on the way.
  constexpr int kRoom = 64;
  constexpr double kLarge = 1e280;
  const int halvings = std::abs(value) > kLarge ? kRoom : 0;
  const auto numerator = static_cast<double>(unit.factor.numerator);
  const auto denominator = static_cast<double>(unit.factor.denominator);
  const double product = std::ldexp(value, -halvings) * denominator;
  if (unit.scale == Scale::kReciprocal) return std::ldexp(numerator / product, -halvings);
  const double scaled = std::clamp(std::ldexp(product / numerator, halvings), -DoubleLimits::max(),
                                   DoubleLimits::max());
  if (unit.scale == Scale::kProportional) return scaled;
  return scaled - static_cast<double>(unit.shift) / static_cast<double>(kShiftSteps);
}

}  // namespace sprocketry::units
