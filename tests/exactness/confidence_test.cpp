// The front with confidence against the plainest way to it: every combination of the product
// evaluated whole, all that hold given to `robust` at once, every pair compared.

#include "search/confidence.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "cli/tiny.hpp"
#include "search/robust.hpp"
#include "support/every_combination.hpp"
#include "support/plain_front.hpp"
#include "unit/load_support.hpp"

namespace sprocketry::test {
namespace {

using Overrides = std::vector<std::string>;

struct Loaded {
  Folder folder;
  document::Diagnostics diagnostics;
  spec::WrittenJob written;
  std::optional<spec::Job> job;
  search::Setup setup;
  search::Space space;

  explicit Loaded(const Overrides& overrides) {
    folder.write("bike.yaml", tiny::kTinyRequirement);
    folder.write("parts.yaml", tiny::kTinyParts);
    job = spec::load_job(folder.path() / "bike.yaml", overrides, diagnostics, &written);
    if (!job) throw std::logic_error(diagnostics.text());
    setup = search::make_setup(job->requirement);
    space = search::make_space(*job);
  }
  [[nodiscard]] search::ConfidenceWork work() const { return {*job, written, setup, space}; }
  [[nodiscard]] rules::Selection parts_of(const search::Combination& c) const {
    return search::selection(space, c);
  }
};

struct Feasible {
  std::vector<rules::Selection> designs;
  PointList points;  // without confidence
};

void take_if_feasible(const Loaded& l, const search::Combination& c, Feasible& all) {
  const search::Design design = search::evaluate_design(l.setup, l.space, c);
  if (!design.rejected_by().empty()) return;
  all.designs.push_back(design.parts);
  auto& point = all.points.emplace_back();
  for (const spec::MetricInfo* aim : l.setup.objectives) {
    const double value = aim->value(design.metrics);
    point.push_back(aim->better == spec::Better::kLower ? value : -value);
  }
}

Feasible feasible(const Loaded& l) {
  Feasible all;
  every_combination(l.space, [&](const search::Combination& c) { take_if_feasible(l, c, all); });
  return all;
}

// The ids of a front, each with its confidence in percent.
using Answer = std::set<std::pair<std::string, double>>;

Answer plainly(const Loaded& l, const search::RobustOptions& options) {
  const Feasible all = feasible(l);
  const auto robustness = search::robust(*l.job, l.written, all.designs, options);
  if (!robustness) throw std::logic_error(robustness.error());
  PointList points = all.points;
  for (std::size_t i = 0; i < points.size(); ++i) {
    points[i].push_back(-robustness->designs[i].confidence);
  }
  Answer answer;
  for (const std::size_t i : plain_front(points)) {
    answer.emplace(rules::design_id(all.designs[i]), 100.0 * robustness->designs[i].confidence);
  }
  return answer;
}

search::Front confidently(const Loaded& l, const search::RobustOptions& options) {
  auto front = search::search_confident(l.work(), options, nullptr);
  if (!front) throw std::logic_error(front.error());
  return front->value();
}

void expect_same(const Answer& found, const Answer& expected) {
  ASSERT_EQ(found.size(), expected.size());
  auto at = expected.begin();
  for (const auto& [id, percent] : found) {
    EXPECT_EQ(id, at->first);
    EXPECT_NEAR(percent, at->second, 1e-9);
    ++at;
  }
}

const std::vector<Overrides> kJobs = {
    {},
    {"must.range.min=24km", "must.top_speed.min=70km/h"},
    {"spread.cells.*.capacity.uniform=30 %", "must.range.min=30km"},
    {"spread.bike.mass.normal=20 kg", "spread.rider.mass.normal=15 kg",
     "bike.max_gross_mass=235 kg"},
    {"spread.motors.*.resistance.uniform=50 %", "spread.bike.drag_area.normal=20 %",
     "must.top_speed.min=80km/h"},
    {"spread.bike.centre_distance.min.uniform=12 mm"},
    // What holds no more may be of any stage: electrical, strength and the charger too.
    {"spread.controllers.*.voltage.max.uniform=20 %"},
    {"spread.chains.*.tensile_strength.uniform=95 %"},
    {"spread.motors.*.max_speed.uniform=30 %", "spread.cells.*.current.charge.uniform=60 %"},
    // Points that cannot be: a peak rating below the continuous one.
    {"spread.motors.birch-6.current.peak.uniform=70 %"},
};

TEST(Confidence, GivesTheFrontOfEveryFeasibleDesignOverTheSameSamples) {
  const std::vector<std::string> aims = {"objectives=[pull_away, range, price, confidence]",
                                         "objectives=[confidence, price, range]",
                                         "objectives=[top_speed, mass, confidence]"};
  std::size_t wider = 0;
  std::size_t unsure = 0;
  std::size_t saved = 0;
  std::size_t refused = 0;
  // Each job with two of the three lists of aims.
  for (std::size_t i = 0; i < kJobs.size(); ++i) {
    for (const std::string& aim : {aims[i % 3], aims[(i + 1) % 3]}) {
      SCOPED_TRACE(std::to_string(i) + ' ' + aim);
      Overrides overrides = kJobs[i];
      overrides.push_back(aim);
      const Loaded l(overrides);
      search::RobustOptions options;
      options.samples = 96;
      options.seed = i + 1;
      options.threads = 1 + static_cast<int>(i % 3);
      const search::Front front = confidently(l, options);
      const std::size_t last = l.setup.objectives.size();
      Answer answer;
      for (std::size_t k = 0; k < front.members.size(); ++k) {
        const double percent = -front.objectives[k][last];
        answer.emplace(rules::design_id(l.parts_of(front.members[k])), percent);
        unsure += percent < 100 ? 1U : 0U;
      }
      ASSERT_NO_FATAL_FAILURE(expect_same(answer, plainly(l, options)));
      const search::Front usual = search::search(l.setup, l.space, 1);
      EXPECT_GE(front.members.size(), usual.members.size());
      wider += front.members.size() > usual.members.size() ? 1U : 0U;
      const search::Front all = search::all_feasible(l.setup, l.space, 1, nullptr);
      EXPECT_EQ(front.account.evaluated, all.members.size());
      EXPECT_LE(front.sampling->evaluations, all.members.size() * options.samples);
      saved += all.members.size() * options.samples - front.sampling->evaluations;
      refused += front.sampling->refused;
    }
  }
  // The cases are cases: fronts grow, designs fail, work is saved, points are passed over.
  EXPECT_GT(wider, 5U);
  EXPECT_GT(unsure, 50U);
  EXPECT_GT(saved, 0U);
  EXPECT_GT(refused, 0U);
}

TEST(Confidence, IsTheSameForAnyNumberOfThreads) {
  const Loaded l({"objectives=[pull_away, price, confidence]", "must.range.min=28km"});
  search::RobustOptions options;
  options.samples = 100;
  options.threads = 1;
  const search::Front one = confidently(l, options);
  options.threads = 3;
  const search::Front three = confidently(l, options);
  EXPECT_EQ(one.objectives, three.objectives);
  EXPECT_EQ(one.sampling->evaluations, three.sampling->evaluations);
}

TEST(Confidence, IsNoneWhereSomebodyStopsIt) {
  const Loaded l({"objectives=[pull_away, price, confidence]"});
  search::Watch watch;
  watch.stop = true;
  const auto stopped = search::search_confident(l.work(), {}, &watch);
  ASSERT_TRUE(stopped.has_value());
  EXPECT_FALSE(stopped->has_value());
}

}  // namespace
}  // namespace sprocketry::test
