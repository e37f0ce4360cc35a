#include "units/natural.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>

namespace sprocketry::units {
namespace {

__extension__ using Wide = unsigned __int128;

constexpr int kLimbBits = 64;
constexpr int kDigitsPerLimb = 19;  // 10^19 is the largest power of ten below 2^64

constexpr auto kPowersOfTen = [] {
  std::array<std::uint64_t, kDigitsPerLimb + 1> powers{1};
  for (std::size_t i = 1; i < powers.size(); ++i) powers[i] = powers[i - 1] * 10;
  return powers;
}();

constexpr std::uint64_t low(Wide value) { return static_cast<std::uint64_t>(value); }
constexpr std::uint64_t high(Wide value) { return static_cast<std::uint64_t>(value >> kLimbBits); }

// value / 2^bits, ties to even; `inexact` says that a positive rest was cut off below value.
std::uint64_t shift_right_rounded(std::uint64_t value, int bits, bool inexact) {
  if (bits > kLimbBits) return 0;
  const std::uint64_t kept = bits == kLimbBits ? 0 : value >> bits;
  const std::uint64_t cut = bits == kLimbBits ? value : value & ((std::uint64_t{1} << bits) - 1);
  const std::uint64_t half = std::uint64_t{1} << (bits - 1);
  const bool odd = (kept & 1) != 0;
  const bool up = cut > half || (cut == half && (inexact || odd));
  return kept + (up ? 1 : 0);
}

}  // namespace

Natural::Natural(std::uint64_t value) : size_(value == 0 ? 0 : 1) { limbs_[0] = value; }

Natural::Natural(const Natural& other) : size_(other.size_) {
  std::copy_n(other.limbs_.begin(), size_, limbs_.begin());
}

Natural& Natural::operator=(const Natural& other) {
  size_ = other.size_;
  std::copy_n(other.limbs_.begin(), size_, limbs_.begin());
  return *this;
}

void Natural::push(std::uint64_t limb) { limbs_.at(size_++) = limb; }

void Natural::trim() {
  while (size_ > 0 && limbs_[size_ - 1] == 0) --size_;
}

int Natural::bit_length() const {
  if (is_zero()) return 0;
  return static_cast<int>(size_) * kLimbBits - std::countl_zero(limbs_[size_ - 1]);
}

int Natural::alignment() const { return is_zero() ? 0 : std::countl_zero(limbs_[size_ - 1]); }

void Natural::multiply(std::uint64_t factor, std::uint64_t addend) {
  std::uint64_t carry = addend;
  for (std::size_t i = 0; i < size_; ++i) {
    const Wide product = Wide{limbs_[i]} * factor + carry;
    limbs_[i] = low(product);
    carry = high(product);
  }
  if (carry != 0) push(carry);
  trim();
}

void Natural::multiply_by_power_of_ten(int exponent) {
  for (; exponent > kDigitsPerLimb; exponent -= kDigitsPerLimb) multiply(kPowersOfTen.back());
  if (exponent > 0) multiply(kPowersOfTen[static_cast<std::size_t>(exponent)]);
}

void Natural::shift_left(int bits) {
  if (is_zero() || bits == 0) return;
  const auto limbs = static_cast<std::size_t>(bits / kLimbBits);
  multiply(std::uint64_t{1} << (bits % kLimbBits));
  if (limbs == 0) return;
  for (std::size_t i = 0; i < limbs; ++i) push(0);
  std::copy_backward(limbs_.begin(), limbs_.begin() + static_cast<std::ptrdiff_t>(size_ - limbs),
                     limbs_.begin() + static_cast<std::ptrdiff_t>(size_));
  std::fill_n(limbs_.begin(), limbs, 0);
}

void Natural::add(const Natural& other) {
  std::uint64_t carry = 0;
  const std::size_t count = std::max(size_, other.size_);
  for (std::size_t i = 0; i < count; ++i) {
    const Wide sum = Wide{limb(i)} + other.limb(i) + carry;
    limbs_[i] = low(sum);
    carry = high(sum);
  }
  size_ = count;
  if (carry != 0) push(carry);
}

void Natural::subtract(const Natural& other) {
  std::uint64_t borrow = 0;
  for (std::size_t i = 0; i < size_; ++i) {
    const Wide difference = Wide{limbs_[i]} - other.limb(i) - borrow;
    limbs_[i] = low(difference);
    borrow = high(difference) & 1;
  }
  trim();
}

std::strong_ordering Natural::operator<=>(const Natural& other) const {
  if (size_ != other.size_) return size_ <=> other.size_;
  for (std::size_t i = size_; i-- > 0;) {
    if (limbs_[i] != other.limbs_[i]) return limbs_[i] <=> other.limbs_[i];
  }
  return std::strong_ordering::equal;
}

// One step of long division in base 2^64: a quotient digit estimated from the two leading limbs is
// never too small and, with an aligned divisor, at most 2 too large (Knuth, The Art of Computer
// Programming 2, 4.3.1, from memory).
std::uint64_t divide(Natural& dividend, const Natural& divisor) {
  const std::size_t count = divisor.size_;
  const std::uint64_t top = dividend.limb(count);
  const Wide leading = (Wide{top} << kLimbBits) | dividend.limb(count - 1);
  std::uint64_t quotient = low(leading / divisor.limbs_[count - 1]);
  if (quotient == 0) return 0;

  std::uint64_t carry = 0;
  std::uint64_t borrow = 0;
  for (std::size_t i = 0; i < count; ++i) {
    const Wide product = Wide{divisor.limbs_[i]} * quotient + carry;
    carry = high(product);
    const Wide difference = Wide{dividend.limb(i)} - low(product) - borrow;
    dividend.limbs_[i] = low(difference);
    borrow = high(difference) & 1;
  }
  std::uint64_t rest = top - carry - borrow;
  dividend.size_ = count;
  while (rest != 0) {
    --quotient;
    std::uint64_t back = 0;
    for (std::size_t i = 0; i < count; ++i) {
      const Wide sum = Wide{dividend.limbs_[i]} + divisor.limbs_[i] + back;
      dividend.limbs_[i] = low(sum);
      back = high(sum);
    }
    rest += back;
  }
  dividend.trim();
  return quotient;
}

double nearest_double(Natural numerator, Natural denominator) {
  if (numerator.is_zero()) return 0.0;
  // The quotient times 2^scale has 63 or 64 bits: more than a double keeps, so that one rounding
  // with the remainder as a tie-breaker is exact.
  const int scale = denominator.bit_length() - numerator.bit_length() + kLimbBits - 1;
  if (scale > 0) numerator.shift_left(scale);
  if (scale < 0) denominator.shift_left(-scale);
  const int alignment = denominator.alignment();
  numerator.shift_left(alignment);
  denominator.shift_left(alignment);
  const std::uint64_t quotient = divide(numerator, denominator);

  using Double = std::numeric_limits<double>;
  const int exponent = static_cast<int>(std::bit_width(quotient)) - scale;  // value < 2^exponent
  const int surplus = static_cast<int>(std::bit_width(quotient)) - Double::digits;
  const int subnormal = Double::min_exponent - exponent;
  const int cut = surplus + std::max(subnormal, 0);
  const std::uint64_t mantissa = shift_right_rounded(quotient, cut, !numerator.is_zero());
  return std::ldexp(static_cast<double>(mantissa), cut - scale);
}

}  // namespace sprocketry::units
