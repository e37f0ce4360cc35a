#include "search/robust.hpp"

#include <iostream>
#include <memory>

#include "commands.hpp"
#include "complain.hpp"
#include "manual.hpp"
#include "options.hpp"
#include "output.hpp"
#include "picks.hpp"
#include "progress.hpp"
#include "report/front_sample.hpp"
#include "report/robust_report.hpp"
#include "search/search.hpp"
#include "stopper.hpp"

namespace sprocketry::cli {
namespace {

struct Options {
  JobOptions job;
  std::vector<std::string> picks;
  std::string format = "text";
  std::optional<std::string> output;
  std::size_t samples = 1000;
  std::uint64_t seed = 1;
  bool no_usual = false;
};

// The designs to judge, in spaces that must outlive them.
struct Judged {
  std::optional<search::Picked> picked;
  search::Space space;
  search::Front front;
  std::vector<rules::Selection> designs;
  std::size_t members = 0;  // of the front; 0 for a pick
};

// False when the picks are wrong.
bool choose_designs(const spec::Job& job, const search::Setup& setup, const Options& options,
                    search::Watch& watch, Judged& judged) {
  if (!options.picks.empty()) {
    judged.picked = picked(job, setup, options.picks);
    if (!judged.picked) return false;
    judged.designs = {search::selection(judged.picked->space, judged.picked->combination)};
    return true;
  }
  constexpr std::size_t kMostDesigns = 20;
  judged.space = search::make_space(job);
  judged.front =
      search::search(setup, judged.space, {.threads = options.job.threads, .watch = &watch});
  judged.members = judged.front.members.size();
  if (judged.members == 0) return true;
  for (const std::size_t i :
       report::spread({job, setup, judged.space, judged.front}, kMostDesigns)) {
    judged.designs.push_back(search::selection(judged.space, judged.front.members[i]));
  }
  return true;
}

// Nothing where there is no answer; then `code` says why.
std::optional<search::Robustness> judge(const spec::Job& job, const spec::WrittenJob& written,
                                        const Options& options, search::Watch& watch,
                                        Judged& judged, int& code) {
  code = kBadInput;
  const Progress progress([] { return std::string("computing samples"); });
  const search::Setup setup = search::make_setup(job.requirement);
  if (!choose_designs(job, setup, options, watch, judged)) return std::nullopt;
  code = kStopped;
  if (watch.stopped()) return std::nullopt;
  code = kAnswerIsNo;
  if (judged.designs.empty()) return std::nullopt;
  auto robustness = search::robust(
      job, written, judged.designs,
      {options.samples, options.seed, !options.no_usual, options.job.threads}, &watch);
  if (!robustness) complain(robustness.error());
  code = !robustness ? kBadInput : robustness->stopped ? kStopped : kDone;
  if (code != kDone) return std::nullopt;
  return std::move(*robustness);
}

int run(const Options& options) {
  Output output(options.output);
  if (!output.can_begin()) return kBadInput;
  search::Watch watch;
  Stopper stopper([&watch] { watch.stop = true; }, std::nullopt);
  // The samples are read from the same text, so what owns it must live on.
  document::Diagnostics diagnostics;
  spec::WrittenJob written;
  const auto job = load(options.job, output.files(), diagnostics, &written);
  if (!job) return kBadInput;
  Judged judged;
  int code = kDone;
  const auto robustness = judge(*job, written, options, watch, judged, code);
  stopper.let_end();
  if (code == kStopped) {
    complain("stopped before every sample was computed: there is no answer");
  } else if (code == kAnswerIsNo) {
    complain(
        "no combination meets every rule and demand, so there is no design to judge\n"
        "`explain` says why; --pick judges a design that a rule rejects.");
  }
  if (!robustness) return code;
  const report::RobustAnswer answer{*job, judged.designs, *robustness, judged.members};
  if (options.format == "json") {
    report::write_robust_json(output.stream(), answer);
  } else {
    report::write_robust_text(output.stream(), answer, output.colour());
  }
  return output.finish(robustness->designs.front().holds ? kDone : kAnswerIsNo);
}

}  // namespace

void add_robust(CLI::App& app, Run& action) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand(
      "robust",
      "Says how sure a design is when its inputs are not: how often each rule and demand\n"
      "holds, how far the figures spread, and what to measure first.");
  add_job_options(*command, options->job);
  add_picks(*command, options->picks);
  command->add_option("--samples", options->samples, "samples to compute (1000 if not given)")
      ->check([](const std::string& text) {
        return check_whole(text, search::kLeastSamples, search::kMostSamples);
      })
      ->type_name("N");
  command
      ->add_option("--seed", options->seed,
                   "another set of samples: answers differ by as much as chance leaves open")
      ->check([](const std::string& text) { return check_whole(text, 0, 999'999'999); })
      ->type_name("N");
  command->add_flag("--no-default-spread", options->no_usual,
                    "only the spreads that the requirement states");
  add_choice(*command, "--format", options->format, {"text", "json"}, "form of the output");
  add_output(*command, options->output);
  add_threads(*command, options->job.threads);
  lay_out(
      *command,
      "Without --pick up to 20 designs of the front are judged, chosen as in the table of\n"
      "`search`. The requirement's `spread` says what is uncertain, by the path that --set takes,\n"
      "or `motors.ID.resistance`, or `cells.*.capacity` for all of a kind:\n"
      "  spread:\n"
      "    bike.drag_area: {normal: 10 %}               # standard deviation, of the value or in "
      "units\n"
      "    rider.mass: {uniform: 5 kg}                  # half the width; triangular likewise\n"
      "    conditions.headwind: {triangular: {from: -10 km/h, to: 25 km/h}}   # peak at the value\n"
      "    bike.wheelbase: none                         # exact\n"
      "What was assumed because it was not stated has a usual spread (common practice, no\n"
      "source), listed with the answer. All inputs vary at once and independently, the same\n"
      "samples for every design; a distribution ends where the input's range ends, what lies\n"
      "beyond being spread over the rest. Parts, extras, tooth counts and links stay as bought. A\n"
      "rank correlation of +1 or -1 means that the input alone decides, 0 that it does not\n"
      "matter. Quasi-random points (Sobol), the same on every run.\n\n"
      "Exit codes: 0 done; 1 the picked design does not hold as stated, or nothing does; 2 wrong\n"
      "input; 3 stopped before the end.");
  command->callback([options, &action] { action = [options] { return run(*options); }; });
}

}  // namespace sprocketry::cli
