// What `robust` says against closed forms, against plain Monte Carlo through the loaders, and
// sample by sample against a requirement that states the sampled values.

#include "search/robust.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <boost/random/mersenne_twister.hpp>
#include <boost/random/normal_distribution.hpp>
#include <boost/random/uniform_real_distribution.hpp>
#include <cmath>
#include <numbers>

#include "cli/tiny.hpp"
#include "search/quasi_random.hpp"
#include "search/rank.hpp"
#include "search/sampled_job.hpp"
#include "search/search.hpp"
#include "unit/load_support.hpp"

namespace sprocketry::test {
namespace {

using search::RobustDesign;
using search::Robustness;

// A job of the tiny requirement, with all that samples are taken from.
class Loads {
 public:
  explicit Loads(const std::vector<std::string>& overrides) : overrides_(overrides) {
    folder_.write("bike.yaml", tiny::kTinyRequirement);
    folder_.write("parts.yaml", tiny::kTinyParts);
    job_ = spec::load_job(folder_.path() / "bike.yaml", overrides_, diagnostics_, &written_);
    if (!job_) throw std::logic_error(diagnostics_.text());
    setup_ = search::make_setup(job_->requirement);
    space_ = search::make_space(*job_);
    front_ = search::search(setup_, space_, 1);
    if (front_.members.empty()) throw std::logic_error("nothing is feasible");
    for (const search::Combination& c : front_.members) {
      designs_.push_back(search::selection(space_, c));
    }
  }

  // The same with further overrides, as a person would state them; the metrics of a design there.
  [[nodiscard]] search::Design evaluate_with(const std::vector<std::string>& more,
                                             std::size_t design) const {
    std::vector<std::string> all = overrides_;
    all.insert(all.end(), more.begin(), more.end());
    document::Diagnostics diagnostics;
    const auto job = spec::load_job(folder_.path() / "bike.yaml", all, diagnostics);
    if (!job) throw std::logic_error(diagnostics.text());
    search::Design found =
        search::evaluate_design(search::make_setup(job->requirement), search::make_space(*job),
                                front_.members[design], links(design));
    // What it points into ends here.
    found.parts = {};
    found.extras.clear();
    return found;
  }

  [[nodiscard]] int links(std::size_t design) const {
    return search::evaluate_design(setup_, space_, front_.members[design]).chain.fit->links;
  }

  [[nodiscard]] Robustness robust(std::size_t count, const search::RobustOptions& options) const {
    const std::span<const rules::Selection> some(designs_.data(), std::min(count, designs_.size()));
    auto result = search::robust(*job_, written_, some, options);
    if (!result) throw std::logic_error(result.error());
    return *result;
  }

  [[nodiscard]] const spec::Job& job() const { return *job_; }
  [[nodiscard]] const spec::WrittenJob& written() const { return written_; }
  [[nodiscard]] const std::vector<rules::Selection>& designs() const { return designs_; }

