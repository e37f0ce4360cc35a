#include <algorithm>
#include <cmath>

#include "report/compare_report.hpp"
#include "report/figure_label.hpp"

namespace sprocketry::report {
namespace {

using search::Ahead;
using search::BudgetStep;

std::string count_text(std::size_t count, const char* what) {
  return grouped(count) + ' ' + what + (count == 1 ? "" : "s");
}

std::string money(double amount, const spec::Requirement& r) {
  return rounded(amount, 0) + ' ' + r.currency;
}

// "range +12.0 km (78.0 to 90.0)", or "" when the text would not show a change.
std::string change_text(const search::Difference& d, const spec::Requirement& r) {
  const Shown s = shown_figure(d.key, r);
  const std::string from = shown_value(s, d.a);
  const std::string to = shown_value(s, d.b);
  if (from == to) return "";
  const std::string size = shown_change(s, d.a, d.b);
  const std::string unit = s.unit.empty() ? "" : ' ' + s.unit;
  if (size == "-") return s.label + " from " + from + " to " + to + unit;
  return s.label + ' ' + size + unit + " (" + from + " to " + to + ')';
}

// What riders ask of an upgrade first; "" when none of it shows a change.
std::string changes(const CompareAnswer& a) {
  std::string text;
  for (const char* key : {"pull_away_s", "range_km", "top_speed_km_h", "sustained_speed_km_h",
                          "start_grade_percent", "winding_ride_c", "battery_current_peak_a"}) {
    const auto& list = a.comparison.differences;
    const auto found = std::ranges::find(list, key, &search::Difference::key);
    if (found == list.end()) continue;
    const std::string change = change_text(*found, a.a.job->requirement);
    if (!change.empty()) text += (text.empty() ? "" : ", ") + change;
  }
  return text;
}

std::string price_change(const CompareAnswer& a) {
  const auto& list = a.comparison.differences;
  const auto found = std::ranges::find(list, "price", &search::Difference::key);
  const spec::Requirement& r = a.a.job->requirement;
  if (found == list.end() || rounded(found->a, 0) == rounded(found->b, 0)) {
    return "For the same money";
  }
  // Of the rounded prices, so that a reader's own sum comes out.
  const double more = std::round(found->b) - std::round(found->a);
  const std::string both =
      a.running != nullptr ? "" : " (" + rounded(found->a, 0) + " to " + money(found->b, r) + ')';
  return "For " + money(std::abs(more), r) + (more > 0 ? " more" : " less") + both;
}

std::string exchange_text(const CompareAnswer& a) {
  const bool picks = a.a.is_pick && a.b.is_pick;
  const std::string who = picks ? "B gives" : "the balanced design of B gives";
  const std::string what = changes(a);
  return price_change(a) + ' ' + who +
         (what.empty() ? " nothing else that a rider asks first" : ": " + what);
}

// Where the answer turns for good: the budget from which one side is ahead to the end.
std::string flip_text(const CompareAnswer& a) {
  const auto& steps = a.comparison.budget;
  const spec::Requirement& r = a.a.job->requirement;
  const std::string name_a = a.running != nullptr ? "today's bike" : "A";
  if (steps.size() < 2) return "";
  std::size_t last = steps.size() - 1;
  const Ahead winner = steps.back().ahead;
  if (winner != Ahead::kA && winner != Ahead::kB) return "";
  while (last > 0 && steps[last - 1].ahead == winner) --last;
  if (last == 0) return "";
  const bool b = winner == Ahead::kB;
  const BudgetStep& before = steps[last - 1];
  // Rounded up, as in the table: for less there is no such design.
  std::string text = "from " + money(std::ceil(steps[last].budget), r) + " on " +
                     (b ? "B" : name_a) + " is ahead, just below that ";
  if (before.ahead == Ahead::kBoth) return text + "each is ahead in something";
  if (before.ahead == Ahead::kNeither) return text + "they are equal";
  const bool alone = before.a_has != before.b_has;
  if (alone && a.running != nullptr && before.a_has) return text + "there is only today's bike";
  return text + (before.ahead == Ahead::kA ? name_a : "B") +
         (alone ? " alone has a design" : " is ahead");
}

std::string standing_text(const CompareAnswer& a) {
  const auto& c = a.comparison;
  const std::size_t size_a = a.a.front.members.size();
  const std::size_t size_b = a.b.front.members.size();
  if (c.b_dominates(a.a)) {
    return "B is nowhere worse: " +
           (size_a == 1 ? std::string("A's design is beaten by one of B's ")
                        : "each of A's " + count_text(size_a, "design") +
                              " is beaten or matched by one of B's ") +
           grouped(size_b);
  }
  if (c.a_dominates(a.b)) {
    return "A is nowhere worse: " +
           (size_b == 1 ? std::string("B's design is beaten by one of A's ")
                        : "each of B's " + count_text(size_b, "design") +
                              " is beaten or matched by one of A's ") +
           grouped(size_a);
  }
  const std::string flip = flip_text(a);
  return flip.empty() ? "neither side is ahead in everything" : flip;
}

std::string side_name(const CompareAnswer& a, bool first) {
  if (!first) return "B";
  return a.running != nullptr ? "today's bike" : "A";
}

// "; mind that B is rejected by must range, must price", or "".
std::string rejections(const CompareAnswer& a) {
  std::string text;
  for (const bool first : {true, false}) {
    const search::Side& side = first ? a.a : a.b;
    std::string list;
    for (const std::string& rule : side.rejected_by) list += (list.empty() ? "" : ", ") + rule;
    if (!list.empty()) text += "; mind that " + side_name(a, first) + " is rejected by " + list;
  }
  return text;
}

}  // namespace

std::string verdict(const CompareAnswer& a) {
  const bool a_empty = a.a.front.members.empty();
  const bool b_empty = a.b.front.members.empty();
  if (a_empty && b_empty) return "Neither side has a design that meets every rule.";
  if (a_empty || b_empty) {
    const search::Side& other = a_empty ? a.b : a.a;
    const std::string nobody = side_name(a, a_empty) + " has no design that meets every rule";
    if (!other.rejected_by.empty()) return nobody + rejections(a) + '.';
    const std::string name = side_name(a, !a_empty);
    if (other.is_pick) return nobody + "; " + name + " meets them all.";
    return nobody + "; " + name + " has " + grouped(other.front.members.size()) + '.';
  }
  std::string text = exchange_text(a);
  // Two picks are two points: which budget buys which needs no words.
  if (!a.a.is_pick || !a.b.is_pick) text += "; " + standing_text(a);
  text += rejections(a);
  return text + '.';
}

}  // namespace sprocketry::report
