#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "report/json_writer.hpp"
#include "rules/rule.hpp"
#include "spec/metrics.hpp"

namespace sprocketry::report {

// Whether text may be coloured: a terminal, and NO_COLOR is not set; the caller decides.
enum class Colour { kNever, kTerminal };

std::string bold(std::string_view text, Colour colour);

// A number for a person, with so many decimals; "-" when it does not exist.
std::string rounded(double value, int decimals);

// "1,234,567".
std::string grouped(Count128 value);

// Columns of text set under each other; the first row is the heading. Numbers are set to the right,
// words to the left. Every line begins with `indent`.
struct Column {
  std::string heading;
  bool number = true;
};
std::string table(const std::vector<Column>& columns,
                  const std::vector<std::vector<std::string>>& rows, std::string_view indent,
                  Colour colour);

// How a metric reads in the requirement's units: "38.2", and the unit it is in: "mph".
struct Shown {
  std::string label;
  std::string unit;
  double factor = 1;
  int decimals = 1;
};
Shown shown(const spec::MetricInfo& info, const spec::Requirement& requirement);

// "battery current 150 A, at most 200 A: 50 A inside".
std::string row_text(const rules::Row& row, const spec::Requirement& requirement);

// Text broken into lines of at most `width` columns, each after `indent`.
std::string wrapped(std::string_view text, std::string_view indent, std::size_t width = 96);

}  // namespace sprocketry::report
