#include "resolution.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <set>
#include <utility>

#include "complain.hpp"
#include "options.hpp"
#include "units/units.hpp"

namespace sprocketry::cli {
namespace {

using units::Dimension;

// The dimension of a metric's output unit; none for money, for Wh/km, and for temperatures, whose
// differences no text with a unit means.
std::optional<Dimension> dimension_of(std::string_view unit) {
  constexpr std::array<std::pair<std::string_view, Dimension>, 8> kDimensions = {
      {{"s", Dimension::kTime},
       {"h", Dimension::kTime},
       {"km", Dimension::kLength},
       {"km/h", Dimension::kSpeed},
       {"%", Dimension::kRatio},
       {"kg", Dimension::kMass},
       {"A", Dimension::kCurrent},
       {"N", Dimension::kForce}}};
  const auto found =
      std::ranges::find(kDimensions, unit, [](const auto& row) { return row.first; });
  if (found == kDimensions.end()) return std::nullopt;
  return found->second;
}

std::optional<double> plain_number(const std::string& text) {
  double value = 0;
  const auto end = text.data() + text.size();
  const auto read = std::from_chars(text.data(), end, value);
  if (read.ec != std::errc() || read.ptr != end || !std::isfinite(value)) return std::nullopt;
  return value;
}

// A value in the metric's output unit.
std::optional<double> value_of(const std::string& text, const spec::MetricInfo& info) {
  const std::string begin = "--resolution: " + std::string(info.name) + '=' + text + ": ";
  double value = -1;
  if (const auto dimension = dimension_of(info.unit)) {
    const auto quantity = units::parse(text, *dimension);
    if (!quantity) {
      complain(begin + quantity.error().message + "; " + quantity.error().hint);
      return std::nullopt;
    }
    value = units::in_unit(quantity->value, *dimension, info.unit);
  } else if (const auto number = plain_number(text)) {
    value = *number;
  } else {
    complain(begin + "a plain number is expected" +
             (info.unit.empty() ? "" : ", in " + std::string(info.unit)));
    return std::nullopt;
  }
  if (value >= 0) return value;
  complain(begin + "it must not be negative");
  return std::nullopt;
}

std::vector<std::string> items_of(const std::string& text) {
  std::vector<std::string> items(1);
  for (const char c : text) {
    if (c == ',') {
      items.emplace_back();
    } else if (c != ' ' || !items.back().empty()) {
      items.back() += c;
    }
  }
  return items;
}

}  // namespace

std::optional<search::Resolution> read_resolution(const std::string& text,
                                                  const search::Setup& setup) {
  std::vector<std::string> names;
  std::string listed;
  for (const spec::MetricInfo* info : setup.objectives) {
    names.emplace_back(info->name);
    listed += (listed.empty() ? "" : ", ") + names.back();
  }
  search::Resolution resolution{};
  std::set<std::string> seen;
  for (const std::string& item : items_of(text)) {
    const std::size_t equals = item.find('=');
    const std::string name = item.substr(0, equals);
    const auto place = std::ranges::find(names, name);
    if (equals == std::string::npos || place == names.end()) {
      std::string finding = "--resolution: '" + item;
      finding.append("' is not OBJECTIVE=VALUE with an objective of the requirement");
      if (place == names.end()) finding += did_you_mean(name, names);
      complain(finding.append("; they are ").append(listed));
      return std::nullopt;
    }
    if (!seen.insert(name).second) {
      complain("--resolution: " + name + " is given twice");
      return std::nullopt;
    }
    const auto k = static_cast<std::size_t>(place - names.begin());
    const auto value = value_of(item.substr(equals + 1), *setup.objectives[k]);
    if (!value) return std::nullopt;
    resolution[k] = *value;
  }
  return resolution;
}

}  // namespace sprocketry::cli
