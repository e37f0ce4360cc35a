#include "units/number.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cstdint>
#include <optional>

namespace sprocketry::units {
namespace {

constexpr int kLargestMagnitude = 350;   // decimal places, far outside any double in any unit
constexpr int kExponentLimit = 100000;   // where the reading of an exponent stops to count
constexpr std::size_t kShortDigits = 9;  // of a fraction's parts and of the number before one
constexpr std::size_t kThousands = 3;

struct LookAlike {
  std::string_view text;
  std::string_view name;
};

constexpr std::array<LookAlike, 4> kMinusLookAlikes{{{"\u2212", "a typographic minus (U+2212)"},
                                                     {"\u2013", "a dash (U+2013)"},
                                                     {"\u2010", "a typographic hyphen (U+2010)"},
                                                     {"\uFF0D", "a wide minus (U+FF0D)"}}};

tl::unexpected<Problem> problem(std::size_t at, std::string message, std::string advice) {
  return tl::unexpected<Problem>(Problem{at, std::move(message), std::move(advice)});
}

std::size_t count_digits(const Cursor& cursor, std::size_t ahead = 0) {
  std::size_t count = 0;
  while (is_digit(cursor.peek(ahead + count))) ++count;
  return count;
}

// Digits collected in chunks that fit a limb; a point among them moves the exponent.
class Digits {
 public:
  void take(Cursor& cursor) {
    for (; is_digit(cursor.peek()); ++cursor.at) push(cursor.peek());
  }

  [[nodiscard]] int count() const { return count_; }            // including leading zeros
  [[nodiscard]] int magnitude() const { return significant_; }  // from the first that is not 0

  // The value of a few digits.
  [[nodiscard]] std::uint64_t chunk() const { return chunk_; }

  Natural value() {
    flush();
    return value_;
  }

 private:
  static constexpr std::uint64_t kFullChunk = 1000000000000000000;  // 10^18: one digit more fits

  void push(char digit) {
    ++count_;
    if (significant_ > 0 || digit != '0') ++significant_;
    chunk_ = chunk_ * 10 + static_cast<std::uint64_t>(digit - '0');
    weight_ *= 10;
    if (weight_ == kFullChunk) flush();
  }

  void flush() {
    value_.multiply(weight_, chunk_);
    chunk_ = 0;
    weight_ = 1;
  }

