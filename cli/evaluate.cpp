#include <memory>

#include "commands.hpp"
#include "manual.hpp"
#include "options.hpp"
#include "output.hpp"
#include "picks.hpp"
#include "report/design_csv.hpp"
#include "report/design_json.hpp"
#include "report/design_text.hpp"

namespace sprocketry::cli {
namespace {

struct Options {
  JobOptions job;
  std::vector<std::string> picks;
  std::string format = "text";
  std::string rules = "all";
  std::optional<std::string> output;
};

void write(Output& output, const search::Design& design, const search::PackDays& days,
           const spec::Job& job, const Options& options) {
  std::ostream& out = output.stream();
  const report::RuleRows rows = rule_rows(options.rules);
  if (options.format == "json") {
    report::write_evaluation(out, design, days, job, rows);
  } else if (options.format == "csv") {
    std::string line;
    report::append_csv(line, design, true);
    out << report::csv_header(job.requirement, true) << line;
  } else {
    report::write_design_text(out, design, days, job, rows, output.colour());
  }
}

int run(const Options& options) {
  Output output(options.output);
  if (!output.can_begin()) return kBadInput;
  const auto job = load(options.job, output.files());
  if (!job) return kBadInput;
  const search::Setup setup = search::make_setup(job->requirement);
  const auto choice = picked(*job, setup, options.picks);
  if (!choice) return kBadInput;
  search::Design design = search::evaluate_design(setup, choice->space, choice->combination);
  design.outside_choose = choice->outside_choose;
  const search::PackDays days = search::pack_days(*job, choice->space, choice->combination);
  write(output, design, days, *job, options);
  return output.finish(design.rejected_by().empty() ? kDone : kAnswerIsNo);
}

}  // namespace

void add_evaluate(CLI::App& app, Run& action) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand(
      "evaluate", "Shows one set of parts whole: every figure, every rule with its margin.");
  add_job_options(*command, options->job);
  add_picks(*command, options->picks);
  add_choice(*command, "--format", options->format, {"text", "json", "csv"}, "form of the output");
  add_rules(*command, options->rules);
  add_output(*command, options->output);
  lay_out(*command, kAboutPicks + glossary() + '\n' + rule_list() +
                        "\nExit codes: 0 it meets every rule; 1 a rule rejects it; 2 wrong input.");
  command->callback([options, &action] { action = [options] { return run(*options); }; });
}

}  // namespace sprocketry::cli
