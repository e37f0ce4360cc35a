#include "search/check.hpp"

#include <algorithm>
#include <iostream>
#include <memory>
#include <sstream>

#include "commands.hpp"
#include "complain.hpp"
#include "manual.hpp"
#include "options.hpp"
#include "output.hpp"
#include "report/check_report.hpp"
#include "search/lock_document.hpp"

namespace sprocketry::cli {
namespace {

struct Options {
  std::string file;
  std::vector<std::string> overrides;
  std::string format = "text";
  std::optional<std::string> junit;
  std::optional<std::string> output;
  bool accept = false;
  bool all = false;
};

WrittenFiles files_of(const Options& options) {
  return {{"--output", options.output}, {"--junit", options.junit}};
}

// Whether nothing written takes the place of the lock, or of a file that it was made from.
bool spares_lock(const search::Lock& lock, const document::Diagnostics& read,
                 const Options& options) {
  std::vector<std::filesystem::path> made_from;
  const auto folder = std::filesystem::path(options.file).parent_path();
  for (const search::LockedFile& file : lock.files) made_from.push_back(folder / file.path);
  return spares(read, files_of(options)) && spares(made_from, files_of(options));
}

// The lock and what it comes to today. Findings go to standard error.
struct Checked {
  search::Lock lock;
  search::Check check;
};
std::optional<Checked> compute(const Options& options) {
  const std::string& file = options.file;
  document::Diagnostics diagnostics;
  auto lock = search::load_lock(file, diagnostics);
  if (!lock) {
    std::cerr << diagnostics.text();
    return std::nullopt;
  }
  auto check = search::check_lock(*lock, file, SPROCKETRY_VERSION, diagnostics, options.overrides);
  if (!check) {
    std::cerr << diagnostics.text();
    complain(check.error() == search::Unreadable::kToday
                 ? "the lock is sound; mend what is named above, and check again"
                 : "the lock, which was written by version " + lock->model +
                       ", cannot be computed as it is; mend what is named above, or write it "
                       "anew: " +
                       search::renewal(*lock, file));
    return std::nullopt;
  }
  if (!spares_lock(*lock, diagnostics, options)) return std::nullopt;
  return Checked{std::move(*lock), std::move(*check)};
}

// What accepting cannot do away with.
bool is_gone(const search::Check& check) {
  return std::ranges::any_of(check.parts, [](const search::PartDrift& part) {
    return part.unobtainable() && !part.is_extra();
  });
}
bool is_broken(const search::Check& check) {
  return std::ranges::any_of(check.rules, &search::RuleDrift::broken);
}
bool holds_once_accepted(const search::Check& check) {
  return !is_gone(check) && !is_broken(check);
}

// What accepting did, and what it could not do away with.
std::string accepted(const std::string& file, const search::Check& check) {
  const bool gone = is_gone(check);
  const bool broken = is_broken(check);
  std::string text = file + " is rewritten with today's parts, figures and margins";
  if (gone) text += "; a part that is gone stays in it as it was locked, and is told again";
  if (broken) text += "; a rule that is broken stays broken, and is told again";
  return text;
}

int run(const Options& options) {
  Output output(options.output);
  if (!can_write(files_of(options))) return kBadInput;
  if (options.accept && !options.overrides.empty()) {
    complain("--set asks what would be, --accept keeps what is: use one of them");
    return kBadInput;
  }
  const auto checked = compute(options);
  if (!checked) return kBadInput;
  const search::Check& check = checked->check;
  const report::CheckAnswer answer{options.file, SPROCKETRY_VERSION, checked->lock,
                                   check,        options.overrides,  options.accept};
  if (options.format == "json") {
    report::write_check_json(output.stream(), answer);
  } else {
    report::write_check_text(output.stream(), answer, options.all, output.colour());
  }
  const bool holds = options.accept ? holds_once_accepted(check) : check.holds();
  const int code = output.finish(holds ? kDone : kAnswerIsNo);
  if (options.junit) {
    std::ostringstream junit;
    report::write_check_junit(junit, answer);
    if (!write_file(*options.junit, junit.view())) return kStopped;
  }
  if (!options.accept || code == kStopped) return code;
  if (!write_file(options.file, search::lock_text(check.renewed))) return kStopped;
  complain(accepted(options.file, check));
  return code;
}

}  // namespace

void add_check(CLI::App& app, Run& action) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand(
      "check",
      "Computes a locked design again with today's parts files: which figures and margins\n"
      "moved, which parts changed or are gone, and what could stand in for them.");
  command->add_option("LOCK", options->file, "a file that `lock` has written")
      ->required()
      ->type_name("");
  add_set(*command, options->overrides);
  add_choice(*command, "--format", options->format, {"text", "json"}, "form of the output");
  command->add_flag("--all", options->all, "text: every figure and rule, also what did not move");
  command
      ->add_option("--junit", options->junit,
                   "also write every part, figure and rule as a test case of\n"
                   "JUnit's XML, which servers of continuous integration show")
      ->type_name("FILE");
  command->add_flag("--accept", options->accept, "take what is as the new state: rewrite the lock");
  add_output(*command, options->output);
  lay_out(
      *command,
      "Demands, ride and all else of the requirement are the locked ones; --set tries others\n"
      "without writing anything. A requirement's file that has changed since is named, and\n"
      "taken over by `lock`. A part that is gone is computed as it was locked, but extras,\n"
      "which nobody chose, are those of today's files. A stand-in is one part exchanged, all\n"
      "others kept, ranked by the mean share by which the figures move; those that break no\n"
      "rule come first.\n\n"
      "Exit codes: 0 it holds, or does once accepted; 1 a rule is broken, a figure moved beyond\n"
      "its tolerance, or a part that is not owned is gone, and --accept cannot mend what is\n"
      "broken or gone; 2 wrong input; 3 stopped before the end.");
  command->callback([options, &action] { action = [options] { return run(*options); }; });
}

}  // namespace sprocketry::cli
