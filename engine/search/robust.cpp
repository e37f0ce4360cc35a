#include "search/robust.hpp"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <mutex>
#include <stdexcept>

#include "search/quasi_random.hpp"
#include "search/rank.hpp"
#include "search/robust_sample.hpp"
#include "search/workers.hpp"

namespace sprocketry::search {
namespace {

constexpr double kFar = std::numeric_limits<double>::infinity();

bool stopped(const Watch* watch) { return watch != nullptr && watch->stopped(); }

// The samples that can be, with the input values of each; in the order of the points.
struct Samples {
  std::vector<std::vector<double>> inputs;  // per input a column
  std::vector<Sample> outcomes;
  std::size_t refused = 0;
};

// Evaluates points [begin, end) side by side; nothing where the loaders refuse one, or once it is
// stopped.
std::vector<std::optional<Sample>> evaluate_points(const Plan& plan,
                                                   const std::vector<Uncertain>& inputs,
                                                   const std::vector<std::vector<double>>& values,
                                                   std::size_t begin, std::size_t end,
                                                   Workers& workers, const Watch* watch,
                                                   std::string& why) {
  std::vector<std::optional<Sample>> results(end - begin);
  std::mutex first;
  std::size_t first_refused = end;
  workers.run([&] {
    tbb::parallel_for(begin, end, [&](std::size_t point) {
      if (stopped(watch)) return;
      parts::Replaced replaced;
      for (std::size_t i = 0; i < inputs.size(); ++i) {
        replaced.emplace(inputs[i].input.path, values[i][point]);
      }
      std::string word;
      if (const auto job = sampled_job(plan.source, replaced, word)) {
        results[point - begin] = evaluate_all(plan, *job);
        return;
      }
      const std::scoped_lock lock(first);
      if (point < first_refused) {
        first_refused = point;
        why = word;
      }
    });
  });
  return results;
}

// Takes so many samples; fewer when more points are refused than taken.
Samples take(const Plan& plan, const std::vector<Uncertain>& inputs, const RobustOptions& options,
             const Watch* watch, std::string& why) {
  Samples samples;
  samples.inputs.resize(inputs.size());
  Workers workers(options.threads);
  std::size_t tried = 0;
  while (!stopped(watch) && samples.outcomes.size() < options.samples &&
         tried < 2 * options.samples) {
    const std::size_t end =
        std::min(tried + options.samples - samples.outcomes.size(), 2 * options.samples);
    const auto shares = quasi_random(end, inputs.size(), options.seed);
    std::vector<std::vector<double>> values;
    for (std::size_t i = 0; i < inputs.size(); ++i) {
      values.push_back(values_at(inputs[i], shares[i]));
    }
    std::string word;
    auto results = evaluate_points(plan, inputs, values, tried, end, workers, watch, word);
    if (why.empty()) why = word;
    for (std::size_t r = 0; r < results.size(); ++r) {
      if (!results[r]) {
        ++samples.refused;
        continue;
      }
      for (std::size_t i = 0; i < inputs.size(); ++i) {
        samples.inputs[i].push_back(values[i][tried + r]);
      }
      samples.outcomes.push_back(std::move(*results[r]));
    }
    tried = end;
  }
  return samples;
}

// The column of one number over all samples.
template <typename Number>
std::vector<double> column(const Samples& samples, std::size_t design, const Number& number) {
  std::vector<double> values;
  values.reserve(samples.outcomes.size());
  for (const Sample& sample : samples.outcomes) values.push_back(number(sample[design]));
  return values;
}

// What all designs are judged with.
struct Study {
  const Samples& samples;
  std::vector<std::vector<double>> input_ranks;
  std::span<const rules::Selection> designs;
  const std::vector<Uncertain>& inputs;
  std::span<const rules::Check> rejecting;
  const spec::Requirement& requirement;
};

std::vector<double> correlations(const Study& study, std::size_t design,
                                 std::span<const double> values) {
  const std::vector<double> ranks = unit_ranks(values);
  std::vector<double> by;
  for (std::size_t i = 0; i < study.inputs.size(); ++i) {
    by.push_back(concerns(study.inputs[i].input, study.designs[design])
                     ? rank_correlation(study.input_ranks[i], ranks)
                     : 0.0);
  }
  return by;
}

std::vector<RobustCheck> judge_checks(const Study& study, std::size_t design,
                                      const Outcome& stated) {
  std::vector<RobustCheck> checks;
  const auto count = static_cast<double>(study.samples.outcomes.size());
  for (std::size_t k = 0; k < study.rejecting.size(); ++k) {
    const auto number_of = [&](const std::vector<bool> Outcome::*flags) {
      return std::ranges::count_if(study.samples.outcomes,
                                   [&](const Sample& s) { return (s[design].*flags)[k]; });
    };
    if (number_of(&Outcome::checked) == 0 && !stated.checked[k]) continue;
    const rules::Check& check = study.rejecting[k];
    RobustCheck result;
    result.check = check;
    if (check.rule->about) result.about = check.rule->about(study.requirement, check.item);
    result.holds = !stated.rejects[k];
    result.share = 1 - static_cast<double>(number_of(&Outcome::rejects)) / count;
    result.by =
        correlations(study, design,
                     column(study.samples, design, [&](const Outcome& o) { return o.margins[k]; }));
    checks.push_back(std::move(result));
  }
  return checks;
}

double none_if_infinite(double value) { return std::isinf(value) ? model::kNone : value; }

std::vector<RobustFigure> judge_figures(const Study& study, std::size_t design,
                                        const Outcome& stated) {
  std::vector<RobustFigure> figures;
  const auto table = spec::metric_table();
  for (std::size_t m = 0; m < table.size(); ++m) {
    const double worst = table[m].better == spec::Better::kLower ? kFar : -kFar;
    std::vector<double> values = column(study.samples, design, [&](const Outcome& o) {
      return std::isnan(o.metrics[m]) ? worst : o.metrics[m];
    });
    const bool exists = std::ranges::any_of(values, [](double v) { return std::isfinite(v); });
    if (!exists && std::isnan(stated.metrics[m])) continue;
    RobustFigure figure;
    figure.metric = &table[m];
    figure.stated = stated.metrics[m];
    figure.by = correlations(study, design, values);
    std::ranges::sort(values);
    figure.low = none_if_infinite(quantile(values, 0.1));
    figure.middle = none_if_infinite(quantile(values, 0.5));
    figure.high = none_if_infinite(quantile(values, 0.9));
    figures.push_back(std::move(figure));
  }
  return figures;
}

// See RobustDesign::weights.
std::vector<double> weights_of(const Study& study, const RobustDesign& design) {
  std::vector<double> weights(study.inputs.size(), 0.0);
  double sum = 0;
  const auto add = [&](double weight, const std::vector<double>& by) {
    sum += weight;
    for (std::size_t i = 0; i < by.size(); ++i) weights[i] += weight * by[i] * by[i];
  };
  for (const RobustCheck& check : design.checks) {
    if (check.share < 1) add(1 - check.share, check.by);
  }
  if (sum == 0) {
    for (const RobustFigure& figure : design.figures) {
      if (std::ranges::find(study.requirement.objectives, figure.metric->name) !=
          study.requirement.objectives.end()) {
        add(1, figure.by);
      }
    }
  }
  for (double& weight : weights) weight = sum > 0 ? weight / sum : 0.0;
  return weights;
}

RobustDesign judge(const Study& study, std::size_t design, const Outcome& stated) {
  RobustDesign result;
  result.id = rules::design_id(study.designs[design]);
  const auto holds = [](const Outcome& o) { return std::ranges::count(o.rejects, true) == 0; };
  result.holds = holds(stated);
  const auto all = std::ranges::count_if(study.samples.outcomes,
                                         [&](const Sample& s) { return holds(s[design]); });
  result.confidence = static_cast<double>(all) / static_cast<double>(study.samples.outcomes.size());
  result.checks = judge_checks(study, design, stated);
  result.figures = judge_figures(study, design, stated);
  result.weights = weights_of(study, result);
  return result;
}

}  // namespace

std::optional<std::string> wrong_inputs(const std::vector<Uncertain>& inputs,
                                        const RobustOptions& options) {
  if (inputs.empty()) {
    return "nothing is uncertain: `spread` names no input of these designs" +
           std::string(options.usual ? ", and no value was assumed that has a usual spread"
                                     : ", and the usual spreads of assumed values are left out") +
           "\nWrite for example --set 'spread.bike.drag_area.normal=10 %'";
  }
  if (inputs.size() <= kMostDimensions) return std::nullopt;
  return std::to_string(inputs.size()) + " inputs are uncertain; at most " +
         std::to_string(kMostDimensions) +
         " can be\nName fewer under `spread`, or one design with --pick.";
}

std::string too_wide(std::size_t taken, std::size_t refused, const std::string& why) {
  return "the spreads are too wide: of " + std::to_string(taken + refused) + " samples " +
         std::to_string(refused) + " cannot be, the first because " + why +
         "\nNarrow the spreads that it names.";
}

tl::expected<Robustness, std::string> robust(const spec::Job& job, const spec::WrittenJob& written,
                                             std::span<const rules::Selection> designs,
                                             const RobustOptions& options, const Watch* watch) {
  Robustness result;
  result.inputs = find_uncertain(job, written.inputs, designs, options.usual);
  if (const auto error = wrong_inputs(result.inputs, options)) return tl::unexpected(*error);
  const Plan plan = make_plan(job, written, designs);
  std::string why;
  const Samples samples = take(plan, result.inputs, options, watch, why);
  result.stopped = stopped(watch);
  if (result.stopped) return result;
  result.samples = samples.outcomes.size();
  result.refused = samples.refused;
  if (result.samples < options.samples) {
    return tl::unexpected(too_wide(result.samples, result.refused, why));
  }
  Study study{samples, {}, designs, result.inputs, plan.rejecting, job.requirement};
  for (const std::vector<double>& values : samples.inputs) {
    study.input_ranks.push_back(unit_ranks(values));
  }
  result.designs.resize(designs.size());
  Workers workers(options.threads);
  workers.run([&] {
    tbb::parallel_for(std::size_t{0}, designs.size(), [&](std::size_t i) {
      if (!stopped(watch)) result.designs[i] = judge(study, i, plan.stated[i]);
    });
  });
  result.stopped = stopped(watch);
  return result;
}

}  // namespace sprocketry::search
