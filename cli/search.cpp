#include "search/search.hpp"

#include <iostream>
#include <memory>
#include <sstream>

#include "commands.hpp"
#include "common.hpp"
#include "report/design_csv.hpp"
#include "report/front_html.hpp"
#include "report/front_json.hpp"
#include "report/front_text.hpp"

namespace sprocketry::cli {
namespace {

struct Options {
  JobOptions job;
  std::string format = "text";
  std::string rules = "telling";
  std::string html;
  bool all = false;
  int threads = 0;
};

void write_csv(const report::Result& result) {
  std::cout << report::csv_header(result.job.requirement, false);
  for (const search::Combination& member : result.front.members) {
    std::string line;
    report::append_csv(line, search::evaluate_design(result.setup, result.space, member), false);
    std::cout << line;
  }
}

int run(const Options& options) {
  const auto job = load(options.job);
  if (!job) return kBadInput;
  const search::Setup setup = search::make_setup(job->requirement);
  const search::Space space = search::make_space(*job);
  const search::Front front = search::search(setup, space, options.threads);
  const report::Result result{*job, setup, space, front};
  if (options.format == "json") {
    const auto rows = options.rules == "all" ? report::RuleRows::kAll : report::RuleRows::kTelling;
    report::write_front_json(std::cout, result, SPROCKETRY_VERSION, rows);
  } else if (options.format == "csv") {
    write_csv(result);
  } else {
    report::write_front_text(std::cout, result, options.all, colour());
  }
  if (!options.html.empty()) {
    std::ostringstream page;
    report::write_front_html(page, result);
    if (!write_file(options.html, page.str())) return finish_output(kStopped);
  }
  return finish_output(front.members.empty() ? kAnswerIsNo : kDone);
}

}  // namespace

void add_search(CLI::App& app, Run& action) {
  auto options = std::make_shared<Options>();
  CLI::App* command =
      app.add_subcommand("search",
                         "Finds every combination of parts that fits, meets all demands, and "
                         "cannot be bettered in one\n"
                         "aim without losing in another. Exact: nothing is sampled.\n"
                         "Example: sprocketry search specs/demo.yaml --set 'must.price.max=3000'");
  add_job_options(*command, options->job);
  command->add_option("--format", options->format, "text, json or csv")
      ->check(CLI::IsMember({"text", "json", "csv"}))
      ->capture_default_str();
  command->add_flag("--all", options->all, "show the whole front, not 24 designs spread over it");
  command
      ->add_option(
          "--rules", options->rules,
          "rules of each design in JSON: telling (cautions, unchecked, the three tightest) "
          "or all")
      ->check(CLI::IsMember({"telling", "all"}))
      ->capture_default_str();
  command->add_option("--html", options->html, "also write the front as a page to this file");
  add_threads(*command, options->threads);
  command->footer(glossary() + '\n' + rule_list() +
                  "\nExit code 0: a front; 1: nothing meets the demands; 2: wrong input; "
                  "3: stopped before the end.");
  command->callback([options, &action] { action = [options] { return run(*options); }; });
}

}  // namespace sprocketry::cli
