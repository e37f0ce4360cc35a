#include "search/search.hpp"

#include <chrono>
#include <memory>
#include <sstream>

#include "commands.hpp"
#include "complain.hpp"
#include "limits.hpp"
#include "manual.hpp"
#include "options.hpp"
#include "output.hpp"
#include "progress.hpp"
#include "rank_search.hpp"
#include "ranks.hpp"
#include "report/design_csv.hpp"
#include "report/front_html.hpp"
#include "report/front_json.hpp"
#include "report/front_text.hpp"
#include "resolution.hpp"
#include "search/confidence.hpp"
#include "search/in_order.hpp"
#include "search/resolution.hpp"
#include "slice.hpp"
#include "stand_ins.hpp"
#include "stopper.hpp"

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
  std::optional<std::size_t> samples;
  bool all = false;
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

// Nothing on the ranks that do not speak.
std::optional<search::Front> find(Ranks& ranks, const search::Setup& setup,
                                  const search::Space& space, const Options& options, double near,
                                  search::Watch& watch) {
  const auto begin = std::chrono::steady_clock::now();
  const Progress progress([&] {
    const std::chrono::duration<double> passed = std::chrono::steady_clock::now() - begin;
    return progress_text(space, watch, passed.count());
  });
  const search::SearchOptions how{.threads = options.job.threads, .near = near, .watch = &watch};
  if (!ranks.several()) return search::search(setup, space, how);
  return search_on_ranks(ranks, setup, space, how);
}

// Puts one more field at the end of the line that a text ends with.
void add_field(std::string& text, const std::string& field) {
  text.insert(text.size() - 1, ',' + field);
}

void write_csv(std::ostream& out, const report::Result& result, int threads) {
  const bool confident = result.front.sampling.has_value();
  std::string header = report::csv_header(result.job.requirement, false);
  if (confident) add_field(header, "confidence_percent");
  out << header;
  search::write_in_order(
      result.front.members.size(), threads,
      [&](std::size_t first, std::size_t last, std::string& text) {
        for (std::size_t i = first; i < last; ++i) {
          report::append_csv(
              text, search::evaluate_design(result.setup, result.space, result.front.members[i]),
              false);
          if (confident) add_field(text, parts::number_text(report::confidence(result, i)));
        }
      },
      [&](std::string_view text) { out << text; });
}

void write(Output& output, const report::Result& result, const Options& options,
           const std::optional<report::SliceNote>& slice) {
  std::ostream& out = output.stream();
  if (options.format == "json") {
    report::write_front_json(out, result, SPROCKETRY_VERSION, rule_rows(options.rules),
                             slice ? &*slice : nullptr, options.job.threads);
  } else if (options.format == "csv") {
    write_csv(out, result, options.job.threads);
  } else {
    report::write_front_text(out, result, options.all, output.colour());
  }
}

bool write_html(const report::Result& result, const std::string& path) {
  std::ostringstream page;
  report::write_front_html(page, result);
  return write_file(path, page.view());
}

