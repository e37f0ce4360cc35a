#include "search/explain.hpp"

#include <memory>

#include "commands.hpp"
#include "complain.hpp"
#include "manual.hpp"
#include "options.hpp"
#include "output.hpp"
#include "picks.hpp"
#include "progress.hpp"
#include "report/explain_report.hpp"
#include "report/pick_report.hpp"
#include "stopper.hpp"

namespace sprocketry::cli {
namespace {

struct Options {
  JobOptions job;
  std::vector<std::string> picks;
  std::string format = "text";
  std::optional<std::string> output;
};

// Says on standard error why a question is too large, if it is.
bool too_large(const search::Setup& setup, const search::Compatible& compatible) {
  const search::Count count = compatible.combinations();
  if (count > search::kMostExplained) {
    complain(report::grouped(count) +
             " combinations fit together, and explain judges every one by every rule: at most " +
             report::grouped(search::kMostExplained) +
             "\nName fewer parts or tooth counts under `choose`, in the file or with --set.");
    return true;
  }
  const std::size_t demands = search::demands_to_relax(setup).size();
  if (demands <= search::kMostDemands) return false;
  complain("must: " + std::to_string(demands) + " demands, lists counted in full; explain takes " +
           std::to_string(search::kMostDemands) + " at most\nLeave some out.");
  return true;
}

int explain_pick(const Options& options, const spec::Job& job, const search::Setup& setup,
                 Output& output) {
  constexpr std::size_t kMostRepairs = 8;
  const auto choice = picked(job, setup, options.picks);
  if (!choice) return kBadInput;
  search::Design design = search::evaluate_design(setup, choice->space, choice->combination);
  design.outside_choose = choice->outside_choose;
  report::PickReport report;
  report.design = &design;
  report.bands = search::throttle_bands(setup, choice->space, choice->combination, design);
  report.changes = search::single_changes(setup, search::make_space(job), choice->space,
                                          choice->combination, design);
  report.movers = search::movers(design, report.changes);
  const bool holds = design.rejected_by().empty();
  if (!holds) report.repairs = search::repairs(report.changes, kMostRepairs);
  if (options.format == "json") {
    report::write_pick_json(output.stream(), report, job);
  } else {
    report::write_pick_text(output.stream(), report, job, output.colour());
  }
  return output.finish(holds ? kDone : kAnswerIsNo);
}

std::string progress_text(const search::Watch& watch) {
  const double all = watch.compatible;
  const double share = all > 0 ? 100.0 * watch.settled / all : 0.0;
  return report::rounded(share, 1) + " % judged";
}

int explain_all(const Options& options, const spec::Job& job, const search::Setup& setup,
                Output& output) {
  const search::Space space = search::make_space(job);
  const search::Compatible compatible = search::make_compatible(setup, space);
  if (too_large(setup, compatible)) return kBadInput;
  search::Watch watch;
  Stopper stopper([&watch] { watch.stop = true; }, std::nullopt);
  std::optional<search::Explanation> explanation;
  {
    const Progress progress([&] { return progress_text(watch); });
    explanation = search::explain(setup, space, compatible, options.job.threads, &watch);
  }
  stopper.let_end();
  if (!explanation) {
    complain("stopped before every combination was judged: there is no answer");
    return kStopped;
  }
  if (options.format == "json") {
    report::write_explain_json(output.stream(), *explanation, space, job);
  } else {
    report::write_explain_text(output.stream(), *explanation, space, job, output.colour());
  }
  return output.finish(explanation->feasible > 0 ? kDone : kAnswerIsNo);
}

int run(const Options& options) {
  Output output(options.output);
  if (!output.can_begin()) return kBadInput;
  const auto job = load(options.job, output.files());
  if (!job) return kBadInput;
  point_to_doubtful_parts(*job, options.job.file);
  const search::Setup setup = search::make_setup(job->requirement);
  return options.picks.empty() ? explain_all(options, *job, setup, output)
                               : explain_pick(options, *job, setup, output);
}

}  // namespace

void add_explain(CLI::App& app, Run& action) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand(
      "explain",
      "Says why: what each rule rejects, which demands hold the best of each aim back, why\n"
      "nothing is feasible and the least that must give way, or what limits one design.");
  add_job_options(*command, options->job);
  add_picks(*command, options->picks);
  add_choice(*command, "--format", options->format, {"text", "json"}, "form of the output");
  add_output(*command, options->output);
  add_threads(*command, options->job.threads);
  lay_out(
      *command,
      "Every combination whose parts fit each other is judged by every other rule, so all\n"
      "figures are exact; more than 100,000,000 such combinations are refused. A demand gives\n"
      "way alone: all others, and all rules, hold. The ceiling of the battery current does\n"
      "not give way, since the controller is set to it: try another with --set. A climb's\n"
      "figure is the force that is left over, in N. Text rounds; JSON has all digits.\n\n"
      "With --pick it is about one design: what holds full throttle back at each speed, and\n"
      "the cheapest change of one part within `choose` that betters each figure, or that\n"
      "mends a design that breaks a rule.\n\n" +
          std::string(kAboutPicks) +
          "Exit codes: 0 something (the pick) meets every demand; 1 nothing (it) does; 2 wrong\n"
          "input, or too large a question; 3 stopped before the end.");
  command->callback([options, &action] { action = [options] { return run(*options); }; });
}

}  // namespace sprocketry::cli
