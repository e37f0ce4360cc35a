#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "report/json_writer.hpp"

namespace sprocketry::report {

// Whether text may be coloured: a terminal, and NO_COLOR is not set; the caller decides.
enum class Colour { kNever, kTerminal };

std::string bold(std::string_view text, Colour colour);

// A number for a person, with so many decimals, never "-0"; "-" when it does not exist.
std::string rounded(double value, int decimals);

// "1,234,567".
std::string grouped(Count128 value);

// Columns of text set under each other, after their headings; a second line of headings holds the
// units where there are any. Numbers are set to the right, words to the left. Every line begins
// with `indent` and ends without blanks. Every row has one cell for each column.
struct Column {
  std::string heading;
  bool number = true;
  std::string unit = {};
};
std::string table(const std::vector<Column>& columns,
                  const std::vector<std::vector<std::string>>& rows, std::string_view indent,
                  Colour colour);

// Text broken into lines of at most `width` columns, each after `indent`. A longer word has a line
// of its own.
std::string wrapped(std::string_view text, std::string_view indent, std::size_t width = 96);

}  // namespace sprocketry::report