WrittenFiles files_of(const Options& options) {
  return {{"--output", options.output}, {"--html", options.html}};
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

// Whether the options go together with the objective `confidence`, or, without it, with none.
bool is_sound_with(bool confidence, const Ranks& ranks, const Options& o) {
  if (confidence && (o.slice || o.near || o.stand_ins || ranks.several())) {
    complain(
        "with the objective `confidence` all that is feasible is computed over the same samples: "
        "leave out --slice, --near and --stand-ins, and start one process");
    return false;
  }
  if (confidence || !o.samples) return true;
  complain("--samples is for the objective `confidence`, which the requirement does not name");
  return false;
}

// Whether several processes can share this work.
bool is_sound_for(const Ranks& ranks, const Options& options) {
  if (!ranks.several()) return true;
  if (options.slice) {
    complain("--slice is for runs that know nothing of each other: leave it out, or start one");
    return false;
  }
  if (Ranks::can_join()) return true;
  complain("each of these " + std::to_string(ranks.size()) +
           " processes would search the whole, since this program was built without MPI: install "
           "Open MPI (libopenmpi-dev) and build it again, or start one process");
  return false;
}

// What is asked for, read from the words of the command.
struct Request {
  std::optional<std::chrono::duration<double>> limit;
  double near = 0;
  std::optional<report::SliceNote> slice;
};

bool read_request(const Options& options, Request& request) {
  const auto near = read_near(options.near);
  if (!read_limit(options.time_limit, request.limit) || !near) return false;
  request.near = *near;
  if (!options.slice) return true;
  const auto slice = read_slice(*options.slice);
  if (slice) request.slice = report::SliceNote{*slice, {}};
  return slice.has_value();
}

// Nothing when it was stopped, or after a word on what is wrong; then `code` says which.
std::optional<search::Front> find_confident(const search::ConfidenceWork& work,
                                            const Options& options, search::Watch& watch,
                                            int& code) {
  search::RobustOptions how;
  how.samples = options.samples.value_or(how.samples);
  how.threads = options.job.threads;
  const Progress progress([&] {
    const double all = watch.compatible;
    const double share = all > 0 ? 100 * watch.settled / all : 0;
    return "computing samples, " + report::rounded(share, 1) + " % settled";
  });
  auto front = search::search_confident(work, how, &watch);
  if (front && *front) return std::move(*front);
  code = front ? kStopped : kBadInput;
  complain(front ? "stopped before the confidence of every design was known: there is no answer"
                 : front.error());
  return std::nullopt;
}

int search_confidently(Output& output, const Options& options, const search::ConfidenceWork& work,
                       search::Watch& watch, Stopper& stopper) {
  const search::Setup setup = search::with_confidence(work.setup);
  std::optional<search::Resolution> resolution;
  if (options.resolution) {
    resolution = read_resolution(*options.resolution, setup);
    if (!resolution) return kBadInput;
  }
  int code = kDone;
  auto front = find_confident(work, options, watch, code);
  stopper.let_end();
  if (!front) return code;
  if (resolution) search::coarsen(*front, setup.objectives.size(), *resolution);
  const report::Result result{work.job, setup, work.space, *front};
  write(output, result, options, std::nullopt);
  code = output.finish(front->members.empty() ? kAnswerIsNo : kDone);
  if (options.html && !write_html(result, *options.html)) return kStopped;
  return code;
}

int search_and_write(Ranks& ranks, Output& output, const Options& options, Request& request,
                     search::Watch& watch, Stopper& stopper) {
  document::Diagnostics diagnostics;
  spec::WrittenJob written;
  const auto job = load(options.job, files_of(options), diagnostics, &written);
  const auto question = [&] { return question_digest(diagnostics, options.job, options.rules); };
  if (ranks.several() &&
      !agree(ranks, job ? std::optional(question() + options.near.value_or("")) : std::nullopt)) {
    return kBadInput;
  }
  if (!job || !is_sound_with(job->requirement.confidence, ranks, options)) return kBadInput;
  if (ranks.first()) point_to_doubtful_parts(*job, options.job.file);
  const search::Setup setup = search::make_setup(job->requirement);
  search::Space space = search::make_space(*job);
  if (job->requirement.confidence) {
    return search_confidently(output, options, {*job, written, setup, space}, watch, stopper);
  }
  if (options.stand_ins) {
    stopper.let_end();
    return write_stand_ins(
        output, *job, setup, space,
        {*options.stand_ins, options.format, options.rules, options.job.threads});
  }
  if (request.slice) {
    request.slice->question = question();
    space = search::slice_of(space, request.slice->slice);
  }
  std::optional<search::Resolution> resolution;
  if (options.resolution) {
    resolution = read_resolution(*options.resolution, setup);
    if (!resolution) return kBadInput;
  }
  auto front = find(ranks, setup, space, options, request.near, watch);
  stopper.let_end();
  ranks.leave();
  if (!front) return kDone;
  if (resolution) search::coarsen(*front, setup.objectives.size(), *resolution);
  const report::Result result{*job, setup, space, *front};
  write(output, result, options, request.slice);
  // That a slice has nothing is no answer yet.
  const bool nothing = front->members.empty() && !request.slice;
  const int code = output.finish(!front->exact ? kStopped : nothing ? kAnswerIsNo : kDone);
  if (options.html && !write_html(result, *options.html)) return kStopped;
  return code;
}

int run(const Options& options) {
  Ranks ranks;
  Output output(options.output);
  // A launcher of several gives each a terminal of its own, wherever the output goes.
  if (ranks.several()) output.stay_plain();
  Request request;
  if (!is_sound(options) || !is_sound_for(ranks, options)) return kBadInput;
  if (options.stand_ins && !ranks.first()) return kDone;
  if ((ranks.first() && !can_write(files_of(options))) || !read_request(options, request)) {
    return kBadInput;
  }
  search::Watch watch;
  Stopper stopper([&watch] { watch.stop = true; }, request.limit);
  if (options.stand_ins) ranks.stay_alone();
  ranks.join();
  try {
    const int code = search_and_write(ranks, output, options, request, watch, stopper);
    ranks.leave();
    return code;
  } catch (const std::exception& error) {
    // Said now: when `ranks` dies, so do all processes.
    if (ranks.several()) complain(error.what());
    throw;
  }
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
  add_threads(*command, options->job.threads);
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
      ->add_option("--samples", options->samples,
                   "with the objective `confidence`: samples to compute (1000 if not given)")
      ->check([](const std::string& text) {
        return check_whole(text, search::kLeastSamples, search::kMostSamples);
      })
      ->type_name("N");
  command
      ->add_option("--time-limit", options->time_limit,
                   "stop after so long, as '30 s', with the best front so far; so does "
                   "Ctrl-C")
      ->type_name("TIME");
  lay_out(
      *command,
      glossary() + '\n' + rule_list() +
          "\nWith `confidence` among the objectives every feasible design is computed over the "
          "samples\n"
          "that `robust` takes, and a surer one is on the front beside a faster or cheaper one.\n"
          "\nOn several processors or machines, where built with Open MPI: mpirun -n N sprocketry "
          "search ...\nEach of the N searches a slice, and the first prints what one alone "
          "prints.\n\nExit codes: 0 a front, or a slice with or without one; 1 nothing meets the "
          "demands; 2 wrong\ninput; 3 stopped before the end.");
  command->callback([options, &action] { action = [options] { return run(*options); }; });
}

}  // namespace sprocketry::cli
