#include "report/sheet.hpp"

#include <memory>

#include "commands.hpp"
#include "manual.hpp"
#include "options.hpp"
#include "output.hpp"
#include "picks.hpp"

namespace sprocketry::cli {
namespace {

struct Options {
  JobOptions job;
  std::vector<std::string> picks;
  std::string format = "markdown";
  std::string paper = "a4";
  std::string rules = "telling";
  std::optional<std::string> output;
};

void write(std::ostream& out, const search::Sheet& sheet, const spec::Job& job,
           const Options& options) {
  if (options.format == "json") {
    report::write_sheet_json(out, sheet, job, rule_rows(options.rules));
  } else if (options.format == "html") {
    report::write_sheet_html(out, sheet, job,
                             options.paper == "a4" ? report::Paper::kA4 : report::Paper::kLetter);
  } else {
    report::write_sheet_markdown(out, sheet, job);
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
  search::Sheet sheet = search::make_sheet(*job, setup, choice->space, choice->combination);
  sheet.design.outside_choose = choice->outside_choose;
  write(output.stream(), sheet, *job, options);
  return output.finish(sheet.design.rejected_by().empty() ? kDone : kAnswerIsNo);
}

}  // namespace

void add_sheet(CLI::App& app, Run& action) {
  auto options = std::make_shared<Options>();
  CLI::App* command =
      app.add_subcommand("sheet",
                         "Writes the build sheet of one set of parts: what to order, the numbers "
                         "to cut, set and wire\n"
                         "by, the steps before the first spin, and the readings to expect.");
  add_job_options(*command, options->job);
  add_picks(*command, options->picks);
  add_choice(*command, "--format", options->format, {"markdown", "html", "json"},
             "form of the output; html is made to be printed");
  add_choice(*command, "--paper", options->paper, {"a4", "letter"}, "paper of --format html");
  add_rules(*command, options->rules);
  add_output(*command, options->output);
  lay_out(*command,
          "Fuse and cables are sized for the battery current that the controller is set to. A\n"
          "precharge resistor is worked out when the controller's `capacitance` is stated in the "
          "parts\n"
          "file. --rules is for --format json.\n\n" +
              std::string(kAboutPicks) +
              "Exit codes: 0 the design meets every rule; 1 a rule rejects it; 2 wrong input.");
  command->callback([options, &action] { action = [options] { return run(*options); }; });
}

}  // namespace sprocketry::cli
