#include <iostream>
#include <memory>

#include "commands.hpp"
#include "common.hpp"
#include "report/design_json.hpp"
#include "report/design_text.hpp"
#include "search/pick.hpp"

namespace sprocketry::cli {
namespace {

struct Options {
  JobOptions job;
  std::vector<std::string> picks;
  std::string format = "text";
  std::string rules = "all";
};

int run(const Options& options) {
  const auto job = load(options.job);
  if (!job) return kBadInput;
  const search::Setup setup = search::make_setup(job->requirement);
  const auto picked = search::pick(*job, setup, options.picks);
  if (!picked) {
    std::cerr << "sprocketry: " << picked.error() << '\n';
    return kBadInput;
  }
  search::Design design = search::evaluate_design(setup, picked->space, picked->combination);
  design.outside_choose = picked->outside_choose;
  if (options.format == "json") {
    const auto rows = options.rules == "all" ? report::RuleRows::kAll : report::RuleRows::kTelling;
    report::write_evaluation(std::cout, design, *job, rows);
  } else {
    report::write_design_text(std::cout, design, *job, colour());
  }
  return finish_output(design.rejected_by().empty() ? kDone : kAnswerIsNo);
}

}  // namespace

void add_evaluate(CLI::App& app, Run& action) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand(
      "evaluate",
      "Shows one combination whole: every figure, every rule with its margin.\n"
      "A slot that is not picked is filled in when only one option fits, else the options are "
      "listed.\n"
      "Example: sprocketry evaluate specs/demo.yaml --pick motor=hollin-48 --pick front_teeth=14");
  add_job_options(*command, options->job);
  command
      ->add_option(
          "--pick", options->picks,
          "SLOT=ID with SLOT one of motor, controller, pack, charger, chain, "
          "front_sprocket, front_teeth, rear_sprocket, rear_teeth; or a design's whole id. "
          "May be repeated")
      ->take_all()
      ->expected(1);
  command->add_option("--format", options->format, "text or json")
      ->check(CLI::IsMember({"text", "json"}))
      ->capture_default_str();
  command->add_option("--rules", options->rules, "rules in JSON: all or telling")
      ->check(CLI::IsMember({"telling", "all"}))
      ->capture_default_str();
  command->footer(glossary() + '\n' + rule_list() +
                  "\nExit code 0: it meets every rule; 1: a rule rejects it; 2: wrong input.");
  command->callback([options, &action] { action = [options] { return run(*options); }; });
}

}  // namespace sprocketry::cli
