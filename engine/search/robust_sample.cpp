#include "search/robust_sample.hpp"

#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <stdexcept>

#include "search/evaluator.hpp"

namespace sprocketry::search {
namespace {

constexpr double kFar = std::numeric_limits<double>::infinity();

Outcome outcome_of(const std::vector<rules::Check>& rejecting, const rules::Context& context) {
  Outcome outcome;
  outcome.metrics.reserve(spec::metric_table().size());
  for (const spec::MetricInfo& info : spec::metric_table()) {
    outcome.metrics.push_back(info.value(context.metrics));
  }
  outcome.margins.reserve(rejecting.size());
  outcome.rejects.reserve(rejecting.size());
  outcome.checked.reserve(rejecting.size());
  for (const rules::Check& check : rejecting) {
    const rules::Finding finding = check.rule->check(context, check.item);
    const bool checked = !finding.unchecked();
    const bool rejects = checked && !finding.holds();
    const double margin = checked ? finding.margin() : kFar;
    const double none = rejects ? -kFar : kFar;
    outcome.margins.push_back(std::isnan(margin) ? none : margin);
    outcome.rejects.push_back(rejects);
    outcome.checked.push_back(checked);
  }
  return outcome;
}

std::vector<rules::Check> rejecting_checks(const spec::Requirement& requirement) {
  std::vector<rules::Check> checks = rules::active_checks(requirement);
  std::erase_if(checks,
                [](const rules::Check& check) { return check.rule->kind != rules::Kind::kReject; });
  return checks;
}

std::vector<std::optional<int>> bought_links(const spec::Requirement& requirement,
                                             std::span<const rules::Selection> designs) {
  std::vector<std::optional<int>> links;
  for (const rules::Selection& d : designs) {
    const auto run = chain_run(requirement, d.chain->model, d.front_teeth, d.rear_teeth);
    links.push_back(run.fit ? std::optional(run.fit->links) : std::nullopt);
  }
  return links;
}

std::vector<bool> bought_extras(const Setup& setup, const Space& space, const Combination& c) {
  const PreparedLevel level = prepare_level(setup, space, c.motor, c.controller, c.pack);
  std::vector<bool> bought;
  for (const ExtraOption& extra : space.extras) {
    bought.push_back(needed(*extra.part, *level.parts.pack, level.level.side.stated_limit));
  }
  return bought;
}

// A level with the extras that were bought for it as stated, whatever the sample would ask for.
PreparedLevel level_of(const Setup& setup, const Space& space, const Combination& c,
                       const std::vector<bool>& bought) {
  PreparedLevel level = prepare_level(setup, space, c.motor, c.controller, c.pack);
  ExtrasCost extras;
  for (std::size_t i = 0; i < bought.size(); ++i) {
    if (!bought[i]) continue;
    extras.price += space.extras[i].price;
    extras.mass += space.extras[i].part->mass;
  }
  level.price += extras.price - level.extras.price;
  level.extras = extras;
  return level;
}

}  // namespace

Plan make_plan(const spec::Job& job, const spec::WrittenJob& written,
               std::span<const rules::Selection> designs) {
  Plan plan;
  plan.source = make_source(job, written, designs);
  plan.rejecting = rejecting_checks(job.requirement);
  std::string why;
  const auto as_stated = sampled_job(plan.source, {}, why);
  if (!as_stated) throw std::logic_error("a job cannot be loaded again: " + why);
  const Setup setup = make_setup(as_stated->requirement);
  const Space space = make_space(*as_stated);
  plan.combinations = places(space, designs);
  for (const Combination& c : plan.combinations) {
    plan.extras.push_back(bought_extras(setup, space, c));
  }
  plan.links = bought_links(job.requirement, designs);
  plan.stated = evaluate_all(plan, *as_stated);
  return plan;
}

Sample evaluate_all(const Plan& plan, const spec::Job& job) {
  const Setup setup = make_setup(job.requirement);
  const Space space = make_space(job);
  Evaluator evaluator(setup, space);
  // Designs share what motor, controller and pack decide.
  std::map<std::array<std::size_t, 3>, PreparedLevel> levels;
  Sample sample;
  sample.reserve(plan.combinations.size());
  for (std::size_t i = 0; i < plan.combinations.size(); ++i) {
    const Combination& c = plan.combinations[i];
    const std::array<std::size_t, 3> key = {c.motor, c.controller, c.pack};
    auto level = levels.find(key);
    if (level == levels.end()) {
      level = levels.emplace(key, level_of(setup, space, c, plan.extras[i])).first;
    }
    const rules::Selection parts =
        selection(space, c.motor, c.controller, c.pack, c.charger, c.chain, c.front, c.rear);
    const model::Chain& chain = parts.chain->model;
    const rules::ChainRun run =
        plan.links[i]
            ? chain_run(job.requirement, chain, parts.front_teeth, parts.rear_teeth, *plan.links[i])
            : chain_run(job.requirement, chain, parts.front_teeth, parts.rear_teeth);
    const DriveOption drive = make_drive(space, c.chain, c.front, c.rear, run);
    const spec::Metrics& metrics = evaluator.full(level->second, drive, space.chargers[c.charger]);
    sample.push_back(
        outcome_of(plan.rejecting, {job.requirement, parts, run, metrics, level->second.torque}));
  }
  return sample;
}

}  // namespace sprocketry::search
