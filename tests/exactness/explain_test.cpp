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
#include <vector>

#include "exactness/random_job.hpp"
#include "search/hitting_set.hpp"

namespace sprocketry::test {
namespace {

using search::Combination;

// One combination as its published rows show it.
struct Judged {
  Combination design;
  std::set<std::string> failed;                   // names of rules
  std::vector<std::size_t> missed;                // demands by number
  std::map<std::size_t, rules::Row> demand_rows;  // of the missed ones
  bool other_fails = false;
  double range = 0;  // m
  parts::Money price = 0;
};

bool pairwise(const rules::Check& check) {
  return check.rule->stage == rules::Stage::kElectrical || check.rule->stage == rules::Stage::kFit;
}

bool gives_way(const rules::Check& check) {
  static const std::set<std::string_view> kFixed = {"must battery_current", "gross mass",
                                                    "objective exists"};
  return check.rule->stage == rules::Stage::kDemand && !kFixed.contains(check.rule->name);
}

// Nothing when a rule on a few parts rejects it.
std::optional<Judged> judge(const search::Setup& setup, const search::Space& space,
                            const Combination& design) {
  Judged judged;
  judged.design = design;
  const search::Design whole = search::evaluate_design(setup, space, design);
  judged.range = whole.metrics.performance.range;
  judged.price = whole.metrics.price;
  std::size_t demand = 0;
  for (std::size_t i = 0; i < setup.all.size(); ++i) {
    const rules::Check& check = setup.all[i];
    const rules::Row& row = whole.rows[i];
    const bool demanded = gives_way(check);
    const std::size_t number = demanded ? demand++ : 0;
    if (row.kind != rules::Kind::kReject || row.unchecked || row.holds) continue;
    if (pairwise(check)) return std::nullopt;
    judged.failed.insert(std::string(row.rule));
    if (demanded) {
      judged.missed.push_back(number);
      judged.demand_rows[number] = row;
    } else {
      judged.other_fails = true;
    }
  }
  return judged;
}

std::vector<Judged> judge_all(const search::Setup& setup, const search::Space& s) {
  std::vector<Judged> all;
  for (std::size_t m = 0; m < s.motors.size(); ++m)
    for (std::size_t c = 0; c < s.controllers.size(); ++c)
      for (std::size_t p = 0; p < s.packs.size(); ++p)
        for (std::size_t h = 0; h < s.chargers.size(); ++h)
          for (std::size_t k = 0; k < s.chains.size(); ++k)
            for (std::size_t f = 0; f < s.fronts.size(); ++f)
              for (std::size_t r = 0; r < s.rears.size(); ++r) {
                if (auto judged = judge(setup, s, {m, c, p, h, k, f, r})) all.push_back(*judged);
              }
  return all;
}

std::string id(const search::Space& s, const Combination& c) {
  return rules::design_id(
      search::selection(s, c.motor, c.controller, c.pack, c.charger, c.chain, c.front, c.rear));
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
    ASSERT_TRUE(judged && !judged->other_fails);
    ASSERT_EQ(mask_of(*judged) & found, rest & (~rest + 1));
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
  for (int i = 0; i < cases(); ++i) {
    SCOPED_TRACE("seed " + std::to_string(i));
    spec::Job job = random_job(static_cast<std::uint64_t>(i));
    if (i % 2 == 1) ask_for_the_best(job);
    const search::Setup setup = search::make_setup(job.requirement);
    const search::Space space = search::make_space(job);
    const auto compatible = search::make_compatible(setup, space);
    const search::Explanation e = search::explain(setup, space, compatible, 1 + i % 3);
    const std::vector<Judged> all = judge_all(setup, space);
    ASSERT_NO_FATAL_FAILURE(expect_counts(e, all));
    ASSERT_EQ(e.conflict.has_value(), e.feasible == 0);
    if (!e.conflict) {
      ASSERT_TRUE(e.relaxations.empty());
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
