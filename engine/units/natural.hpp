#pragma once

#include <array>
#include <compare>
#include <cstddef>
#include <cstdint>

namespace sprocketry::units {

// A whole number >= 0 of at most 2048 bits, kept in place. Texts are at most kLongestText bytes and
// their magnitude is bounded before they get here, so every number between a text and a double
// fits; one that does not throws std::out_of_range, which is a defect.
class Natural {
 public:
  Natural() {}
  explicit Natural(std::uint64_t value);
  // A copy takes the limbs in use only: most numbers have one or two of the 32.
  Natural(const Natural& other);
  Natural& operator=(const Natural& other);
  ~Natural() = default;

  [[nodiscard]] bool is_zero() const { return size_ == 0; }
  [[nodiscard]] int bit_length() const;

  // this = this x factor + addend
  void multiply(std::uint64_t factor, std::uint64_t addend = 0);
  void multiply_by_power_of_ten(int exponent);  // nothing for an exponent below 1
  void shift_left(int bits);
  void add(const Natural& other);
  // Precondition: other <= this.
  void subtract(const Natural& other);

  std::strong_ordering operator<=>(const Natural& other) const;
  bool operator==(const Natural& other) const { return std::is_eq(*this <=> other); }

  // The whole quotient of the two; `dividend` becomes the remainder. Preconditions: the divisor is
  // aligned (alignment() is 0) and dividend < 2^63 x divisor.
  friend std::uint64_t divide(Natural& dividend, const Natural& divisor);

  // By how many bits to shift left so that the number fills its limbs.
  [[nodiscard]] int alignment() const;

 private:
  static constexpr std::size_t kCapacity = 32;

  void push(std::uint64_t limb);
  void trim();
  [[nodiscard]] std::uint64_t limb(std::size_t index) const {
    return index < size_ ? limbs_[index] : 0;
  }

  std::array<std::uint64_t, kCapacity> limbs_;  // least significant first; set up to size_ only
  std::size_t size_ = 0;                        // the limb on top is never zero
};

std::uint64_t divide(Natural& dividend, const Natural& divisor);

// The double nearest to numerator/denominator, ties to even; infinity when it lies beyond the
// largest double. Precondition: denominator > 0.
double nearest_double(Natural numerator, Natural denominator);

}  // namespace sprocketry::units
