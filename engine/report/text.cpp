#include "report/text.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace sprocketry::report {
namespace {

// Columns on a terminal: code points, since units and titles may be other than ASCII.
std::size_t width_of(std::string_view text) {
  return static_cast<std::size_t>(std::ranges::count_if(
      text, [](char c) { return (static_cast<unsigned char>(c) & 0xc0u) != 0x80u; }));
}

std::string padded(const std::string& text, std::size_t width, bool right) {
  const std::size_t own = width_of(text);
  const std::string blanks(width > own ? width - own : 0, ' ');
  return right ? blanks + text : text + blanks;
}

}  // namespace

std::string bold(std::string_view text, Colour colour) {
  if (colour == Colour::kNever) return std::string(text);
  return "\x1b[1m" + std::string(text) + "\x1b[0m";
}

std::string rounded(double value, int decimals) {
  if (!std::isfinite(value)) return "-";
  // Nothing that can be built: its digits would only break the line.
  constexpr double kBeyondAnything = 1e15;
  const bool absurd = std::abs(value) >= kBeyondAnything;
  char buffer[400];
  const auto end = absurd ? std::to_chars(std::begin(buffer), std::end(buffer), value,
                                          std::chars_format::scientific, 1)
                          : std::to_chars(std::begin(buffer), std::end(buffer), value,
                                          std::chars_format::fixed, decimals);
  std::string text(std::begin(buffer), end.ptr);
  const bool zero = text.find_first_not_of("-0.") == std::string::npos;
  return zero && text.front() == '-' ? text.substr(1) : text;
}

std::string grouped(Count128 value) {
  std::string digits;
  int place = 0;
  do {
    if (place > 0 && place % 3 == 0) digits += ',';
    digits += static_cast<char>('0' + static_cast<int>(value % 10));
    value /= 10;
    ++place;
  } while (value > 0);
  std::ranges::reverse(digits);
  return digits;
}

std::string table(const std::vector<Column>& columns,
                  const std::vector<std::vector<std::string>>& rows, std::string_view indent,
                  Colour colour) {
  std::vector<std::size_t> widths;
  for (std::size_t c = 0; c < columns.size(); ++c) {
    std::size_t width = std::max(width_of(columns[c].heading), width_of(columns[c].unit));
    for (const auto& row : rows) width = std::max(width, width_of(row[c]));
    widths.push_back(width);
  }
  const auto line = [&](const auto& cell) {
    std::string text(indent);
    for (std::size_t c = 0; c < columns.size(); ++c) {
      if (c > 0) text += "  ";
      text += padded(cell(c), widths[c], columns[c].number);
    }
    text.erase(text.find_last_not_of(' ') + 1);
    return text;
  };
  std::string text = bold(line([&](std::size_t c) { return columns[c].heading; }), colour) + '\n';
  if (!std::ranges::all_of(columns, [](const Column& c) { return c.unit.empty(); })) {
    text += bold(line([&](std::size_t c) { return columns[c].unit; }), colour) + '\n';
  }
  for (const auto& row : rows) text += line([&](std::size_t c) { return row[c]; }) + '\n';
  return text;
}

std::string wrapped(std::string_view text, std::string_view indent, std::size_t width) {
  std::string result;
  std::string line;
  const auto end_line = [&] {
    result += std::string(indent) + line + '\n';
    line.clear();
  };
  while (!text.empty()) {
    const std::size_t blank = std::min(text.find(' '), text.size());
    const std::string_view word = text.substr(0, blank);
    if (!line.empty() && indent.size() + width_of(line) + 1 + width_of(word) > width) end_line();
    if (!line.empty()) line += ' ';
    line += word;
    text.remove_prefix(std::min(blank + 1, text.size()));
  }
  if (!line.empty()) end_line();
  return result;
}

}  // namespace sprocketry::report