 private:
  Folder folder_;
  std::vector<std::string> overrides_;
  document::Diagnostics diagnostics_;
  spec::WrittenJob written_;
  std::optional<spec::Job> job_;
  search::Setup setup_;
  search::Space space_;
  search::Front front_;
  std::vector<rules::Selection> designs_;
};

const search::RobustCheck& check_of(const RobustDesign& design, std::string_view rule) {
  const auto found = std::ranges::find_if(
      design.checks, [&](const auto& check) { return check.check.rule->name == rule; });
  if (found == design.checks.end()) throw std::logic_error("not checked: " + std::string(rule));
  return *found;
}

const search::RobustFigure& figure_of(const RobustDesign& design, std::string_view metric) {
  const auto found = std::ranges::find_if(
      design.figures, [&](const auto& figure) { return figure.metric->name == metric; });
  if (found == design.figures.end()) throw std::logic_error("no figure: " + std::string(metric));
  return *found;
}

// The standard normal distribution.
double phi(double x) { return std::erfc(-x / std::numbers::sqrt2) / 2; }

constexpr std::size_t kMany = 4096;

// Gross mass is a sum: with a normal rider and a normal chassis it is normal.
TEST(Robust, ASumOfNormalMassesIsNormal) {
  constexpr double kRider = 5;
  constexpr double kChassis = 3;
  const Loads job({"bike.max_gross_mass=211 kg", "spread.rider.mass.normal=5 kg",
                   "spread.bike.mass.normal=3 kg"});
  const Robustness r = job.robust(5, {.samples = kMany, .usual = false});
  ASSERT_EQ(r.inputs.size(), 2U);
  int unsure = 0;
  for (const RobustDesign& design : r.designs) {
    const search::RobustFigure& mass = figure_of(design, "mass");
    const double deviation = std::hypot(kRider, kChassis);
    const double expected = phi((211 - 80 - mass.stated) / deviation);
    unsure += expected > 0.05 && expected < 0.95 ? 1 : 0;
    EXPECT_NEAR(check_of(design, "gross mass").share, expected, 0.004) << design.id;
    constexpr double kTenth = 1.2815515655446004;
    EXPECT_NEAR(mass.low, mass.stated - kTenth * kChassis, 0.02);
    EXPECT_NEAR(mass.middle, mass.stated, 0.01);
    EXPECT_NEAR(mass.high, mass.stated + kTenth * kChassis, 0.02);
    // Spearman's correlation of two normal variables with the correlation rho is
    // 6/pi asin(rho/2) (Pearson 1907).
    const auto spearman = [](double rho) { return 6 / std::numbers::pi * std::asin(rho / 2); };
    const auto& by = check_of(design, "gross mass").by;
    EXPECT_EQ(r.inputs[0].input.path, "bike.mass");
    EXPECT_NEAR(by[0], -spearman(kChassis / deviation), 0.01);
    EXPECT_NEAR(by[1], -spearman(kRider / deviation), 0.01);
  }
  EXPECT_GT(unsure, 0);
}

TEST(Robust, PricesAreUniformAndTriangularAsStated) {
  const Loads job({"must.price.max=1900", "spread.motors.*.price.uniform=20 %",
                   "spread.controllers.*.price={triangular: {from: 100, to: 500}}"});
  const Robustness uniform = job.robust(1, {.samples = kMany, .usual = false});
  ASSERT_EQ(uniform.inputs.size(), 2U);
  // By sampling the two in another way: a fine grid of both.
  const auto& price = figure_of(uniform.designs[0], "price");
  const double motor = uniform.inputs[1].input.value;
  const double controller = uniform.inputs[0].input.value;
  const double rest = price.stated - motor - controller;
  constexpr int kGrid = 1000;
  double held = 0;
  for (int i = 0; i < kGrid; ++i) {
    const double m = motor * (0.8 + 0.4 * (i + 0.5) / kGrid);
    const double left = 1900 - rest - m;  // what the controller may cost
    const double peak = controller;
    double below = 0;
    if (left >= 500) {
      below = 1;
    } else if (left > peak) {
      below = 1 - (500 - left) * (500 - left) / (400 * (500 - peak));
    } else if (left > 100) {
      below = (left - 100) * (left - 100) / (400 * (peak - 100));
    }
    held += below / kGrid;
  }
  EXPECT_GT(held, 0.02);
  EXPECT_LT(held, 0.98);
  EXPECT_NEAR(check_of(uniform.designs[0], "must price").share, held, 0.004);
}

// Cut off at 0 and at the largest that is believable, the rest in proportion.
TEST(Robust, WhatCannotBeIsDrawnAgain) {
  search::Uncertain u;
  u.input.value = 50;
  u.input.min = 0;
  u.input.max = 5000;
  u.spread.shape = spec::Shape::kNormal;
  u.spread.amount = 50;
  const auto shares = search::quasi_random(kMany, 1, 1)[0];
  const auto values = search::values_at(u, shares);
  double sum = 0;
  for (const double v : values) {
    ASSERT_GE(v, 0);
    sum += v;
  }
  // The mean of a normal variable above a: mu + sigma phi(a)/(1 - Phi(a)), here a = -1.
  const double density = std::exp(-0.5) / std::sqrt(2 * std::numbers::pi);
  EXPECT_NEAR(sum / kMany, 50 + 50 * density / phi(1), 0.05);

  u.input.value = 0.95;
  u.input.max = 1;
  u.spread.shape = spec::Shape::kUniform;
  u.spread.amount = 0.1;
  const auto shared = search::values_at(u, shares);
  EXPECT_GT(std::ranges::min(shared), 0.85);
  EXPECT_LT(std::ranges::min(shared), 0.851);
  EXPECT_LE(std::ranges::max(shared), 1.0);
  EXPECT_GT(std::ranges::max(shared), 0.999);
}

std::vector<std::string> everything() {
  return {"spread.bike.drag_area.normal=10 %",
          "spread.rider.mass.normal=6 kg",
          "spread.bike.mass.uniform=5 kg",
          "spread.conditions.air.uniform=15 K",
          "spread.conditions.headwind.normal=2 m/s",
          "spread.bike.tyre.rollout.uniform=2 %",
          "spread.bike.centre_of_gravity.height.normal=5 %"};
}

// The sampled values written into the requirement give the very same doubles.
TEST(Robust, ASampleIsTheRequirementThatStatesIt) {
  const Loads job(everything());
  const auto inputs = search::find_uncertain(job.job(), job.written().inputs, job.designs(), true);
  ASSERT_GE(inputs.size(), 12U);
  const auto source = search::make_source(job.job(), job.written(), job.designs());
  const auto shares = search::quasi_random(12, inputs.size(), 9);
  for (std::size_t point = 0; point < 12; ++point) {
    parts::Replaced replaced;
    std::vector<std::string> stated;
    for (std::size_t i = 0; i < inputs.size(); ++i) {
      const parts::Input& input = inputs[i].input;
      const double value = search::values_at(inputs[i], shares[i])[point];
      if (input.path != input.pattern) continue;  // --set reaches the requirement alone
      replaced.emplace(input.path, value);
      if (input.path == "bike.tyre.rollout") {
        stated.push_back(
            "bike.tyre={rollout: " + units::print(value, units::Dimension::kLength, "m") + "}");
        continue;
      }
      stated.push_back(
          input.path + "=" +
          (input.dimension
               ? units::print(value, *input.dimension, input.symbol)
               : units::print(value, units::Dimension::kLength, "m")
                     .substr(0, units::print(value, units::Dimension::kLength, "m").size() - 2)));
    }
    std::string why;
    const auto sampled = search::sampled_job(source, replaced, why);
    ASSERT_TRUE(sampled) << why;
    const auto setup = search::make_setup(sampled->requirement);
    const auto space = search::make_space(*sampled);
    const auto places = search::places(space, job.designs());
    for (std::size_t d = 0; d < job.designs().size(); d += 5) {
      const auto mine = search::evaluate_design(setup, space, places[d], job.links(d));
      const auto other = job.evaluate_with(stated, d);
      for (const spec::MetricInfo& info : spec::metric_table()) {
        const double a = info.value(mine.metrics);
        const double b = info.value(other.metrics);
        if (std::isnan(a) && std::isnan(b)) continue;
        EXPECT_EQ(a, b) << info.name << " of design " << d << ", point " << point;
      }
      EXPECT_EQ(mine.rejected_by(), other.rejected_by());
    }
  }
}

TEST(Robust, AsStatedIsWhatEvaluateSays) {
  const Loads job(everything());
  const Robustness r = job.robust(1000, {.samples = 16});
  ASSERT_EQ(r.designs.size(), job.designs().size());
  for (std::size_t d = 0; d < r.designs.size(); ++d) {
    const auto evaluated = job.evaluate_with({}, d);
    EXPECT_TRUE(r.designs[d].holds);  // it is on the front
    for (const search::RobustFigure& figure : r.designs[d].figures) {
      const double value = figure.metric->value(evaluated.metrics);
      if (std::isnan(value) && std::isnan(figure.stated)) continue;
      EXPECT_EQ(figure.stated, value) << figure.metric->name;
    }
  }
}

// Another generator, another library's distributions, and every sample loaded from its text.
TEST(Robust, AgreesWithPlainMonteCarlo) {
  const Loads job({"spread.bike.drag_area.normal=15 %", "spread.rider.mass.normal=10 kg",
                   "spread.conditions.headwind.uniform=5 m/s", "must.top_speed.min=70 km/h",
                   "must.range.min=98 km"});
  constexpr int kPlain = 500;
  constexpr std::size_t kDesigns = 4;
  const Robustness r = job.robust(kDesigns, {.samples = kMany, .usual = false});
  ASSERT_EQ(r.inputs.size(), 3U);
  boost::random::mt19937 words(20);
  boost::random::normal_distribution<double> drag(0.60, 0.09);
  boost::random::normal_distribution<double> rider(80, 10);
  boost::random::uniform_real_distribution<double> wind(-5, 5);
  std::vector<int> held(kDesigns, 0);
  std::vector<std::vector<double>> speeds(kDesigns);
  for (int i = 0; i < kPlain; ++i) {
    const std::vector<std::string> sample = {
        "bike.drag_area=" + units::print(drag(words), units::Dimension::kArea, "m2"),
        "rider.mass=" + units::print(rider(words), units::Dimension::kMass, "kg"),
        "conditions.headwind=" + units::print(wind(words), units::Dimension::kSpeed, "m/s")};
    for (std::size_t d = 0; d < kDesigns; ++d) {
      const auto design = job.evaluate_with(sample, d);
      held[d] += design.rejected_by().empty() ? 1 : 0;
      speeds[d].push_back(spec::find_metric("top_speed")->value(design.metrics));
    }
  }
  int unsure = 0;
  for (std::size_t d = 0; d < kDesigns; ++d) {
    const double share = static_cast<double>(held[d]) / kPlain;
    const double confidence = r.designs[d].confidence;
    unsure += confidence > 0.05 && confidence < 0.95 ? 1 : 0;
    // Four standard errors of a share of so many.
    const double error = std::sqrt(std::max(confidence * (1 - confidence), 0.01) / kPlain);
    EXPECT_NEAR(share, confidence, 4 * error) << r.designs[d].id;
    std::ranges::sort(speeds[d]);
    const auto& speed = figure_of(r.designs[d], "top_speed");
    // Of the plain samples so many lie below each quantile, again within four standard errors.
    for (const auto& [value, level] :
         {std::pair{speed.low, 0.1}, {speed.middle, 0.5}, {speed.high, 0.9}}) {
      const auto below = std::ranges::lower_bound(speeds[d], value) - speeds[d].begin();
      EXPECT_NEAR(static_cast<double>(below) / kPlain, level,
                  4 * std::sqrt(level * (1 - level) / kPlain));
    }
  }
  EXPECT_GT(unsure, 0);
}

// Only parts of its own move a design, each by an independent draw.
TEST(Robust, PartsMoveOnlyTheDesignsThatHaveThem) {
  const Loads job({"spread.cells.*.capacity.uniform=10 %", "objectives=[range, price, pull_away]"});
  const Robustness r = job.robust(1000, {.samples = 256, .usual = false});
  ASSERT_EQ(r.inputs.size(), 2U);
  for (std::size_t d = 0; d < r.designs.size(); ++d) {
    const auto& by = figure_of(r.designs[d], "range").by;
    for (std::size_t i = 0; i < r.inputs.size(); ++i) {
      const bool own =
          r.inputs[i].input.path.starts_with("cells." + job.designs()[d].pack->cell_id + ".");
      EXPECT_NEAR(by[i], own ? 1 : 0, 1e-9);
      EXPECT_NEAR(r.designs[d].weights[i], own ? 1.0 / 3 : 0, 1e-9);  // of three objectives one
    }
  }
}

// An extra that was bought for a full-charge voltage stays bought when that turns out otherwise.
TEST(Robust, WhatWasBoughtStays) {
  const Loads job({"spread.cells.*.full_voltage.uniform=6 %", "choose.pack.series=[16, 17]"});
  const Robustness r = job.robust(1000, {.samples = 64, .usual = false});
  int near_the_limit = 0;
  for (std::size_t d = 0; d < r.designs.size(); ++d) {
    const double full = job.designs()[d].pack->model.full_voltage;
    near_the_limit += std::abs(full / 60 - 1) < 0.04 ? 1 : 0;  // breaker-70 is for 60 V and more
    const auto& price = figure_of(r.designs[d], "price");
    EXPECT_EQ(price.low, price.stated);
    EXPECT_EQ(price.high, price.stated);
    const auto& mass = figure_of(r.designs[d], "mass");
    EXPECT_EQ(mass.low, mass.stated);
    EXPECT_EQ(mass.high, mass.stated);
  }
  EXPECT_GT(near_the_limit, 0);
}

// A peak rating below the continuous one cannot be: the next point is taken.
TEST(Robust, ASampleThatTheLoadersRefuseIsPassedOver) {
  const Loads job({"spread.motors.*.current.continuous={uniform: {from: 90 A, to: 400 A}}"});
  const Robustness r = job.robust(3, {.samples = 200, .usual = false});
  EXPECT_EQ(r.samples, 200U);
  EXPECT_GT(r.refused, 10U);
  const Loads wide({"spread.motors.*.current.continuous={uniform: {from: 321 A, to: 4000 A}}"});
  const std::span<const rules::Selection> one(wide.designs().data(), 1);
  const auto none = search::robust(wide.job(), wide.written(), one, {.samples = 50});
  ASSERT_FALSE(none);
  EXPECT_NE(none.error().find("too wide"), std::string::npos) << none.error();
  EXPECT_NE(none.error().find("`peak` is below `continuous`"), std::string::npos) << none.error();
}

TEST(Robust, DoesNotDependOnThreads) {
  const Loads job(everything());
  const Robustness one = job.robust(6, {.samples = 300, .threads = 1});
  const Robustness three = job.robust(6, {.samples = 300, .threads = 3});
  for (std::size_t d = 0; d < one.designs.size(); ++d) {
    EXPECT_EQ(one.designs[d].confidence, three.designs[d].confidence);
    EXPECT_EQ(one.designs[d].weights, three.designs[d].weights);
    for (std::size_t f = 0; f < one.designs[d].figures.size(); ++f) {
      EXPECT_EQ(one.designs[d].figures[f].by, three.designs[d].figures[f].by);
    }
  }
  const Robustness other = job.robust(6, {.samples = 300, .seed = 2});
  EXPECT_NE(figure_of(one.designs[0], "range").low, figure_of(other.designs[0], "range").low);
}

}  // namespace
}  // namespace sprocketry::test
