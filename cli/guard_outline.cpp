#include <memory>

#include "commands.hpp"
#include "complain.hpp"
#include "manual.hpp"
#include "options.hpp"
#include "output.hpp"
#include "picks.hpp"
#include "report/guard_drawing.hpp"

namespace sprocketry::cli {
namespace {

struct Options {
  JobOptions job;
  std::vector<std::string> picks;
  std::string format = "svg";
  std::string clearance = "20 mm";
  std::optional<std::string> output;
};

int run(const Options& options) {
  constexpr parts::QuantityRule kClearance{units::Dimension::kLength, 0.003, 0.2};
  Output output(options.output);
  if (!output.can_begin()) return kBadInput;
  const auto clearance = length_of("--clearance", options.clearance, kClearance);
  if (!clearance) return kBadInput;
  const auto job = load(options.job, output.files());
  if (!job) return kBadInput;
  const search::Setup setup = search::make_setup(job->requirement);
  const auto choice = picked(*job, setup, options.picks);
  if (!choice) return kBadInput;
  const search::Design design = search::evaluate_design(setup, choice->space, choice->combination);
  if (!design.chain.fit) {
    complain(
        "no chain fits between these sprockets inside the adjuster's travel, so there is "
        "nothing to draw a guard round; `sprocketry evaluate` shows which rule says so");
    return kAnswerIsNo;
  }
  const report::GuardDrawing drawing = report::guard_drawing(design, *job, *clearance);
  if (options.format == "dxf") {
    report::write_guard_dxf(output.stream(), drawing);
  } else {
    report::write_guard_svg(output.stream(), drawing);
  }
  return output.finish(design.rejected_by().empty() ? kDone : kAnswerIsNo);
}

}  // namespace

void add_guard(CLI::App& app, Run& action) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand(
      "guard", "Draws the outline of a chain guard at full size, to print or to cut by.");
  add_job_options(*command, options->job);
  add_picks(*command, options->picks);
  add_choice(*command, "--format", options->format, {"svg", "dxf"},
             "svg to print, dxf (R12, in mm) to cut by");
  command
      ->add_option("--clearance", options->clearance,
                   "from chain and teeth to the guard, 3 to 200 mm (common practice, no source)")
      ->type_name("LENGTH")
      ->capture_default_str();
  add_output(*command, options->output);
  lay_out(*command,
          "The outline goes round both sprockets and the chain, with the axle anywhere in the\n"
          "adjuster's travel. It is as large as the bike, so print it in tiles and lay a rule on\n"
          "the bar: it must measure 100 mm.\n\n" +
              std::string(kAboutPicks) +
              "Exit codes: 0 drawn; 1 drawn, but a rule rejects the design, or no chain fits and\n"
              "nothing is drawn; 2 wrong input.");
  command->callback([options, &action] { action = [options] { return run(*options); }; });
}

}  // namespace sprocketry::cli
