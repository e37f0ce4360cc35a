#include "search/enumerate.hpp"

#include <algorithm>
#include <atomic>
#include <memory>

#include "commands.hpp"
#include "complain.hpp"
#include "manual.hpp"
#include "options.hpp"
#include "output.hpp"
#include "progress.hpp"
#include "report/design_csv.hpp"
#include "stopper.hpp"

namespace sprocketry::cli {
namespace {

struct Options {
  JobOptions job;
  std::string format = "csv";
  std::string rules = "telling";
  std::optional<std::string> output;
};

// Whether it listed all.
bool list(std::ostream& out, const spec::Job& job, const Options& options, search::Watch& watch) {
  const search::Setup setup = search::make_setup(job.requirement);
  const search::Space space = search::make_space(job);
  const bool csv = options.format == "csv";
  const report::RuleRows rows = rule_rows(options.rules);
  if (csv) out << report::csv_header(job.requirement, true);
  std::atomic<std::uint64_t> listed = 0;
  const Progress progress([&] { return report::grouped(listed.load()) + " listed"; });
  return search::enumerate(
      setup, space, options.job.threads,
      [&](const search::Design& design, std::string& text) {
        if (csv) {
          report::append_csv(text, design, true);
        } else {
          report::append_jsonl(text, design, job.requirement, rows);
        }
      },
      [&](std::string_view text) {
        out.write(text.data(), static_cast<std::streamsize>(text.size()));
        listed += static_cast<std::uint64_t>(std::ranges::count(text, '\n'));
        return out.good();
      },
      &watch);
}

int run(const Options& options) {
  Output output(options.output);
  if (!output.can_begin()) return kBadInput;
  search::Watch watch;
  Stopper stopper([&watch] { watch.stop = true; }, std::nullopt);
  const auto job = load(options.job, output.files());
  if (!job) return kBadInput;
  std::ostream& out = output.stream();
  const bool whole = list(out, *job, options, watch);
  stopper.let_end();
  if (!whole && out.good())
    complain("stopped before the end; the lines listed until then are whole");
  return output.finish(whole ? kDone : kStopped);
}

}  // namespace

void add_enumerate(CLI::App& app, Run& action) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand(
      "enumerate",
      "Lists every combination that passes the electrical and fit rules, one a line, with\n"
      "all its figures and the rules that reject it: for your own spreadsheet or script.");
  add_job_options(*command, options->job);
  add_choice(*command, "--format", options->format, {"csv", "jsonl"}, "form of the output");
  add_rules(*command, options->rules);
  add_output(*command, options->output);
  add_threads(*command, options->job.threads);
  lay_out(*command, glossary() +
                        "\nExit codes: 0 listed, even if nothing; 2 wrong input; 3 stopped "
                        "before the end.");
  command->callback([options, &action] { action = [options] { return run(*options); }; });
}

}  // namespace sprocketry::cli
