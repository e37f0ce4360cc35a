#include "report/text.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>

#include "units/units.hpp"

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

int decimals_for(std::string_view unit) {
  if (unit == "s" || unit == "h" || unit == "km/h" || unit == "mph" || unit == "Wh/km") return 1;
  return 0;
}

std::string compact(double value) {
  const double size = std::abs(value);
  return rounded(value, size >= 100 ? 0 : size >= 10 ? 1 : 2);
}

}  // namespace

std::string bold(std::string_view text, Colour colour) {
  if (colour == Colour::kNever) return std::string(text);
  return "\x1b[1m" + std::string(text) + "\x1b[0m";
}

std::string rounded(double value, int decimals) {
  if (!std::isfinite(value)) return "-";
  char buffer[400];
  const auto end = std::to_chars(std::begin(buffer), std::end(buffer), value,
                                 std::chars_format::fixed, decimals);
  std::string text(std::begin(buffer), end.ptr);
  const bool negative_zero = text.find_first_not_of("-0.") == std::string::npos;
  return negative_zero && text.front() == '-' ? text.substr(1) : text;
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
    std::size_t width = width_of(columns[c].heading);
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
  std::string text =
      bold(line([&](std::size_t c) -> const std::string& { return columns[c].heading; }), colour) +
      '\n';
  for (const auto& row : rows) {
    text += line([&](std::size_t c) -> const std::string& { return row[c]; }) + '\n';
  }
  return text;
}

Shown shown(const spec::MetricInfo& info, const spec::Requirement& requirement) {
  Shown s{std::string(info.label), std::string(info.unit), 1.0, 1};
  constexpr std::string_view kTarget = "{pull_away_to}";
  if (const std::size_t at = s.label.find(kTarget); at != std::string::npos) {
    s.label.replace(at, kTarget.size(), rules::speed_text(requirement, requirement.pull_away_to));
  }
  if (s.unit == "km/h" && requirement.units.speed == "mph") {
    s.unit = "mph";
    s.factor = 1.0 / 1.609344;
  }
  if (s.unit == "km" && requirement.units.distance == "mi") {
    s.unit = "mi";
    s.factor = 1.0 / 1.609344;
  }
  if (s.unit == "Wh/km" && requirement.units.distance == "mi") {
    s.unit = "Wh/mi";
    s.factor = 1.609344;
  }
  if (s.unit == "kg" && requirement.units.mass == "lb") {
    s.unit = "lb";
    s.factor = 1.0 / 0.45359237;
  }
  if (info.name == "price") s.unit = requirement.currency;
  s.decimals = decimals_for(s.unit);
  return s;
}

std::string row_text(const rules::Row& row, const spec::Requirement& requirement) {
  std::string text(row.rule);
  if (!row.about.empty()) text += " (" + row.about + ")";
  if (row.unchecked) return text + ": not checked, " + row.missing + " is not given";
  if (row.unit_kind == rules::Unit::kNone && row.limit == 1.0) {
    return text + (row.holds ? ": yes" : ": no");
  }
  std::string unit =
      row.unit_kind == rules::Unit::kMoney ? requirement.currency : std::string(row.unit);
  double factor = 1.0;
  if (row.unit_kind == rules::Unit::kSpeed && requirement.units.speed == "mph") {
    unit = "mph";
    factor = 1.0 / 1.609344;
  }
  if (row.unit_kind == rules::Unit::kKilometre && requirement.units.distance == "mi") {
    unit = "mi";
    factor = 1.0 / 1.609344;
  }
  if (row.unit_kind == rules::Unit::kKilogram && requirement.units.mass == "lb") {
    unit = "lb";
    factor = 1.0 / 0.45359237;
  }
  const std::string blank = unit.empty() ? "" : " ";
  text += ": " + compact(row.value * factor) + blank + unit + ", limit " +
          compact(row.limit * factor) + blank + unit;
  if (!std::isfinite(row.value)) return text + ", never reached";
  if (row.margin == 0 && row.holds) return text;
  const std::string size = compact(std::abs(row.margin * factor)) + blank + unit;
  return text + (row.holds ? ", " + size + " inside" : ", " + size + " outside");
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
