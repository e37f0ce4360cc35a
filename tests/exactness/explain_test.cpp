// What `explain` says against the plainest way to find it out: every combination of the product
// evaluated whole, every set of demands tried.

#include "search/explain.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdlib>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <tuple>
#include <vector>

#include "exactness/random_job.hpp"
#include "search/hitting_set.hpp"
#include "support/every_combination.hpp"

namespace sprocketry::test {
namespace {

using search::Combination;

// One combination as its published rows show it.
struct Judged {
  Combination design;
  std::set<std::string> failed;                   // names of rules
  std::vector<std::size_t> missed;                // demands by number
  std::map<std::size_t, rules::Row> demand_rows;  // of those that could be checked
  bool other_fails = false;
  std::set<std::string> unfit;  // names of rules on a few parts; the rest says nothing then
  double voltage = 0;           // V, nominal
  std::vector<double> aims;     // less is better
  double range = 0;             // m
  parts::Money price = 0;
};

bool pairwise(const rules::Check& check) {
  return check.rule->stage == rules::Stage::kElectrical || check.rule->stage == rules::Stage::kFit;
}

bool gives_way(const rules::Check& check) {
  static const std::set<std::string_view> kFixed = {"must battery_current", "gross mass",
                                                    "objective exists"};
  return check.rule->stage == rules::Stage::kDemand && check.rule->kind == rules::Kind::kReject &&
         !kFixed.contains(check.rule->name);
}

Judged judge(const search::Setup& setup, const search::Space& space, const Combination& design) {
  Judged judged;
  judged.design = design;
  const search::Design whole = search::evaluate_design(setup, space, design);
  judged.range = whole.metrics.performance.range;
  judged.price = whole.metrics.price;
  judged.voltage = whole.parts.pack->model.nominal_voltage;
  for (const spec::MetricInfo* aim : setup.objectives) {
    const double value = aim->value(whole.metrics);
    judged.aims.push_back(aim->better == spec::Better::kLower ? value : -value);
  }
  std::size_t demand = 0;
  for (std::size_t i = 0; i < setup.all.size(); ++i) {
    const rules::Check& check = setup.all[i];
    const rules::Row& row = whole.rows[i];
    const bool demanded = gives_way(check);
    const std::size_t number = demanded ? demand++ : 0;
    if (demanded && !row.unchecked) judged.demand_rows[number] = row;
    if (row.kind != rules::Kind::kReject || row.unchecked || row.holds) continue;
    if (pairwise(check)) judged.unfit.insert(std::string(row.rule));
    judged.failed.insert(std::string(row.rule));
    if (demanded) {
      judged.missed.push_back(number);
    } else {
      judged.other_fails = true;
    }
  }
  return judged;
}

std::vector<Judged> judge_all(const search::Setup& setup, const search::Space& s) {
  std::vector<Judged> all;
  every_combination(s, [&](const Combination& c) { all.push_back(judge(setup, s, c)); });
  return all;
}

std::string id(const search::Space& s, const Combination& c) {
  return rules::design_id(search::selection(s, c));
}

std::vector<Judged> those_that_fit(std::vector<Judged> all) {
  std::erase_if(all, [](const Judged& judged) { return !judged.unfit.empty(); });
  return all;
}

// `all` are the combinations of the product.
void expect_fit_counts(const search::Explanation& e, const std::vector<Judged>& all) {
  std::map<std::string, std::uint64_t> rejects;
  std::map<std::string, std::uint64_t> alone;
  for (const Judged& judged : all) {
    for (const std::string& name : judged.unfit) ++rejects[name];
    if (judged.unfit.size() == 1) ++alone[*judged.unfit.begin()];
  }
  for (const search::RuleCount& count : e.fit_rules) {
    const std::string name(count.rule->name);
    ASSERT_EQ(static_cast<std::uint64_t>(count.rejects), rejects[name]) << name;
    ASSERT_EQ(static_cast<std::uint64_t>(count.alone), alone[name]) << name;
    rejects.erase(name);
  }
  ASSERT_TRUE(rejects.empty()) << rejects.begin()->first;
}

void expect_counts(const search::Explanation& e, const std::vector<Judged>& all) {
  ASSERT_EQ(static_cast<std::uint64_t>(e.compatible), all.size());
  search::Count unfit = 0;
  for (const search::Count count : e.unfit) unfit += count;
  ASSERT_TRUE(unfit + e.compatible == e.combinations);
  std::map<std::string, std::uint64_t> rejects;
  std::map<std::string, std::uint64_t> alone;
  std::uint64_t feasible = 0;
  for (const Judged& judged : all) {
    feasible += judged.failed.empty() ? 1U : 0U;
    for (const std::string& name : judged.failed) ++rejects[name];
    if (judged.failed.size() == 1) ++alone[*judged.failed.begin()];
  }
  ASSERT_EQ(static_cast<std::uint64_t>(e.feasible), feasible);
  for (const search::RuleCount& count : e.rules) {
    const std::string name(count.rule->name);
    ASSERT_EQ(static_cast<std::uint64_t>(count.rejects), rejects[name]) << name;
    ASSERT_EQ(static_cast<std::uint64_t>(count.alone), alone[name]) << name;
    rejects.erase(name);
  }
  // No rule that rejects is left out.
  std::erase_if(rejects, [](const auto& entry) { return entry.second == 0; });
  ASSERT_TRUE(rejects.empty()) << rejects.begin()->first;
}

// How far a row is from being held; less is nearer.
double nearness(const rules::Row& row) {
  const bool at_least = (row.value >= row.limit) == row.holds || row.value == row.limit;
  return at_least ? -row.value : row.value;
}

void expect_reach(const search::Explanation& e, const search::Space& space,
                  const std::vector<Judged>& all) {
  for (std::size_t d = 0; d < e.reach.size(); ++d) {
    std::map<double, const Judged*> best;
    for (const Judged& judged : all) {
      const auto row = judged.demand_rows.find(d);
      if (judged.other_fails || row == judged.demand_rows.end()) continue;
      if (!std::isfinite(row->second.value)) continue;
      const Judged*& now = best[judged.voltage];
      const bool better = now == nullptr || row->second.margin > now->demand_rows.at(d).margin;
      // The margin may round two values to one.
      const bool same = now != nullptr && row->second.margin == now->demand_rows.at(d).margin &&
                        row->second.value != now->demand_rows.at(d).value;
      if (better || (same && nearness(row->second) < nearness(now->demand_rows.at(d)))) {
        now = &judged;
      }
    }
    ASSERT_EQ(e.reach[d].voltages.size(), best.size());
    std::size_t i = 0;
    for (const auto& [voltage, judged] : best) {
      const search::VoltageReach& found = e.reach[d].voltages[i++];
      ASSERT_EQ(found.voltage, voltage);
      ASSERT_EQ(found.row.value, judged->demand_rows.at(d).value);
      ASSERT_EQ(found.row.holds, judged->demand_rows.at(d).holds);
      ASSERT_EQ(id(space, found.design), id(space, judged->design));
    }
  }
}

// The design with the least of a pair of numbers among those that are wanted.
template <typename Wanted, typename Rank>
const Judged* least(const std::vector<Judged>& all, const Wanted& wanted, const Rank& rank) {
  const Judged* best = nullptr;
  for (const Judged& judged : all) {
    if (judged.other_fails || !wanted(judged)) continue;
    if (best == nullptr || rank(judged) < rank(*best)) best = &judged;
  }
  return best;
}

void expect_gain(const search::Gain& gain, const spec::MetricInfo& aim, std::size_t a,
                 std::size_t d, const search::Space& space, const Judged& judged) {
  ASSERT_EQ(gain.demanded, judged.demand_rows.at(d).value);
  ASSERT_EQ(gain.reached, aim.better == spec::Better::kLower ? judged.aims[a] : -judged.aims[a]);
  ASSERT_EQ(id(space, gain.design), id(space, judged.design));
}

// Every demand given up in turn, and given way by one unit. How many bind is added to `bound`.
void expect_ends(const search::Explanation& e, const search::Setup& setup,
                 const search::Space& space, const std::vector<Judged>& all, int& bound) {
  const auto demands = search::demands_to_relax(setup);
  const auto feasible = [](const Judged& j) { return j.failed.empty(); };
  ASSERT_EQ(e.ends.size(), setup.objectives.size());
  for (std::size_t a = 0; a < e.ends.size(); ++a) {
    const search::End& end = e.ends[a];
    const auto aim = [&](const Judged& j) { return j.aims[a]; };
    const Judged* best = least(all, feasible, aim);
    ASSERT_EQ(id(space, end.design), id(space, best->design));
    std::size_t next = 0;
    for (std::size_t d = 0; d < demands.size(); ++d) {
      const auto better = [&](const Judged& j) {
        return j.missed == std::vector{d} && std::isfinite(j.demand_rows.at(d).value) &&
               j.aims[a] < best->aims[a];
      };
      const auto excess = [&](const Judged& j) { return nearness(j.demand_rows.at(d)); };
      const Judged* first =
          least(all, better, [&](const Judged& j) { return std::tuple(excess(j), aim(j)); });
      if (first == nullptr) continue;
      ++bound;
      ASSERT_LT(next, end.binding.size());
      const search::Binding& binding = end.binding[next++];
      ASSERT_EQ(binding.demand.index, demands[d].index);
      ASSERT_EQ(binding.demand.item, demands[d].item);
      ASSERT_EQ(binding.limit, first->demand_rows.at(d).limit);
      ASSERT_EQ(binding.unit, 1.0);
      ASSERT_NO_FATAL_FAILURE(expect_gain(binding.first, *end.aim, a, d, space, *first));
      const auto by_aim = [&](const Judged& j) { return std::tuple(aim(j), excess(j)); };
      ASSERT_NO_FATAL_FAILURE(
          expect_gain(binding.dropped, *end.aim, a, d, space, *least(all, better, by_aim)));
      const auto within_one = [&](const Judged& j) {
        if (!better(j)) return false;
        const rules::Row& row = j.demand_rows.at(d);
        return std::abs(row.value - row.limit) <= 1.0;
      };
      const Judged* once = least(all, within_one, by_aim);
      ASSERT_EQ(binding.once.has_value(), once != nullptr);
      if (once == nullptr) continue;
      ASSERT_NO_FATAL_FAILURE(expect_gain(*binding.once, *end.aim, a, d, space, *once));
    }
    ASSERT_EQ(next, end.binding.size());
  }
}

// The first of the designs that miss this demand alone with the least outside it.
void expect_relaxations(const search::Explanation& e, const search::Space& space,
                        const std::vector<Judged>& all) {
  for (std::size_t d = 0; d < e.relaxations.size(); ++d) {
    const Judged* best = nullptr;
    for (const Judged& judged : all) {
      if (judged.other_fails || judged.missed != std::vector{d}) continue;
      const rules::Row& row = judged.demand_rows.at(d);
      if (!std::isfinite(row.value)) continue;
      const bool nearer =
          best == nullptr ||
          std::abs(row.value - row.limit) < std::abs(best->demand_rows.at(d).value - row.limit);
      if (nearer) best = &judged;
    }
    const search::Relaxation& relaxation = e.relaxations[d];
    ASSERT_EQ(relaxation.design.has_value(), best != nullptr) << relaxation.demand.rule->name;
    if (best == nullptr) continue;
    ASSERT_EQ(relaxation.row->value, best->demand_rows.at(d).value);
    ASSERT_EQ(relaxation.row->limit, best->demand_rows.at(d).limit);
    ASSERT_EQ(id(space, *relaxation.design), id(space, best->design));
  }
}

std::uint64_t mask_of(const Judged& judged) {
  std::uint64_t mask = 0;
  for (const std::size_t demand : judged.missed) mask |= std::uint64_t{1} << demand;
  return mask;
}

bool conflicts(std::uint64_t set, const std::vector<Judged>& all) {
  return std::ranges::all_of(all, [&](const Judged& judged) {
    return judged.other_fails || (mask_of(judged) & set) != 0;
  });
}

void expect_conflict(const search::Explanation& e, const search::Setup& setup,
                     const search::Space& space, const std::vector<Judged>& all) {
  const auto demands = search::demands_to_relax(setup);
  ASSERT_LT(demands.size(), 20U);
  std::uint64_t found = 0;
  for (const rules::Check& check : e.conflict->demands) {
    const auto at = std::ranges::find_if(demands, [&](const rules::Check& demand) {
      return demand.index == check.index && demand.item == check.item;
    });
    ASSERT_NE(at, demands.end());
    found |= std::uint64_t{1} << (at - demands.begin());
  }
  ASSERT_TRUE(conflicts(found, all));
  for (std::uint64_t set = 0; set < std::uint64_t{1} << demands.size(); ++set) {
    if (std::popcount(set) >= std::popcount(found)) continue;
    ASSERT_FALSE(conflicts(set, all)) << set;
  }
  // Each witness holds the others.
  std::size_t number = 0;
  for (std::uint64_t rest = found; rest != 0; rest &= rest - 1, ++number) {
    const auto judged = judge(setup, space, e.conflict->without[number]);
    ASSERT_FALSE(judged.other_fails);
    ASSERT_EQ(mask_of(judged) & found, rest & (~rest + 1));
  }
}

// Asks for the longest range at the least price that the parts give, if any pass the rules: each
// can be had, both seldom.
void ask_for_the_best(spec::Job& job) {
  const search::Setup setup = search::make_setup(job.requirement);
  std::optional<double> range;
  std::optional<parts::Money> price;
  for (const Judged& judged : judge_all(setup, search::make_space(job))) {
    if (judged.other_fails || !std::isfinite(judged.range)) continue;
    range = std::max(range.value_or(judged.range), judged.range);
    price = std::min(price.value_or(judged.price), judged.price);
  }
  if (!range) return;
  job.requirement.must.range = range;
  job.requirement.must.price = price;
}

int cases() {
  const char* asked = std::getenv("SPROCKETRY_EXACTNESS_CASES");
  return asked ? std::atoi(asked) : 2000;
}

TEST(Explain, AgreesWithEveryCombinationOfRandomSpaces) {
  int relaxed = 0;
  int in_conflict = 0;
  int bound = 0;
  for (int i = 0; i < cases(); ++i) {
    SCOPED_TRACE("seed " + std::to_string(i));
    spec::Job job = random_job(static_cast<std::uint64_t>(i));
    if (i % 2 == 1) ask_for_the_best(job);
    const search::Setup setup = search::make_setup(job.requirement);
    const search::Space space = search::make_space(job);
    const auto compatible = search::make_compatible(setup, space);
    const search::Explanation e =
        search::explain(setup, space, compatible, 1 + i % 3, nullptr).value();
    const std::vector<Judged> product = judge_all(setup, space);
    const std::vector<Judged> all = those_that_fit(product);
    ASSERT_NO_FATAL_FAILURE(expect_fit_counts(e, product));
    ASSERT_EQ(e.reach.size(), search::demands_to_relax(setup).size());
    ASSERT_NO_FATAL_FAILURE(expect_reach(e, space, all));
    ASSERT_NO_FATAL_FAILURE(expect_counts(e, all));
    ASSERT_EQ(e.conflict.has_value(), e.feasible == 0);
    if (!e.conflict) {
      ASSERT_TRUE(e.relaxations.empty());
      ASSERT_NO_FATAL_FAILURE(expect_ends(e, setup, space, all, bound));
      continue;
    }
    ASSERT_EQ(e.relaxations.size(), search::demands_to_relax(setup).size());
    ASSERT_NO_FATAL_FAILURE(expect_relaxations(e, space, all));
    ASSERT_NO_FATAL_FAILURE(expect_conflict(e, setup, space, all));
    for (const auto& relaxation : e.relaxations) relaxed += relaxation.design ? 1 : 0;
    in_conflict += e.conflict->demands.size() > 1 ? 1 : 0;
  }
  EXPECT_GT(relaxed * 50, cases());
  EXPECT_GT(in_conflict * 100, cases());
  EXPECT_GT(bound * 30, cases());
}

// Every set tried, in the order of size.
int least_size(const std::vector<std::uint64_t>& masks, int bits) {
  int least = bits;
  for (std::uint64_t set = 0; set < std::uint64_t{1} << bits; ++set) {
    const auto hit = [&](std::uint64_t mask) { return (mask & set) != 0; };
    if (std::ranges::all_of(masks, hit)) least = std::min(least, std::popcount(set));
  }
  return least;
}

TEST(Explain, FindsASmallestHittingSet) {
  std::uint64_t state = 1;
  const auto next = [&] {  // Knuth's MMIX generator
    state = state * 6364136223846793005U + 1442695040888963407U;
    return state >> 33;
  };
  constexpr int kBits = 9;
  for (int i = 0; i < 500; ++i) {
    std::vector<std::uint64_t> masks;
    const std::uint64_t count = next() % 12;
    while (masks.size() < count) {
      if (const std::uint64_t mask = next() & next() & ((1U << kBits) - 1)) masks.push_back(mask);
    }
    const std::uint64_t set = search::smallest_hitting_set(masks);
    for (const std::uint64_t mask : masks) ASSERT_NE(mask & set, 0U);
    ASSERT_EQ(std::popcount(set), least_size(masks, kBits));
  }
}

}  // namespace
}  // namespace sprocketry::test
