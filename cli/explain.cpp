#include "search/explain.hpp"

#include <memory>

#include "commands.hpp"
#include "complain.hpp"
#include "manual.hpp"
#include "options.hpp"
#include "output.hpp"
#include "report/explain_report.hpp"

namespace sprocketry::cli {
namespace {

struct Options {
  JobOptions job;
  std::string format = "text";
  std::optional<std::string> output;
  int threads = 0;
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

int run(const Options& options) {
  Output output(options.output);
  if (!output.can_begin()) return kBadInput;
  const auto job = load(options.job);
  if (!job) return kBadInput;
  const search::Setup setup = search::make_setup(job->requirement);
  const search::Space space = search::make_space(*job);
  const search::Compatible compatible = search::make_compatible(setup, space);
  if (too_large(setup, compatible)) return kBadInput;
  const search::Explanation explanation =
      search::explain(setup, space, compatible, options.threads);
  if (options.format == "json") {
    report::write_explain_json(output.stream(), explanation, space, *job);
  } else {
    report::write_explain_text(output.stream(), explanation, space, *job, output.colour());
  }
  return output.finish(explanation.feasible > 0 ? kDone : kAnswerIsNo);
}

}  // namespace

void add_explain(CLI::App& app, Run& action) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand(
      "explain",
      "Says why nothing is feasible: what each rule rejects, the least by which each demand\n"
      "must give way, and a smallest set of demands that cannot hold together.");
  add_job_options(*command, options->job);
  add_choice(*command, "--format", options->format, {"text", "json"}, "form of the output");
  add_output(*command, options->output);
  add_threads(*command, options->threads);
  lay_out(*command,
          "Every combination whose parts fit each other is judged by every other rule, so all\n"
          "figures are exact; more than 3,000,000 such combinations are refused. A demand gives\n"
          "way alone: all others, and all rules, hold. The ceiling of the battery current does\n"
          "not give way, since the controller is set to it: try another with --set. A climb's\n"
          "figure is the force that is left over, in N. Text rounds; JSON has all digits.\n\n"
          "Exit codes: 0 something meets every demand; 1 nothing does; 2 wrong input, or too\n"
          "large a question.");
  command->callback([options, &action] { action = [options] { return run(*options); }; });
}

}  // namespace sprocketry::cli
