#include "search/compare.hpp"

#include <iostream>
#include <memory>

#include "commands.hpp"
#include "complain.hpp"
#include "manual.hpp"
#include "options.hpp"
#include "output.hpp"
#include "progress.hpp"
#include "report/compare_report.hpp"
#include "search/workers.hpp"

namespace sprocketry::cli {
namespace {

struct Options {
  std::string file;
  std::optional<std::string> other;  // side B; without it the same file
  std::vector<std::string> set, a_set, b_set;
  std::vector<std::string> a_pick, b_pick, today;
  std::string format = "text";
  int threads = 0;
  std::optional<std::string> output;
};

std::vector<std::string> joined(std::vector<std::string> first,
                                const std::vector<std::string>& second) {
  first.insert(first.end(), second.begin(), second.end());
  return first;
}

// The overrides of both sides come before those of this one, which are given by an option of its
// own.
std::unique_ptr<spec::Job> load_side(const std::string& file, const std::vector<std::string>& both,
                                     const std::vector<std::string>& own, const char* option,
                                     int threads, const WrittenFiles& outputs) {
  std::vector<spec::Override> overrides;
  overrides.reserve(both.size() + own.size());
  for (const std::string& assignment : both) overrides.push_back({assignment});
  for (const std::string& assignment : own) overrides.push_back({assignment, option});
  document::Diagnostics diagnostics;
  std::optional<spec::Job> job;
  search::Workers(threads).run([&] { job = spec::load_overridden(file, overrides, diagnostics); });
  std::cerr << diagnostics.text();
  if (!job || !spares(diagnostics, outputs)) return nullptr;
  return std::make_unique<spec::Job>(std::move(*job));
}

std::string label(const std::string& file, const std::vector<std::string>& overrides,
                  const std::vector<std::string>& picks) {
  std::string text = file;
  for (std::size_t i = 0; i < overrides.size(); ++i) {
    text += (i == 0 ? " with " : ", ") + overrides[i];
  }
  for (std::size_t i = 0; i < picks.size(); ++i) text += (i == 0 ? ", pick " : ", ") + picks[i];
  return text;
}

bool has_something_to_compare(const Options& o) {
  if (!o.today.empty() && !o.a_pick.empty()) {
    complain("--today is side A already; leave --a-pick out");
    return false;
  }
  const bool different = o.other || !o.a_set.empty() || !o.b_set.empty() || !o.a_pick.empty() ||
                         !o.b_pick.empty() || !o.today.empty();
  if (!different) {
    complain(
        "both sides are the same; name a second file, or give one side --b-set, --b-pick or "
        "--today");
  }
  return different;
}

template <typename T>
std::optional<T> taken(tl::expected<T, std::string> result) {
  if (result) return std::move(*result);
  complain(result.error());
  return std::nullopt;
}

int run(const Options& o) {
  Output output(o.output);
  if (!has_something_to_compare(o) || !output.can_begin()) return kBadInput;
  const std::string& file_a = o.file;
  const std::string file_b = o.other.value_or(o.file);
  const auto set_a = joined(o.set, o.a_set);
  const auto set_b = joined(o.set, o.b_set);
  auto job_a = load_side(file_a, o.set, o.a_set, "--a-set", o.threads, output.files());
  auto job_b = load_side(file_b, o.set, o.b_set, "--b-set", o.threads, output.files());
  if (!job_a || !job_b) return kBadInput;
  if (const auto why = search::not_comparable(job_a->requirement, job_b->requirement)) {
    complain(*why);
    return kBadInput;
  }

  std::optional<search::Running> running;
  if (!o.today.empty()) {
    running = taken(search::make_running(std::make_unique<spec::Job>(*job_a), o.today));
    if (!running) return kBadInput;
  }
  const search::Running* bike = running ? &*running : nullptr;
  const auto& picks_a = running ? o.today : o.a_pick;
  const Progress progress([] { return std::string("searching both sides"); });
  const auto a = taken(search::make_side(std::move(job_a), picks_a, bike, o.threads,
                                         running ? "--today" : "--a-pick"));
  if (!a) return kBadInput;
  const auto b = taken(search::make_side(std::move(job_b), o.b_pick, bike, o.threads, "--b-pick"));
  if (!b) return kBadInput;
  const auto comparison = taken(search::compare(*a, *b));
  if (!comparison) return kBadInput;

  const report::CompareAnswer answer{label(file_a, set_a, picks_a),
                                     label(file_b, set_b, o.b_pick),
                                     *a,
                                     *b,
                                     *comparison,
                                     bike,
                                     SPROCKETRY_VERSION};
  if (o.format == "json") {
    report::write_compare_json(output.stream(), answer);
  } else {
    report::write_compare_text(output.stream(), answer, output.colour());
  }
  // A bike that runs today may well miss the new demands.
  const bool a_stands = running || (!a->front.members.empty() && a->rejected_by.empty());
  const bool b_stands = !b->front.members.empty() && b->rejected_by.empty();
  return output.finish(a_stands && b_stands ? kDone : kAnswerIsNo);
}

void add_list(CLI::App& command, const std::string& name, std::vector<std::string>& values,
              const std::string& what, const char* type) {
  command.add_option(name, values, what)->take_all()->expected(1)->type_name(type);
}

}  // namespace

void add_compare(CLI::App& app, Run& action) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand(
      "compare",
      "Sets two requirements, or two designs, side by side: is the upgrade worth it, from\n"
      "which budget on, and what must be bought for it.");
  command->add_option("REQUIREMENT", options->file, "the requirement file of side A")
      ->required()
      ->type_name("");
  command
      ->add_option("OTHER", options->other,
                   "the requirement file of side B; the same one if not given")
      ->type_name("");
  add_set(*command, options->set);
  add_list(*command, "--a-set", options->a_set, "the same for side A alone", "PATH=VALUE");
  add_list(*command, "--b-set", options->b_set, "the same for side B alone", "PATH=VALUE");
  add_list(*command, "--a-pick", options->a_pick,
           "side A is this one design, given as to `evaluate`:\n"
           "SLOT=ID or a whole id; may be repeated",
           "PICK");
  add_list(*command, "--b-pick", options->b_pick, "side B is this one design", "PICK");
  add_list(*command, "--today", options->today,
           "side A is this design, which runs today: its parts cost\n"
           "nothing more, on both sides, and what must be bought is said",
           "PICK");
  add_choice(*command, "--format", options->format, {"text", "json"}, "form of the output");
  add_threads(*command, options->threads);
  add_output(*command, options->output);
  lay_out(
      *command,
      "A design is beaten when one of the other side is nowhere worse in the aims that both\n"
      "have, and somewhere better. The balanced design of a front is the one that gives away\n"
      "least on all aims together. With --today a chain stays if it is long enough and a\n"
      "sprocket if it has the teeth; cells are not taken out of one pack to build another. Slots\n"
      "that --b-pick leaves open then stay as they are today, and a demand on the price limits\n"
      "what is still to be paid.\n\n"
      "Exit codes: 0 compared; 1 a side has nothing that meets the demands, or a rule rejects\n"
      "its pick (but for --today); 2 wrong input; 3 stopped before the end.");
  command->callback([options, &action] { action = [options] { return run(*options); }; });
}

}  // namespace sprocketry::cli
