#include <iostream>
#include <memory>

#include "commands.hpp"
#include "complain.hpp"
#include "document/file.hpp"
#include "manual.hpp"
#include "options.hpp"
#include "output.hpp"
#include "report/front_merge.hpp"

namespace sprocketry::cli {
namespace {

struct Options {
  std::vector<std::string> files;
  std::string format = "json";
  std::optional<std::string> output;
};

// Reads and merges all files; false, with a word on standard error, when they are not the whole.
bool merge_all(const std::vector<std::string>& files, report::FrontMerge& merge) {
  constexpr std::size_t kMostBytes = std::size_t{4} << 30;
  bool sound = true;
  for (const std::string& file : files) {
    // Of its own, so that a file's text is not kept for longer than it is needed.
    document::Diagnostics diagnostics;
    const document::Source* source = document::read_file(file, file, {}, diagnostics, kMostBytes);
    if (source != nullptr) merge.add(*source, diagnostics);
    std::cerr << diagnostics.text();
    sound = sound && !diagnostics.has_errors();
  }
  if (!sound) return false;
  const std::string missing = merge.missing();
  if (missing.empty()) return true;
  complain("of " + std::to_string(merge.slices()) + " slices these are missing: " + missing +
           "; search and name them too");
  return false;
}

int run(const Options& options) {
  Output output(options.output);
  if (!output.can_begin()) return kBadInput;
  if (!spares({options.files.begin(), options.files.end()}, output.files())) return kBadInput;
  report::FrontMerge merge(SPROCKETRY_VERSION);
  if (!merge_all(options.files, merge)) return kBadInput;
  for (const std::string& file : merge.stopped()) {
    complain(file + " was stopped before its end: the answer is the best so far, not the front");
  }
  if (options.format == "json") {
    merge.write_json(output.stream());
  } else {
    merge.write_text(output.stream(), output.colour());
  }
  const bool nothing = merge.size() == 0;
  return output.finish(!merge.exact() ? kStopped : nothing ? kAnswerIsNo : kDone);
}

}  // namespace

void add_merge(CLI::App& app, Run& action) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand(
      "merge",
      "Makes one front of those that `search --slice` found, perhaps on several machines: the\n"
      "very front that one search of the whole finds.");
  command
      ->add_option("FRONT", options->files,
                   "what `search --slice K/N --format json` wrote, one file for each slice, in\n"
                   "any order")
      ->required()
      ->type_name("");
  add_choice(*command, "--format", options->format, {"json", "text"},
             "form of the output: the whole front, or\nits size and the best in each aim");
  add_output(*command, options->output);
  lay_out(*command,
          "All slices must be there, each once, of one question: the same requirement, --set,\n"
          "parts files and --rules, searched by this version of the program. Combinations, front\n"
          "and objectives are those of one search, byte for byte. The counts of the slices are\n"
          "added; where one search of the whole would leave out what cannot be on the front, and\n"
          "so counts some of it under another rule or as pruned, only their sum is the same.\n\n"
          "A slice that was stopped before its end is merged, and the answer marked not exact.\n\n"
          "Exit codes: 0 a front; 1 nothing meets the demands; 2 wrong input; 3 a slice was\n"
          "stopped before its end.");
  command->callback([options, &action] { action = [options] { return run(*options); }; });
}

}  // namespace sprocketry::cli
