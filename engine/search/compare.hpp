#pragma once

#include <string>
#include <vector>

#include "search/lock.hpp"
#include "search/side.hpp"

namespace sprocketry::search {

// Which side is ahead.
enum class Ahead { kNeither, kA, kB, kBoth };  // kBoth: each in something

// How the designs of one side fare against those of the other, by the common aims.
struct Standing {
  std::size_t beaten = 0;   // some design of the other side is nowhere worse and somewhere better
  std::size_t matched = 0;  // not beaten, and one is equal in every aim
};

// From a budget on (to the next step), what each side offers for at most so much.
struct BudgetStep {
  double budget = 0;  // the price of a design of one side, in the currency
  bool a_has = false;
  bool b_has = false;
  // The best of each common aim besides price in output units; NaN when that side has nothing.
  std::vector<double> a;
  std::vector<double> b;
  std::vector<Ahead> leads;  // per aim; kNeither: equal
  Ahead ahead = Ahead::kNeither;
};

// A figure of one design beside that of another.
struct Difference {
  std::string key;
  double a = model::kNone;
  double b = model::kNone;
};

// A question that the two requirements put differently. Its figures beside each other would say
// nothing.
struct AskedDifferently {
  std::string question;  // "pull_away": the speed of the time from rest; "ride"; "cruise", "climbs"
  std::string a;         // "40 km/h", "r40-urban", "12 % at 15 km/h for 120 s", "none"
  std::string b;
};

struct Comparison {
  std::vector<const spec::MetricInfo*> aims;  // common to both sides, in the order of A
  Standing a;
  Standing b;
  std::vector<BudgetStep> budget;  // ascending; steps where nothing changes hands are left out
  bool budget_known = false;       // false: price is no aim and there was no room for it
  // The balanced design of each side (of a pick the pick), when it has one.
  std::optional<std::size_t> a_balanced;
  std::optional<std::size_t> b_balanced;
  std::vector<Difference> differences;  // between these two; empty when one is missing
  std::vector<AskedDifferently> asked_differently;

  [[nodiscard]] bool asks_differently(std::string_view question) const;

  // Whether no design of A is left that one of B does not beat or match, and one is beaten.
  [[nodiscard]] bool b_dominates(const Side& side_a) const;
  [[nodiscard]] bool a_dominates(const Side& side_b) const;
};

// Why two requirements cannot be compared, for a person: prices in two currencies. Known before
// anything is searched.
std::optional<std::string> not_comparable(const spec::Requirement& a, const spec::Requirement& b);

// Compares two sides. The error is for a person: no common aim, or not_comparable(). Figures that
// were asked differently are left out of the differences and of the aims.
tl::expected<Comparison, std::string> compare(const Side& a, const Side& b);

// The figures of two designs beside each other, in the order of the first; a cruise, acceleration
// or climb only where both sides ask the same of it.
std::vector<Difference> differences_of(const Design& a, const Design& b);

}  // namespace sprocketry::search
