#include "search/lock.hpp"

#include <algorithm>
#include <iostream>
#include <memory>

#include "commands.hpp"
#include "complain.hpp"
#include "manual.hpp"
#include "options.hpp"
#include "output.hpp"
#include "picks.hpp"
#include "report/lock_report.hpp"
#include "search/lock_document.hpp"

namespace sprocketry::cli {
namespace {

struct Options {
  JobOptions job;
  std::vector<std::string> picks;
  std::vector<std::string> tolerances;
  std::string file;
  std::string format = "text";
};

// "; did you mean 'range_km'?" for "range", or nothing.
std::string nearest_figure(const std::string& word, const std::vector<std::string>& keys) {
  const auto longer = std::ranges::find_if(
      keys, [&](const std::string& key) { return key.starts_with(word + '_'); });
  return longer == keys.end() ? did_you_mean(word, keys) : "; did you mean '" + *longer + "'?";
}

// "2 %" for all figures, or "range_km=5 %" for one.
std::optional<search::Tolerances> read_tolerances(const std::vector<std::string>& texts,
                                                  const search::Design& design) {
  search::Tolerances tolerances;
  std::vector<std::string> keys;
  for (const search::Figure& figure : search::figures_of(design)) keys.push_back(figure.key);
  for (const std::string& text : texts) {
    const std::size_t equals = text.find('=');
    const std::string key = equals == std::string::npos ? "all" : text.substr(0, equals);
    const auto tolerance = search::parse_tolerance(text.substr(equals + 1));
    if (!tolerance) {
      complain("--tolerance " + text +
               ": write a share such as '2 %', or FIGURE=VALUE such as 'range_km=5 %' or "
               "'pull_away_s=0.3'");
      return std::nullopt;
    }
    if (key == "all" && tolerance->amount > 0) {
      complain("--tolerance " + text +
               ": an amount is of one figure, for example 'pull_away_s=0.3'; write a share such as "
               "'2 %' for all");
      return std::nullopt;
    }
    if (key == "all") {
      tolerances.usual = *tolerance;
    } else if (std::ranges::find(keys, key) == keys.end()) {
      std::string finding = "--tolerance " + text;
      finding.append(": there is no figure '").append(key).append("'");
      complain(finding.append(nearest_figure(key, keys)));
      return std::nullopt;
    } else {
      tolerances.single.emplace_back(key, *tolerance);
    }
  }
  return tolerances;
}

int run(const Options& options) {
  if (!can_write(options.file)) return kBadInput;
  spec::WrittenJob written;
  const auto job = load(options.job, {{"--output", options.file}}, &written);
  if (!job) return kBadInput;
  const search::Setup setup = search::make_setup(job->requirement);
  const auto choice = picked(*job, setup, options.picks);
  if (!choice) return kBadInput;
  const search::Design design = search::evaluate_design(setup, choice->space, choice->combination);
  const auto tolerances = read_tolerances(options.tolerances, design);
  if (!tolerances) return kBadInput;
  const search::Lock lock =
      search::make_lock(design, {written, options.job.file, options.file, options.job.overrides,
                                 SPROCKETRY_VERSION, *tolerances});
  if (!write_file(options.file, search::lock_text(lock))) return kStopped;
  if (options.format == "json") {
    report::write_lock_json(std::cout, lock, options.file);
  } else {
    report::write_lock_text(std::cout, lock, options.file, colour());
  }
  return finish_output(design.rejected_by().empty() ? kDone : kAnswerIsNo);
}

}  // namespace

void add_lock(CLI::App& app, Run& action) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand(
      "lock",
      "Freezes a chosen set of parts in a file: the whole input, its figures and margins, so\n"
      "that `check` can say weeks later whether it still holds.");
  add_job_options(*command, options->job);
  add_picks(*command, options->picks);
  command->add_option("-o,--output", options->file, "the lock to write, for example bike.lock.yaml")
      ->required()
      ->type_name("FILE");
  command
      ->add_option("--tolerance", options->tolerances,
                   "how far figures may move before `check` says no: a share for all\n"
                   "(2 % if not given), or FIGURE=VALUE for one, for example\n"
                   "'range_km=5 %' or 'pull_away_s=0.3'; may be repeated")
      ->take_all()
      ->expected(1)
      ->type_name("VALUE");
  add_choice(*command, "--format", options->format, {"text", "json"}, "form of what is said");
  lay_out(
      *command,
      "The lock names its parts files relative to itself: keep it beside the requirement, in\n"
      "the same version control.\n\n"
      "Exit codes: 0 locked; 1 locked, though a rule rejects it; 2 wrong input; 3 it could not\n"
      "be written.");
  command->callback([options, &action] { action = [options] { return run(*options); }; });
}

}  // namespace sprocketry::cli
