#pragma once

#include <span>

#include "rules/rule.hpp"

namespace sprocketry::rules {

// The rules of each stage in published order; rule_table() joins them.
std::span<const Rule> electrical_rules();
std::span<const Rule> room_rules();
std::span<const Rule> fit_rules();
std::span<const Rule> adjustment_rules();
std::span<const Rule> strength_rules();
std::span<const Rule> hub_rules();
std::span<const Rule> chain_line_rules();
std::span<const Rule> riding_rules();
std::span<const Rule> demand_rules();

// For rules that always have one item.
inline std::size_t one_item(const spec::Requirement&) { return 1; }

inline Finding at_most(double value, double limit) {
  return {value, limit, Sense::kAtMost, nullptr, Lack::kField};
}
inline Finding at_least(double value, double limit) {
  return {value, limit, Sense::kAtLeast, nullptr, Lack::kField};
}
inline Finding equal(double value, double limit) {
  return {value, limit, Sense::kEqual, nullptr, Lack::kField};
}
// A yes-or-no check: 1 is yes.
inline Finding must_be(bool holds) {
  return {holds ? 1.0 : 0.0, 1.0, Sense::kAtLeast, nullptr, Lack::kField};
}
inline Finding not_given(const char* field) {
  Finding finding;
  finding.missing = field;
  return finding;
}
inline Finding not_reached(const char* speed) {
  Finding finding = not_given(speed);
  finding.lack = Lack::kSpeed;
  return finding;
}
// A check that cannot be made, with the clause that says why.
inline Finding not_checkable(const char* reason) {
  Finding finding = not_given(reason);
  finding.lack = Lack::kReason;
  return finding;
}

}  // namespace sprocketry::rules
