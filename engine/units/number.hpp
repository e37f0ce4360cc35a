#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <tl/expected.hpp>

#include "units/natural.hpp"

namespace sprocketry::units {

// Texts are read up to this many bytes; nobody writes a longer quantity.
constexpr std::size_t kLongestText = 100;

// Where a text is being read.
struct Cursor {
  std::string_view text;
  std::size_t at = 0;  // bytes

  [[nodiscard]] bool at_end() const { return at >= text.size(); }
  [[nodiscard]] char peek(std::size_t ahead = 0) const {
    return at + ahead < text.size() ? text[at + ahead] : '\0';
  }
  [[nodiscard]] std::string_view rest() const { return text.substr(at); }
  void skip_blanks();
};

// What is wrong at a byte of the text, to stand behind "a speed is expected, but ", and what to
// write instead; the example of the dimension follows it.
struct Problem {
  std::size_t at = 0;
  std::string message;
  std::string advice;
};

// An unsigned number as it stands in a text, kept exactly as numerator / denominator.
struct Number {
  Natural numerator;
  Natural denominator{1};
  // Its value when it is a few digits only, so that a fraction or a smaller unit may follow.
  std::optional<std::uint64_t> whole;
};

bool is_digit(char letter);
// Whether a sign, digit or point stands there that can only begin another number.
bool begins_number(const Cursor& cursor);

// Reads an optional sign; true for minus. The typographic minus and dash are a problem.
tl::expected<bool, Problem> read_sign(Cursor& cursor);

// Reads "72", ".5", "1.5e-3", "7/8" or "1 1/8". A magnitude below 1e-350 is read as zero, one above
// 1e350 is a problem: neither reaches a double in any unit.
tl::expected<Number, Problem> read_number(Cursor& cursor);

}  // namespace sprocketry::units
