#include <iostream>
#include <memory>

#include "commands.hpp"
#include "common.hpp"
#include "parts/load.hpp"
#include "report/parts_text.hpp"

namespace sprocketry::cli {
namespace {

struct Options {
  std::vector<std::string> files;
  std::vector<std::string> overrides;
};

int run(const Options& options) {
  document::Diagnostics diagnostics;
  std::vector<parts::PartsFile> files;
  for (const std::string& name : options.files) {
    const auto named = spec::parts_files_of(name, options.overrides, diagnostics);
    files.insert(files.end(), named.begin(), named.end());
  }
  parts::Catalogue catalogue;
  if (!diagnostics.has_errors()) catalogue = parts::load_catalogue(files, true, diagnostics);
  std::cerr << diagnostics.text();
  if (diagnostics.has_errors()) return kBadInput;
  report::write_parts_text(std::cout, catalogue, colour());
  return finish_output(kDone);
}

}  // namespace

void add_parts(CLI::App& app, Run& action) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand(
      "parts",
      "Lists and checks parts files, and warns about numbers of one part that do not go together.\n"
      "Example: sprocketry parts specs/parts/harbour.yaml");
  command
      ->add_option("files", options->files,
                   "parts files, or requirements whose parts files are meant")
      ->required();
  command->add_option("--set", options->overrides, "overrides one key of a requirement, PATH=VALUE")
      ->take_all()
      ->expected(1);
  command->footer("Exit code 0: the files can be used (warnings go to standard error); 2: wrong.");
  command->callback([options, &action] { action = [options] { return run(*options); }; });
}

}  // namespace sprocketry::cli