  Natural value_;
  std::uint64_t chunk_ = 0;
  std::uint64_t weight_ = 1;
  int count_ = 0;
  int significant_ = 0;
};

// "e-3", only when digits follow; otherwise nothing is taken and the letter belongs to the unit.
int take_exponent(Cursor& cursor) {
  if (cursor.peek() != 'e' && cursor.peek() != 'E') return 0;
  const std::size_t sign = cursor.peek(1) == '+' || cursor.peek(1) == '-' ? 1 : 0;
  const bool negative = cursor.peek(1) == '-';
  if (!is_digit(cursor.peek(1 + sign))) return 0;
  int exponent = 0;
  for (cursor.at += 1 + sign; is_digit(cursor.peek()); ++cursor.at) {
    exponent = std::min(exponent * 10 + (cursor.peek() - '0'), kExponentLimit);
  }
  return negative ? -exponent : exponent;
}

// A comma or a second point inside the number, seen with the cursor on it.
std::optional<Problem> stray_mark(const Cursor& cursor, std::size_t start) {
  if (!is_digit(cursor.peek(1))) return std::nullopt;
  if (cursor.peek() == '.') return Problem{cursor.at, "the number has two points", "write one"};
  if (cursor.peek() != ',') return std::nullopt;
  const std::string before(cursor.text.substr(start, cursor.at - start));
  const std::size_t behind = count_digits(cursor, 1);
  const std::string after(cursor.text.substr(cursor.at + 1, behind));
  const char next = cursor.peek(1 + behind);
  std::string advice = "write a point: " + before + "." + after;
  if (behind == kThousands && before != "0") advice += ", or " + before + after + " if thousands";
  if (before.find('.') != std::string::npos || next == '.' || next == ',') {
    advice = "write a point for the decimals and no mark for the thousands";
  }
  return Problem{cursor.at, "the number has a comma", advice};
}

tl::expected<Number, Problem> read_decimal(Cursor& cursor) {
  const std::size_t start = cursor.at;
  Digits digits;
  digits.take(cursor);
  const int before_point = digits.count();
  if (cursor.peek() == '.') {
    ++cursor.at;
    digits.take(cursor);
  }
  if (digits.count() == 0) {
    cursor.at = start;
    return problem(start, "no number stands here", "write a number and its unit");
  }
  if (const auto stray = stray_mark(cursor, start)) return tl::unexpected<Problem>(*stray);

  const int exponent = take_exponent(cursor) - (digits.count() - before_point);
  const int magnitude = digits.magnitude() + exponent;
  Number number;
  const std::size_t length = cursor.at - start;
  if (length <= kShortDigits && count_digits(Cursor{cursor.text, start}) == length) {
    number.whole = digits.chunk();
  }
  if (digits.magnitude() == 0 || magnitude < -kLargestMagnitude) return number;
  if (magnitude > kLargestMagnitude) {
    return problem(start, "the number is too large", "write a smaller number");
  }
  number.numerator = digits.value();
  number.numerator.multiply_by_power_of_ten(std::max(exponent, 0));
  number.denominator.multiply_by_power_of_ten(std::max(-exponent, 0));
  return number;
}

std::uint64_t take_short_whole(Cursor& cursor) {
  std::uint64_t value = 0;
  const char* const begin = cursor.text.data() + cursor.at;
  const auto end = std::from_chars(begin, begin + count_digits(cursor), value).ptr;
  cursor.at += static_cast<std::size_t>(end - begin);
  return value;
}

std::string proper_form(std::uint64_t numerator, std::uint64_t denominator) {
  const std::uint64_t rest = numerator % denominator;
  std::string text = std::to_string(numerator / denominator);
  if (rest == 0) return text;
  return text + ' ' + std::to_string(rest) + '/' + std::to_string(denominator);
}

// "7/8" with the cursor on its first digit; adds it to the whole number in front of it, if any.
std::optional<Problem> take_fraction(Cursor& cursor, Number& number) {
  const std::size_t start = cursor.at;
  const std::size_t digits_above = count_digits(cursor);
  const std::size_t digits_below = count_digits(cursor, digits_above + 1);
  if (std::max(digits_above, digits_below) > kShortDigits) {
    return Problem{start, "the fraction has too many digits", "write a decimal number"};
  }
  const std::uint64_t numerator = take_short_whole(cursor);
  ++cursor.at;
  const std::size_t below = cursor.at;
  const std::uint64_t denominator = take_short_whole(cursor);
  if (denominator == 0) {
    return Problem{below, "the fraction divides by zero", "write a decimal number"};
  }
  if (numerator >= denominator) {
    return Problem{start, "the fraction is not below one",
                   "write " + proper_form(numerator, denominator) + " for it"};
  }
  number.numerator.multiply(denominator);
  number.numerator.add(Natural{numerator});
  number.denominator = Natural{denominator};
  number.whole.reset();
  return std::nullopt;
}

bool at_fraction(const Cursor& cursor) {
  const std::size_t digits = count_digits(cursor);
  return digits > 0 && cursor.peek(digits) == '/' && is_digit(cursor.peek(digits + 1));
}

}  // namespace

void Cursor::skip_blanks() {
  while (peek() == ' ' || peek() == '\t') ++at;
}

bool is_digit(char letter) { return letter >= '0' && letter <= '9'; }

bool begins_number(const Cursor& cursor) {
  const char first = cursor.peek();
  return is_digit(first) || first == '.' || first == '+' || first == '-';
}

tl::expected<bool, Problem> read_sign(Cursor& cursor) {
  const auto* const alike = std::ranges::find_if(
      kMinusLookAlikes, [&](const LookAlike& one) { return cursor.rest().starts_with(one.text); });
  if (alike != kMinusLookAlikes.end()) {
    return problem(cursor.at, "it begins with " + std::string(alike->name),
                   "write the minus of the keyboard, -");
  }
  const char sign = cursor.peek();
  if (sign == '+' || sign == '-') ++cursor.at;
  return sign == '-';
}

tl::expected<Number, Problem> read_number(Cursor& cursor) {
  if (at_fraction(cursor)) {
    Number number;
    if (const auto wrong = take_fraction(cursor, number)) return tl::unexpected<Problem>(*wrong);
    return number;
  }
  tl::expected<Number, Problem> number = read_decimal(cursor);
  if (!number || !number->whole) return number;
  Cursor ahead = cursor;
  ahead.skip_blanks();
  if (ahead.at == cursor.at || !at_fraction(ahead)) return number;
  if (const auto wrong = take_fraction(ahead, *number)) return tl::unexpected<Problem>(*wrong);
  cursor = ahead;
  return number;
}

}  // namespace sprocketry::units
