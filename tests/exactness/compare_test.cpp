// Comparisons against two enumerations of everything: every combination of either side evaluated
// whole, all pairs compared, the best at every budget looked up among all that pass, and the price
// of every upgrade added up part by part.

#include "search/compare.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <limits>

#include "exactness/random_job.hpp"
#include "search/upgrade.hpp"
#include "support/every_combination.hpp"

namespace sprocketry::test {
namespace {

using search::Ahead;

// A design that passes every rule: its price, the aims of its own side and those that are compared,
// all to be made small.
struct Plain {
  std::string id;
  double price = 0;
  std::vector<double> own;
  std::vector<double> aims;
  search::Design design;
};

double small(const spec::MetricInfo& info, const spec::Metrics& metrics) {
  const double value = info.value(metrics);
  return info.better == spec::Better::kLower ? value : -value;
}

std::vector<Plain> everything(const search::Setup& setup, const search::Space& s,
                              const std::vector<const spec::MetricInfo*>& aims) {
  std::vector<Plain> list;
  every_combination(s, [&](const search::Combination& c) {
    Plain one;
    one.design = search::evaluate_design(setup, s, c);
    if (!one.design.rejected_by().empty()) return;
    one.id = rules::design_id(one.design.parts);
    one.price = spec::find_metric("price")->value(one.design.metrics);
    for (const auto* info : setup.objectives) one.own.push_back(small(*info, one.design.metrics));
    for (const auto* info : aims) one.aims.push_back(small(*info, one.design.metrics));
    list.push_back(std::move(one));
  });
  return list;
}

bool beats(const std::vector<double>& a, const std::vector<double>& b) {
  bool better = false;
  for (std::size_t k = 0; k < a.size(); ++k) {
    if (a[k] > b[k]) return false;
    better = better || a[k] < b[k];
  }
  return better;
}

std::vector<Plain> front_of(const std::vector<Plain>& all) {
  std::vector<Plain> front;
  for (const Plain& one : all) {
    if (std::ranges::none_of(all, [&](const Plain& o) { return beats(o.own, one.own); })) {
      front.push_back(one);
    }
  }
  return front;
}

search::Standing standing(const std::vector<Plain>& own, const std::vector<Plain>& other) {
  search::Standing result;
  for (const Plain& one : own) {
    if (std::ranges::any_of(other, [&](const Plain& o) { return beats(o.aims, one.aims); })) {
      ++result.beaten;
    } else if (std::ranges::any_of(other, [&](const Plain& o) { return o.aims == one.aims; })) {
      ++result.matched;
    }
  }
  return result;
}

double best(const std::vector<Plain>& all, double budget, std::size_t k) {
  double value = std::numeric_limits<double>::infinity();
  for (const Plain& one : all) {
    if (one.price <= budget) value = std::min(value, one.aims[k]);
  }
  return value;
}

bool has(const std::vector<Plain>& all, double budget) {
  return std::ranges::any_of(all, [&](const Plain& one) { return one.price <= budget; });
}

// The other side: the same wishes with other parts prices, fewer motors, or less to demand.
spec::Job varied(const spec::Job& job, int i) {
  spec::Job other = job;
  for (auto& controller : other.catalogue.controllers) {
    controller.price = i % 2 == 0 ? controller.price * 2 : controller.price / 2;
  }
  if (i % 3 == 0 && other.catalogue.motors.size() > 1) {
    other.requirement.choose.motors = {other.catalogue.motors.front().id};
  }
  if (i % 3 == 1) other.requirement.must = {};
  if (i % 5 == 0) other.requirement.bike.mass *= 0.8;
  return other;
}

void expect_budget(const search::Comparison& comparison, const std::vector<Plain>& a,
                   const std::vector<Plain>& b, const std::vector<const spec::MetricInfo*>& infos) {
  std::vector<double> budgets;
  budgets.reserve(a.size() + b.size());
  for (const Plain& one : a) budgets.push_back(one.price);
  for (const Plain& one : b) budgets.push_back(one.price);
  std::ranges::sort(budgets);
  ASSERT_EQ(comparison.budget.empty(), budgets.empty());
  for (const double budget : budgets) {
    const auto after =
        std::ranges::upper_bound(comparison.budget, budget, {}, &search::BudgetStep::budget);
    ASSERT_NE(after, comparison.budget.begin()) << budget;
    const search::BudgetStep& step = *std::prev(after);
    ASSERT_EQ(step.a_has, has(a, budget)) << budget;
    ASSERT_EQ(step.b_has, has(b, budget)) << budget;
    std::size_t column = 0;
    for (std::size_t k = 0; k < infos.size(); ++k) {
      if (infos[k]->name == "price") continue;
      const double one = best(a, budget, k);
      const double other = best(b, budget, k);
      const Ahead lead = one == other ? Ahead::kNeither : one < other ? Ahead::kA : Ahead::kB;
      ASSERT_EQ(step.leads[column], lead) << budget << ' ' << infos[k]->name;
      if (step.budget == budget) {
        const double sign = infos[k]->better == spec::Better::kLower ? 1 : -1;
        if (step.a_has) {
          ASSERT_EQ(step.a[column], sign * one + 0.0);
        }
        if (step.b_has) {
          ASSERT_EQ(step.b[column], sign * other + 0.0);
        }
      }
      ++column;
    }
  }
}

int cases() {
  const char* asked = std::getenv("SPROCKETRY_EXACTNESS_CASES");
  return asked ? std::atoi(asked) / 5 : 400;
}

TEST(Compare, AgreesWithTwoEnumerations) {
  int fronts = 0;
  int steps = 0;
  for (int i = 0; i < cases(); ++i) {
    SCOPED_TRACE("seed " + std::to_string(i));
    const spec::Job job = random_job(static_cast<std::uint64_t>(i));
    const auto a = search::make_side(std::make_unique<spec::Job>(job), {}, nullptr, 1);
    const auto b = search::make_side(std::make_unique<spec::Job>(varied(job, i)), {}, nullptr, 1);
    ASSERT_TRUE(a && b);
    const auto comparison = search::compare(*a, *b);
    ASSERT_TRUE(comparison);
    const auto all_a = everything(a->setup, a->space, comparison->aims);
    const auto all_b = everything(b->setup, b->space, comparison->aims);
    const auto front_a = front_of(all_a);
    const auto front_b = front_of(all_b);
    ASSERT_EQ(a->front.members.size(), front_a.size());
    ASSERT_EQ(b->front.members.size(), front_b.size());
    const search::Standing of_a = standing(front_a, front_b);
    const search::Standing of_b = standing(front_b, front_a);
    ASSERT_EQ(comparison->a.beaten, of_a.beaten);
    ASSERT_EQ(comparison->a.matched, of_a.matched);
    ASSERT_EQ(comparison->b.beaten, of_b.beaten);
    ASSERT_EQ(comparison->b.matched, of_b.matched);
    ASSERT_EQ(comparison->b_dominates(*a),
              of_a.beaten > 0 && of_a.beaten + of_a.matched == front_a.size());
    const bool priced =
        std::ranges::find(job.requirement.objectives, "price") != job.requirement.objectives.end();
    const bool others = comparison->aims.size() > (priced ? 1U : 0U);
    ASSERT_EQ(comparison->budget_known,
              others && (priced || job.requirement.objectives.size() < 6));
    if (comparison->budget_known) expect_budget(*comparison, all_a, all_b, comparison->aims);
    fronts += !front_a.empty() && !front_b.empty() ? 1 : 0;
    steps += static_cast<int>(comparison->budget.size());
  }
  EXPECT_GT(fronts * 6, cases());
  EXPECT_GT(steps, cases() / 3);
}

// What a design costs somebody whose bike runs with other parts, added up from the catalogue.
parts::Money cost(const spec::Requirement& requirement, const search::Design& running,
                  const search::Design& d) {
  const auto& owned = requirement.owned;
  const auto is_owned = [&](const std::string& id) {
    return std::ranges::find(owned, id) != owned.end();
  };
  const auto part = [&](const auto& now, const auto& then) -> parts::Money {
    return now.id == then.id || is_owned(now.id) ? 0 : now.price;
  };
  const auto sprocket = [&](const auto& now, int teeth, const auto& then,
                            int then_teeth) -> parts::Money {
    if (now.id == then.id && teeth == then_teeth) return 0;
    const bool is = is_owned(now.id) || is_owned(now.id + ':' + std::to_string(teeth));
    return (is ? 0 : now.price.base + now.price.per_tooth * teeth) + now.fabrication;
  };
  const rules::Selection& a = running.parts;
  const rules::Selection& b = d.parts;
  parts::Money sum = part(*b.motor, *a.motor) + part(*b.controller, *a.controller);
  if (!is_owned(b.pack->cell_id)) sum += part(*b.pack, *a.pack);
  if (b.charger != nullptr) sum += a.charger ? part(*b.charger, *a.charger) : b.charger->price;
  if (b.charger != nullptr && !a.charger && is_owned(b.charger->id)) sum -= b.charger->price;
  const int links = d.chain.fit->links;
  const bool stays = b.chain->id == a.chain->id && links <= running.chain.fit->links;
  if (!stays && !is_owned(b.chain->id)) {
    const int box = b.chain->box_links;
    sum += b.chain->price * (box == 0 ? links : (links + box - 1) / box);
  }
  sum += sprocket(*b.front, b.front_teeth, *a.front, a.front_teeth);
  sum += sprocket(*b.rear, b.rear_teeth, *a.rear, a.rear_teeth);
  for (const parts::Extra* extra : d.extras) {
    const bool there =
        std::ranges::any_of(running.extras, [&](const auto* one) { return one->id == extra->id; });
    if (!there && !is_owned(extra->id)) sum += extra->price;
  }
  return sum;
}

TEST(Compare, PricesEveryUpgradeByWhatIsNotThereYet) {
  int upgrades = 0;
  for (int i = 0; i < cases(); ++i) {
    SCOPED_TRACE("seed " + std::to_string(i));
    const spec::Job job = random_job(static_cast<std::uint64_t>(i));
    const auto before = search::make_side(std::make_unique<spec::Job>(job), {}, nullptr, 1);
    ASSERT_TRUE(before);
    if (before->front.members.empty()) continue;
    const std::string today = rules::design_id(before->design(0).parts);
    const auto running = search::make_running(std::make_unique<spec::Job>(job), {today});
    ASSERT_TRUE(running) << running.error();
    spec::Job wished = job;
    wished.requirement.must.price.reset();
    const auto side = search::make_side(std::make_unique<spec::Job>(wished), {}, &*running, 1);
    ASSERT_TRUE(side);
    for (std::size_t m = 0; m < side->front.members.size(); ++m) {
      const search::Upgrade upgrade = search::upgrade_to(*running, *side, m);
      const search::Design design = side->design(m);
      ASSERT_EQ(upgrade.price, cost(wished.requirement, running->design, design));
      parts::Money listed = 0;
      for (const auto& one : upgrade.exchanged) listed += one.price;
      for (const auto& one : upgrade.bought) listed += one.price;
      ASSERT_EQ(upgrade.price, listed) << upgrade.design;
      ASSERT_EQ(upgrade.exchanged.size() + upgrade.kept.size() + upgrade.bought.size(),
                7 + design.extras.size());
      ++upgrades;
    }
    // Staying as it is costs nothing.
    const auto same = search::make_side(std::make_unique<spec::Job>(job), {today}, &*running, 1);
    ASSERT_TRUE(same);
    ASSERT_EQ(same->design(0).metrics.price, 0);
    ASSERT_TRUE(search::upgrade_to(*running, *same, 0).exchanged.empty());
  }
  EXPECT_GT(upgrades, cases());
}

}  // namespace
}  // namespace sprocketry::test
