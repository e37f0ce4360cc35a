#include <iostream>
#include <memory>

#include "commands.hpp"
#include "manual.hpp"
#include "options.hpp"
#include "output.hpp"
#include "parts/load.hpp"
#include "report/parts_json.hpp"
#include "report/parts_text.hpp"

namespace sprocketry::cli {
namespace {

struct Options {
  std::vector<std::string> files;
  std::vector<std::string> overrides;
  std::string format = "text";
  std::optional<std::string> output;
};

int run(const Options& options) {
  Output output(options.output);
  if (!output.can_begin()) return kBadInput;
  document::Diagnostics diagnostics;
  std::vector<parts::PartsFile> files;
  for (const std::string& name : options.files) {
    const auto named = spec::parts_files_of(name, options.overrides, diagnostics);
    files.insert(files.end(), named.begin(), named.end());
  }
  parts::Catalogue catalogue;
  if (!diagnostics.has_errors()) catalogue = parts::load_catalogue(files, true, diagnostics);
  std::cerr << diagnostics.text();
  if (diagnostics.has_errors() || !spares(diagnostics, output.files())) return kBadInput;
  if (options.format == "json") {
    report::write_parts_json(output.stream(), catalogue, SPROCKETRY_VERSION);
  } else {
    report::write_parts_text(output.stream(), catalogue, output.colour());
  }
  return output.finish(kDone);
}

}  // namespace

void add_parts(CLI::App& app, Run& action) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand(
      "parts",
      "Lists and checks parts files, and warns about numbers of one part that do not go\n"
      "together.");
  command
      ->add_option("FILE", options->files,
                   "parts files, or requirements whose parts files are meant")
      ->required()
      ->type_name("");
  add_set(*command, options->overrides);
  add_choice(*command, "--format", options->format, {"text", "json"}, "form of the output");
  add_output(*command, options->output);
  lay_out(*command,
          "Warnings and errors go to standard error, with file, line and what to do.\n"
          "\nExit codes: 0 the files can be used, even with warnings; 2 wrong input.");
  command->callback([options, &action] { action = [options] { return run(*options); }; });
}

}  // namespace sprocketry::cli
