#include "search/swaps.hpp"

#include <memory>

#include "commands.hpp"
#include "manual.hpp"
#include "options.hpp"
#include "output.hpp"
#include "picks.hpp"
#include "report/swaps_json.hpp"
#include "report/swaps_text.hpp"

namespace sprocketry::cli {
namespace {

struct Options {
  JobOptions job;
  std::vector<std::string> picks;
  std::string format = "text";
  std::string rules = "telling";
  std::optional<std::string> output;
};

void write(Output& output, const search::Swaps& swaps, const spec::Job& job,
           const Options& options) {
  if (options.format == "json") {
    report::write_swaps_json(output.stream(), swaps, job, rule_rows(options.rules));
  } else {
    report::write_swaps_text(output.stream(), swaps, job, output.colour());
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
  const search::Swaps swaps = search::find_swaps(*job, setup, choice->space, choice->combination);
  write(output, swaps, *job, options);
  return output.finish(swaps.any_other_holds() ? kDone : kAnswerIsNo);
}

}  // namespace

void add_swaps(CLI::App& app, Run& action) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand(
      "swaps",
      "Shows which other front sprockets run with the same rear sprocket and the same chain,\n"
      "and what each gives: the cheap change that a rider really makes.");
  add_job_options(*command, options->job);
  add_picks(*command, options->picks);
  add_choice(*command, "--format", options->format, {"text", "json"}, "form of the output");
  add_rules(*command, options->rules);
  add_output(*command, options->output);
  lay_out(
      *command,
      "Every tooth count of the design's own family is tried, whatever `choose` says, and those\n"
      "of other families of the catalogue that sit on the same shaft under the same chain. One\n"
      "runs when the chain, not a link more or less, ends inside the adjuster's travel. What it\n"
      "breaks is named; --rules is for --format json.\n\n" +
          std::string(kAboutPicks) + glossary() +
          "\nExit codes: 0 another front sprocket meets every rule; 1 none does; 2 wrong input.");
  command->callback([options, &action] { action = [options] { return run(*options); }; });
}

}  // namespace sprocketry::cli
