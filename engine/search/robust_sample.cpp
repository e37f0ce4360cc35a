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

rules::ChainRun run_of(const spec::Requirement& requirement, const rules::Selection& parts,
                       const std::optional<int>& links) {
  const model::Chain& chain = parts.chain->model;
  return links ? chain_run(requirement, chain, parts.front_teeth, parts.rear_teeth, *links)
               : chain_run(requirement, chain, parts.front_teeth, parts.rear_teeth);
}

// Levels and drives of one sample, made when a design first asks for them.
class SampleParts {
 public:
  SampleParts(const Plan& plan, const PlanIndex& index, const Setup& setup, const Space& space)
      : plan_(plan),
        index_(index),
        setup_(setup),
        space_(space),
        levels_(index.levels.size()),
        drives_(index.drives.size()) {}

  const PreparedLevel& level(std::uint32_t number) {
    if (!levels_[number]) {
      const std::size_t first = index_.levels[number];
      levels_[number] = level_of(setup_, space_, plan_.combinations[first], plan_.extras[first]);
    }
    return *levels_[number];
  }

  const DriveOption& drive(std::uint32_t number) {
    if (!drives_[number]) {
      const PlanIndex::Drive& d = index_.drives[number];
      const rules::Selection parts = selection(space_, 0, 0, 0, 0, d.chain, d.front, d.rear);
      drives_[number] =
          make_drive(space_, d.chain, d.front, d.rear, run_of(*setup_.requirement, parts, d.links));
    }
    return *drives_[number];
  }

 private:
  const Plan& plan_;
  const PlanIndex& index_;
  const Setup& setup_;
  const Space& space_;
  std::vector<std::optional<PreparedLevel>> levels_;
  std::vector<std::optional<DriveOption>> drives_;
};

bool holds(const Setup& setup, const Space& space, const Combination& c, const PreparedLevel& level,
           const DriveOption& drive, Evaluator& evaluator) {
  static const spec::Metrics kNoMetrics;
  const rules::Selection parts = selection(space, c);
  const rules::Context context{*setup.requirement, parts, drive.run, kNoMetrics, level.torque};
  if (first_failure(setup.electrical, context) != kNoRule) return false;
  if (first_failure(setup.fit, context) != kNoRule) return false;
  if (evaluator.strength_fail(level, drive)) return false;
  const ChargerOption& charger = space.chargers[c.charger];
  evaluator.take(level, drive, charger.carried_mass);
  return !evaluator.riding_fail(level, drive) && !evaluator.demands_fail(level, drive, charger);
}

}  // namespace

PlanIndex make_index(const Plan& plan) {
  PlanIndex index;
  std::map<std::array<std::size_t, 3>, std::uint32_t> levels;
  std::map<std::array<std::size_t, 4>, std::uint32_t> drives;
  for (std::size_t i = 0; i < plan.combinations.size(); ++i) {
    const Combination& c = plan.combinations[i];
    const auto links = static_cast<std::size_t>(plan.links[i].value_or(0));
    const auto [level, is_new_level] =
        levels.try_emplace({c.motor, c.controller, c.pack}, index.levels.size());
    if (is_new_level) index.levels.push_back(i);
    const auto [drive, is_new_drive] =
        drives.try_emplace({c.chain, c.front, c.rear, links}, index.drives.size());
    if (is_new_drive) index.drives.push_back({c.chain, c.front, c.rear, plan.links[i]});
    index.level_of.push_back(level->second);
    index.drive_of.push_back(drive->second);
  }
  return index;
}

std::vector<char> holds_in(const Plan& plan, const PlanIndex& index, const spec::Job& job,
                           std::span<const std::uint32_t> designs) {
  const Setup setup = make_setup(job.requirement);
  const Space space = make_space(job);
  Evaluator evaluator(setup, space);
  SampleParts parts(plan, index, setup, space);
  std::vector<char> result;
  result.reserve(designs.size());
  for (const std::uint32_t d : designs) {
    result.push_back(holds(setup, space, plan.combinations[d], parts.level(index.level_of[d]),
                           parts.drive(index.drive_of[d]), evaluator)
                         ? 1
                         : 0);
  }
  return result;
}

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
    const rules::Selection parts = selection(space, c);
    const rules::ChainRun run = run_of(job.requirement, parts, plan.links[i]);
    const DriveOption drive = make_drive(space, c.chain, c.front, c.rear, run);
    const spec::Metrics& metrics = evaluator.full(level->second, drive, space.chargers[c.charger]);
    sample.push_back(
        outcome_of(plan.rejecting, {job.requirement, parts, run, metrics, level->second.torque}));
  }
  return sample;
}

}  // namespace sprocketry::search
