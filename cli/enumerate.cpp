#include "search/enumerate.hpp"

#include <iostream>
#include <memory>

#include "commands.hpp"
#include "common.hpp"
#include "report/design_csv.hpp"

namespace sprocketry::cli {
namespace {

struct Options {
  JobOptions job;
  std::string format = "csv";
  int threads = 0;
};

int run(const Options& options) {
  const auto job = load(options.job);
  if (!job) return kBadInput;
  const search::Setup setup = search::make_setup(job->requirement);
  const search::Space space = search::make_space(*job);
  const bool csv = options.format == "csv";
  if (csv) std::cout << report::csv_header(job->requirement, true);
  search::enumerate(
      setup, space, options.threads,
      [&](const search::Design& design, std::string& text) {
        if (csv) {
          report::append_csv(text, design, true);
        } else {
          report::append_jsonl(text, design, job->requirement);
        }
      },
      [](std::string_view text) {
        std::cout.write(text.data(), static_cast<std::streamsize>(text.size()));
        return std::cout.good();
      });
  return finish_output(kDone);
}

}  // namespace

void add_enumerate(CLI::App& app, Run& action) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand(
      "enumerate",
      "Lists every combination that passes the electrical and fit rules, one a line, with all its\n"
      "figures and the rules that reject it. For your own spreadsheet or script.\n"
      "Example: sprocketry enumerate specs/tiny.yaml --format csv > all.csv");
  add_job_options(*command, options->job);
  command->add_option("--format", options->format, "csv or jsonl")
      ->check(CLI::IsMember({"csv", "jsonl"}))
      ->capture_default_str();
  add_threads(*command, options->threads);
  command->footer(glossary() + "\nExit code 0: listed, even if nothing; 2: wrong input.");
  command->callback([options, &action] { action = [options] { return run(*options); }; });
}

}  // namespace sprocketry::cli
