#include "search/search.hpp"

#include <chrono>
#include <memory>
#include <sstream>

#include "commands.hpp"
#include "complain.hpp"
#include "manual.hpp"
#include "options.hpp"
#include "output.hpp"
#include "picks.hpp"
#include "progress.hpp"
#include "report/alternatives.hpp"
#include "report/design_csv.hpp"
#include "report/front_html.hpp"
#include "report/front_json.hpp"
#include "report/front_text.hpp"
#include "resolution.hpp"
#include "search/resolution.hpp"
#include "slice.hpp"
#include "stopper.hpp"
#include "units/units.hpp"

namespace sprocketry::cli {
namespace {

struct Options {
  JobOptions job;
  std::string format = "text";
  std::string rules = "telling";
  std::optional<std::string> output;
  std::optional<std::string> html;
  std::optional<std::string> time_limit;
  std::optional<std::string> resolution;
  std::optional<std::string> near;
  std::optional<std::string> stand_ins;
  std::optional<std::string> slice;
  bool all = false;
  int threads = 0;
};

// "searching 1,000 combinations, 43.1 % of those that fit are settled, 520 on the front so far,
// 2,000,000 a second".
std::string progress_text(const search::Space& space, const search::Watch& watch, double seconds) {
  std::string text = "searching " + report::grouped(space.combinations()) + " combinations";
  const double settled = watch.settled;
  if (!(settled > 0)) return text;
  text += ", " + report::rounded(100 * settled / watch.compatible, 1) +
          " % of those that fit are settled";
  if (watch.front > 0) text += ", " + report::grouped(watch.front.load()) + " on the front so far";
  return text + ", " + report::grouped(static_cast<std::uint64_t>(settled / seconds)) + " a second";
}

search::Front find(const search::Setup& setup, const search::Space& space, const Options& options,
                   double near, search::Watch& watch) {
  const auto begin = std::chrono::steady_clock::now();
  const Progress progress([&] {
    const std::chrono::duration<double> passed = std::chrono::steady_clock::now() - begin;
    return progress_text(space, watch, passed.count());
  });
  return search::search(setup, space, {.threads = options.threads, .near = near, .watch = &watch});
}

// Reads --near; nothing, with a word on standard error, when it is no share up to a half.
std::optional<double> read_near(const std::optional<std::string>& text) {
  constexpr double kMost = 0.5;
  if (!text) return 0.0;
  const auto share = units::parse(*text, units::Dimension::kRatio);
  if (!share) {
    complain("--near: " + share.error().message + "; " + share.error().hint);
    return std::nullopt;
  }
  if (share->value > 0 && share->value <= kMost) return share->value;
  complain("--near: " + *text + " is not above 0 % and at most 50 %");
  return std::nullopt;
}

// Reads --time-limit into `limit`; false, with a word on standard error, when it is none.
bool read_limit(const std::optional<std::string>& text,
                std::optional<std::chrono::duration<double>>& limit) {
  if (!text) return true;
  const auto time = units::parse(*text, units::Dimension::kTime);
  if (!time) {
    complain("--time-limit: " + time.error().message + "; " + time.error().hint);
    return false;
  }
  if (!(time->value > 0)) {
    complain("--time-limit: " + *text + " leaves no time; give for example '30 s'");
    return false;
  }
  limit = std::chrono::duration<double>(time->value);
  return true;
}

void write_csv(std::ostream& out, const report::Result& result) {
  out << report::csv_header(result.job.requirement, false);
  std::string line;
  for (const search::Combination& member : result.front.members) {
    line.clear();
    report::append_csv(line, search::evaluate_design(result.setup, result.space, member), false);
    out << line;
  }
}

void write(Output& output, const report::Result& result, const Options& options,
           const std::optional<report::SliceNote>& slice) {
  std::ostream& out = output.stream();
  if (options.format == "json") {
    report::write_front_json(out, result, SPROCKETRY_VERSION, rule_rows(options.rules),
                             slice ? &*slice : nullptr);
  } else if (options.format == "csv") {
    write_csv(out, result);
  } else {
    report::write_front_text(out, result, options.all, output.colour());
  }
}

bool write_html(const report::Result& result, const std::string& path) {
  std::ostringstream page;
  report::write_front_html(page, result);
  return write_file(path, page.view());
}

// Whether all files that were asked for can be written, each to a place of its own.
bool can_write_files(const Output& output, const Options& options) {
  if (options.html && options.output == options.html) {
    complain("--output and --html name the same file; give each its own");
    return false;
  }
  return output.can_begin() && (!options.html || can_write(*options.html));
}

// The place of a design in a space, which may lack it.
std::optional<search::Combination> place_of(const search::Space& space,
                                            const rules::Selection& parts) {
  const auto index = [](const auto& options, const auto& is) {
    return static_cast<std::size_t>(std::ranges::find_if(options, is) - options.begin());
  };
  search::Combination c;
  c.motor = index(space.motors, [&](const auto& o) { return o.part == parts.motor; });
  c.controller =
      index(space.controllers, [&](const auto& o) { return o.part == parts.controller; });
  c.pack = index(space.packs, [&](const auto& o) { return o.part.id == parts.pack->id; });
  c.charger = index(space.chargers, [&](const auto& o) { return o.part == parts.charger; });
  c.chain = index(space.chains, [&](const auto& o) { return o.part == parts.chain; });
  c.front = index(space.fronts, [&](const auto& o) {
    return o.family == parts.front && o.teeth == parts.front_teeth;
  });
  c.rear = index(space.rears, [&](const auto& o) {
    return o.family == parts.rear && o.teeth == parts.rear_teeth;
  });
  const bool there = c.motor < space.motors.size() && c.controller < space.controllers.size() &&
                     c.pack < space.packs.size() && c.charger < space.chargers.size() &&
                     c.chain < space.chains.size() && c.front < space.fronts.size() &&
                     c.rear < space.rears.size();
  return there ? std::optional(c) : std::nullopt;
}

// --stand-ins: the nearest designs without each part of one.
int write_stand_ins(Output& output, const spec::Job& job, const search::Setup& setup,
                    const search::Space& space, const Options& options) {
  constexpr std::size_t kNearest = 3;
  const auto choice = picked(job, setup, {*options.stand_ins});
  if (!choice) return kBadInput;
  const search::Design wanted = search::evaluate_design(setup, choice->space, choice->combination);
  const auto place = place_of(space, wanted.parts);
  if (!place) {
    complain("--stand-ins: the requirement's `choose` leaves out a part of " + *options.stand_ins);
    return kBadInput;
  }
  const search::Design design = search::evaluate_design(setup, space, *place);
  const auto list = search::find_alternatives(setup, space, *place, kNearest, options.threads);
  if (options.format == "json") {
    report::write_alternatives_json(output.stream(), design, list, setup, job,
                                    rule_rows(options.rules));
  } else {
    report::write_alternatives_text(output.stream(), design, list, setup, job, output.colour());
  }
  return output.finish(kDone);
}

// Whether the options go together with --slice.
bool is_sound_slice(const Options& o) {
  if (o.near || o.resolution || o.stand_ins || o.html || o.all) {
    complain(
        "--slice gives a part of the front, for `merge`: leave out --near, --resolution, "
        "--stand-ins, --html and --all");
    return false;
  }
  if (o.format == "json") return true;
  complain("--slice gives a part of the front, which `merge` reads as JSON: add --format json");
  return false;
}

// Whether the options go together.
bool is_sound(const Options& o) {
  if (o.slice && !is_sound_slice(o)) return false;
  if (o.near && o.resolution) {
    complain("--near gives more designs and --resolution fewer: use one of them");
    return false;
  }
  if (!o.stand_ins ||
      (o.format != "csv" && !o.html && !o.resolution && !o.near && !o.time_limit && !o.all))
    return true;
  complain(
      "--stand-ins has an answer of its own, as text or JSON: leave out --format csv, --html, "
      "--resolution, --near, --time-limit and --all");
  return false;
}

int run(const Options& options) {
  if (!is_sound(options)) return kBadInput;
  Output output(options.output);
  std::optional<std::chrono::duration<double>> limit;
  if (!can_write_files(output, options) || !read_limit(options.time_limit, limit)) return kBadInput;
  const auto near_share = read_near(options.near);
  if (!near_share) return kBadInput;
  std::optional<report::SliceNote> slice;
  if (options.slice) {
    const auto part = read_slice(*options.slice);
    if (!part) return kBadInput;
    slice = report::SliceNote{*part, {}};
  }
  search::Watch watch;
  Stopper stopper([&watch] { watch.stop = true; }, limit);
  document::Diagnostics diagnostics;
  const auto job = load(options.job, diagnostics);
  if (!job) return kBadInput;
  const search::Setup setup = search::make_setup(job->requirement);
  search::Space space = search::make_space(*job);
  if (slice) {
    slice->question = question_digest(diagnostics, options.job, options.rules);
    space = search::slice_of(space, slice->slice);
  }
  if (options.stand_ins) {
    stopper.let_end();
    return write_stand_ins(output, *job, setup, space, options);
  }
  std::optional<search::Resolution> resolution;
  if (options.resolution) {
    resolution = read_resolution(*options.resolution, setup);
    if (!resolution) return kBadInput;
  }
  search::Front front = find(setup, space, options, *near_share, watch);
  stopper.let_end();
  if (resolution) search::coarsen(front, setup.objectives.size(), *resolution);
  const report::Result result{*job, setup, space, front};
  write(output, result, options, slice);
  // That a slice has nothing is no answer yet.
  const bool nothing = front.members.empty() && !slice;
  const int code = output.finish(!front.exact ? kStopped : nothing ? kAnswerIsNo : kDone);
  if (options.html && !write_html(result, *options.html)) return kStopped;
  return code;
}

}  // namespace

void add_search(CLI::App& app, Run& action) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand(
      "search",
      "Finds every set of parts that fits together, meets all demands, and cannot be\n"
      "bettered in one aim without losing in another. Exact: nothing is sampled.");
  add_job_options(*command, options->job);
  add_choice(*command, "--format", options->format, {"text", "json", "csv"}, "form of the output");
  command->add_flag("--all", options->all,
                    "text: show the whole front, not 24 designs spread over it");
  add_rules(*command, options->rules);
  command->add_option("--html", options->html, "also write the front as a page with a picture")
      ->type_name("FILE");
  add_output(*command, options->output);
  add_threads(*command, options->threads);
  command
      ->add_option("--resolution", options->resolution,
                   "keep few designs that match all within steps as "
                   "'pull_away=0.1 s,range=1 km'")
      ->type_name("STEPS");
  command
      ->add_option("--near", options->near,
                   "also what lies within this share of the front in every aim, as '2 %'")
      ->type_name("SHARE");
  command
      ->add_option("--stand-ins", options->stand_ins,
                   "instead: the nearest designs that do without each part of this one")
      ->type_name("ID");
  command
      ->add_option("--slice", options->slice,
                   "only the Kth of N parts of all combinations, as 3/16, for "
                   "`merge`")
      ->type_name("K/N");
  command
      ->add_option("--time-limit", options->time_limit,
                   "stop after so long, as '30 s', with the best front so far; so does "
                   "Ctrl-C")
      ->type_name("TIME");
  lay_out(*command,
          glossary() + '\n' + rule_list() +
              "\nExit codes: 0 a front, or a slice with or without one; 1 nothing meets the "
              "demands; 2 wrong\ninput; 3 stopped before the end.");
  command->callback([options, &action] { action = [options] { return run(*options); }; });
}

}  // namespace sprocketry::cli
