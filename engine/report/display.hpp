#pragma once

#include <string>
#include <vector>

#include "rules/rule.hpp"
#include "spec/metrics.hpp"
#include "spec/requirement.hpp"

namespace sprocketry::report {

// A unit that a person reads, and what a number in the output unit is multiplied by to be in it.
struct DisplayUnit {
  std::string symbol;
  double factor = 1;
};

// The person's unit in place of an output unit ("km/h", "km", "kg", "Wh/km", ...): mph, mi, lb and
// Wh/mi where the requirement is written in them; any other symbol stays as it is.
DisplayUnit display_unit(std::string_view symbol, const spec::DisplayUnits& units);

// How a metric reads for this person: what riders call it ("0-50 km/h"), its unit and the factor to
// it, and the decimals that are worth showing.
struct Shown {
  std::string label;
  std::string unit;
  double factor = 1;
  int decimals = 1;
};
Shown shown(const spec::MetricInfo& info, const spec::Requirement& requirement);

// A metric's value in its output unit, rounded, in the unit that is shown; "-" when it does not
// exist.
std::string shown_value(const Shown& shown, double value);

// A figure beside another one of its kind: with as many decimals as show that they differ, and the
// unit. The value of a metric in its output unit, or of a rule in its.
std::string beside(double value, double other, const Shown& shown);
std::string beside(double value, double other, rules::Unit unit,
                   const spec::Requirement& requirement);

// What a demand of `limit` would have to be written as to let `value` through: beside() rounded
// away from the limit, so that who writes it does not miss the value by a rounding. Both in the
// rule's output unit.
std::string giving_way(double value, double limit, rules::Unit unit,
                       const spec::Requirement& requirement);

// Figures of one kind that stand near each other, in the output unit: with as many decimals, at
// least the usual ones of the metric, as tell apart those that differ, and the unit.
class Figures {
 public:
  explicit Figures(const Shown& shown) : shown_(shown), decimals_(shown.decimals) {}
  void add(double value);
  [[nodiscard]] std::string text(double value) const;

 private:
  Shown shown_;
  int decimals_;
  std::vector<double> values_;  // in the unit that is shown
};

// "charger current: 15 A, limit 50 A, 35 A inside", in the requirement's units.
std::string row_text(const rules::Row& row, const spec::Requirement& requirement);

}  // namespace sprocketry::report
