#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <optional>
#include <string>
#include <utility>

#include "units/natural.hpp"
#include "units/number.hpp"
#include "units/suggest.hpp"
#include "units/table.hpp"
#include "units/units.hpp"

namespace sprocketry::units {
namespace {

__extension__ using Wide = unsigned __int128;

constexpr std::size_t kQuotedLength = 24;  // code points

constexpr std::array<std::string_view, 4> kSpecialBlanks{"\u00A0", "\u2007", "\u2009", "\u202F"};

struct Amount {
  Number number;
  bool negative = false;
  const Unit* unit = nullptr;
};

bool begins_code_point(char byte) { return (static_cast<unsigned char>(byte) & 0xC0U) != 0x80U; }

std::size_t code_points(std::string_view text) {
  return static_cast<std::size_t>(std::ranges::count_if(text, begins_code_point));
}

// A piece of the person's text in quotation marks, short and without control characters.
std::string quoted(std::string_view piece) {
  std::string text = "'";
  std::size_t shown = 0;
  for (const char byte : piece) {
    if (begins_code_point(byte) && ++shown > kQuotedLength) return text + "...'";
    const bool control = (byte >= 0 && byte < ' ') || byte == '\x7F';
    text += control ? '?' : byte;
  }
  return text + "'";
}

tl::unexpected<Problem> problem(std::size_t at, std::string message, std::string advice = {}) {
  return tl::unexpected<Problem>(Problem{at, std::move(message), std::move(advice)});
}

std::string did_you_mean(std::string_view symbol) {
  return symbol.empty() ? std::string{} : "did you mean " + std::string(symbol) + "?";
}

// "write km/h, mph or m/s"
std::string list_symbols(Dimension dimension) {
  const std::span<const Unit> units = units_of(dimension);
  std::string text = "write ";
  for (std::size_t i = 0; i < units.size(); ++i) {
    if (i > 0) text += i + 1 == units.size() ? " or " : ", ";
    text += units[i].symbol;
  }
  return text;
}

// Bytes of the longest unit that the text begins with, when a blank follows it; else 0.
std::size_t unit_before_more_text(std::string_view text, Dimension expected) {
  std::size_t longest = 0;
  for (const Unit& unit : units_of(expected)) {
    const std::size_t size = unit.symbol.size();
    const bool ends = size < text.size() && (text[size] == ' ' || text[size] == '\t');
    if (ends && text.starts_with(unit.symbol)) longest = std::max(longest, size);
  }
  return longest;
}

Problem text_follows(std::size_t at) {
  return {at, "text follows the unit", "write one number and one unit"};
}

Problem strange_unit(std::string_view symbol, std::size_t at, Dimension expected) {
  const auto special = std::ranges::find_if(
      kSpecialBlanks, [&](std::string_view blank) { return symbol.starts_with(blank); });
  if (special != kSpecialBlanks.end()) {
    return {at, "the blank before the unit is a special one", "write an ordinary blank"};
  }
  const auto units = all_units();
  const auto other = std::ranges::find(units, symbol, &Unit::symbol);
  if (other != units.end()) {
    return {at, std::string(symbol) + " measures " + std::string(name_of(other->dimension)),
            did_you_mean(habitual_symbol(symbol, expected))};
  }
  if (const std::size_t known = unit_before_more_text(symbol, expected); known > 0) {
    return text_follows(at + symbol.find_first_not_of(" \t", known));
  }
  const std::string_view near = nearest_symbol(symbol, expected);
  return {at, quoted(symbol) + " is not a unit this program knows",
          near.empty() ? list_symbols(expected) : did_you_mean(near)};
}

// The unit's text reaches to the end or to a blank behind which another number begins.
std::string_view unit_text(Cursor& cursor) {
  const std::size_t start = cursor.at;
  std::size_t end = start;
  while (!cursor.at_end() && !(cursor.at > start && begins_number(cursor))) {
    while (!cursor.at_end() && cursor.peek() != ' ' && cursor.peek() != '\t') ++cursor.at;
    end = cursor.at;
    cursor.skip_blanks();
  }
  return cursor.text.substr(start, end - start);
}

tl::expected<const Unit*, Problem> read_unit(Cursor& cursor, Dimension expected) {
  const std::size_t behind_number = cursor.at;
  cursor.skip_blanks();
  if (cursor.at_end()) {
    return problem(behind_number, "the unit is missing", "write the number with its unit");
  }
  const std::size_t start = cursor.at;
  const bool another_number = start > behind_number && begins_number(cursor);
  if (another_number && habitual_symbol(cursor.rest(), expected).empty()) {
    return problem(start, "a second number stands where the unit should",
                   "write the number without blanks and with its unit");
  }
  const std::string_view symbol = another_number ? cursor.rest() : unit_text(cursor);
  const Unit* const unit = find_unit(expected, symbol);
  if (unit == nullptr) return tl::unexpected<Problem>(strange_unit(symbol, start, expected));
  return unit;
}

// How many of the smaller unit make the larger one; 0 unless it is a whole number above 1.
std::uint64_t whole_steps(const Unit& larger, const Unit& smaller) {
  const Factor ratio = larger.factor / smaller.factor;
  return ratio.denominator == 1 && ratio.numerator > 1 ? ratio.numerator : 0;
}

bool may_be_compound(Dimension dimension) {
  using enum Dimension;
  return dimension == kLength || dimension == kMass || dimension == kTime;
}

// What keeps another amount from following: the text goes on at the cursor.
std::optional<Problem> why_not_more(const Cursor& cursor, const Number& number,
                                    std::size_t number_at, Dimension expected) {
  if (!may_be_compound(expected)) {
    return text_follows(cursor.at);
  }
  if (!number.whole) {
    return Problem{number_at, "only the last of several numbers may have decimals",
                   "write whole numbers before it"};
  }
  if (!is_digit(cursor.peek()) && cursor.peek() != '.') {
    return Problem{cursor.at, "a sign stands inside the amount", "write one sign, in front"};
  }
  return std::nullopt;
}

// "3 min 30 s": each whole number is carried over into the next, smaller unit.
tl::expected<Amount, Problem> read_amount(Cursor& cursor, Dimension expected) {
  const auto negative = read_sign(cursor);
  if (!negative) return tl::unexpected<Problem>(negative.error());
  std::uint64_t carried = 0;
  const Unit* larger = nullptr;
  while (true) {
    const std::size_t number_at = cursor.at;
    auto number = read_number(cursor);
    if (!number) return tl::unexpected<Problem>(number.error());
    const auto unit = read_unit(cursor, expected);
    if (!unit) return tl::unexpected<Problem>(unit.error());
    if (larger != nullptr) {
      const std::uint64_t steps = whole_steps(*larger, **unit);
      if (steps == 0) {
        return problem(number_at,
                       std::string(larger->symbol) + " is not a whole number of " +
                           std::string((*unit)->symbol),
                       "write the larger unit first, or one unit");
      }
      carried *= steps;
      Natural more = number->denominator;
      more.multiply(carried);
      number->numerator.add(more);
    }
    if (cursor.at_end()) return Amount{*number, *negative, *unit};
    if (auto wrong = why_not_more(cursor, *number, number_at, expected)) {
      return tl::unexpected<Problem>(*wrong);
    }
    carried += *number->whole;
    larger = *unit;
  }
}

// The SI value, rounded once.
double si_value(Amount amount) {
  Natural& numerator = amount.number.numerator;
  Natural& denominator = amount.number.denominator;
  const Unit& unit = *amount.unit;
  if (unit.scale == Scale::kShifted) {
    Natural shift = denominator;
    shift.multiply(unit.shift);
    numerator.multiply(kShiftSteps);
    denominator.multiply(kShiftSteps);
    if (!amount.negative) {
      numerator.add(shift);
    } else if (numerator > shift) {
      numerator.subtract(shift);
    } else {
      shift.subtract(numerator);
      std::swap(numerator, shift);
      amount.negative = false;
    }
  }
  if (unit.scale == Scale::kReciprocal) std::swap(numerator, denominator);
  numerator.multiply(unit.factor.numerator);
  denominator.multiply(unit.factor.denominator);
  const double value = nearest_double(numerator, denominator);
  return amount.negative && value != 0 ? -value : value;
}

tl::expected<Quantity, Problem> read_quantity(std::string_view text, Dimension expected) {
  if (text.size() > kLongestText) {
    return problem(kLongestText, "the text is too long", "write a short number with its unit");
  }
  Cursor cursor{text};
  cursor.skip_blanks();
  if (cursor.at_end()) return problem(0, "nothing is written", "write a number and its unit");
  const std::size_t start = cursor.at;
  const auto amount = read_amount(cursor, expected);
  if (!amount) return tl::unexpected<Problem>(amount.error());
  if (amount->unit->scale == Scale::kReciprocal && amount->number.numerator.is_zero()) {
    return problem(start, "0 " + std::string(amount->unit->symbol) + " would be infinite",
                   "write a number other than 0");
  }
  const double value = si_value(*amount);
  if (!std::isfinite(value)) {
    return problem(start, "the number is too large", "write a smaller number");
  }
  return Quantity{value, amount->unit->symbol};
}

// The number of a plain text as a fraction, and where it ends.
struct PlainNumber {
  std::uint64_t above = 0;
  std::uint64_t below = 1;
  std::size_t end = 0;
};

// Up to `most` digits from `at` on; nothing when none or more stand there.
std::optional<std::uint64_t> plain_digits(std::string_view text, std::size_t& at,
                                          std::size_t most) {
  std::uint64_t value = 0;
  const std::size_t start = at;
  for (; at < text.size() && is_digit(text[at]); ++at) {
    if (at - start == most) return std::nullopt;
    value = value * 10 + static_cast<std::uint64_t>(text[at] - '0');
  }
  return at == start ? std::nullopt : std::optional(value);
}

// "72", "0.35" and "7/8": few digits, so that the products of plain_value() fit.
std::optional<PlainNumber> read_plain_number(std::string_view text) {
  constexpr std::size_t kMostDigits = 9;
  constexpr std::array<std::uint64_t, kMostDigits + 1> kPowersOfTen = {
      1, 10, 100, 1000, 10000, 100000, 1000000, 10000000, 100000000, 1000000000};
  PlainNumber number;
  const auto whole = plain_digits(text, number.end, kMostDigits);
  if (!whole) return std::nullopt;
  number.above = *whole;
  const char next = number.end < text.size() ? text[number.end] : '\0';
  if (next != '.' && next != '/') return number;
  const std::size_t start = ++number.end;
  const auto behind = plain_digits(text, number.end, kMostDigits);
  if (!behind) return std::nullopt;
  if (next == '/') {
    number.below = *behind;
    if (number.above >= number.below) return std::nullopt;
  } else {
    number.below = kPowersOfTen[number.end - start];
    number.above = number.above * number.below + *behind;
  }
  return number;
}

// The double nearest to above x factor / below.
double plain_value(std::uint64_t above, std::uint64_t below, const Factor& factor) {
  constexpr Wide kExact = Wide{1} << 53U;
  const Wide numerator = Wide{above} * factor.numerator;
  const Wide denominator = Wide{below} * factor.denominator;
  // Whole numbers up to 2^53 are doubles, so that the division alone rounds.
  if (numerator <= kExact && denominator <= kExact) {
    return static_cast<double>(static_cast<std::uint64_t>(numerator)) /
           static_cast<double>(static_cast<std::uint64_t>(denominator));
  }
  Natural exact_numerator(above);
  Natural exact_denominator(below);
  exact_numerator.multiply(factor.numerator);
  exact_denominator.multiply(factor.denominator);
  return nearest_double(exact_numerator, exact_denominator);
}

// A short number, blanks and a unit: what most texts are. Nothing for any other text: then
// read_quantity() says what it is. Where both read a text, they read the same.
std::optional<Quantity> read_plain(std::string_view text, Dimension expected) {
  const auto number = read_plain_number(text);
  if (!number) return std::nullopt;
  const std::size_t word = std::min(text.find_first_not_of(' ', number->end), text.size());
  const Unit* const unit = find_unit(expected, text.substr(word));
  if (unit == nullptr) return std::nullopt;
  std::uint64_t above = number->above;
  std::uint64_t below = number->below;
  if (unit->scale == Scale::kReciprocal) {
    if (above == 0) return std::nullopt;
    std::swap(above, below);
  } else if (unit->scale == Scale::kShifted) {
    constexpr std::uint64_t kMost = std::uint64_t{1} << 40U;  // its product with the steps fits
    if (above > kMost) return std::nullopt;
    above = above * kShiftSteps + below * unit->shift;
    below *= kShiftSteps;
  }
  return Quantity{plain_value(above, below, unit->factor), unit->symbol};
}

}  // namespace

tl::expected<Quantity, ParseError> parse(std::string_view text, Dimension expected,
                                         std::string_view example) {
  if (const auto plain = read_plain(text, expected)) return *plain;
  const auto quantity = read_quantity(text, expected);
  if (quantity) return *quantity;
  const Problem& wrong = quantity.error();
  std::string hint = wrong.advice;
  if (!hint.empty()) hint += hint.back() == '?' ? " " : ", ";
  return tl::unexpected<ParseError>(
      {code_points(text.substr(0, wrong.at)),
       std::string(name_of(expected)) + " is expected, but " + wrong.message,
       hint + "for example " + std::string(example.empty() ? example_of(expected) : example)});
}

}  // namespace sprocketry::units
