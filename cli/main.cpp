#include <iostream>

#include "commands.hpp"
#include "guard.hpp"
#include "manual.hpp"
#include "output.hpp"
#include "usage.hpp"

namespace {

using namespace sprocketry::cli;

int run_program(int argc, char** argv) {
  prepare_streams();
  std::ios::sync_with_stdio(false);
  CLI::App app(
      "Sprocketry chooses motor, controller, battery pack, charger, chain and sprockets for a\n"
      "motorcycle that gets an electric motor: a requirement in, the exact trade-off out.",
      "sprocketry");
  app.set_version_flag("--version", "sprocketry " SPROCKETRY_VERSION, "print the version");
  app.require_subcommand(1);
  Run run;
  add_search(app, run);
  add_merge(app, run);
  add_evaluate(app, run);
  add_enumerate(app, run);
  add_explain(app, run);
  add_robust(app, run);
  add_compare(app, run);
  add_lock(app, run);
  add_check(app, run);
  add_parts(app, run);
  add_chain(app, run);
  add_swaps(app, run);
  add_sheet(app, run);
  add_guard(app, run);
  lay_out(app, exit_codes());
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return answer(app, error);
  }
  return run();
}

}  // namespace

int main(int argc, char** argv) {
  return guarded([&] { return run_program(argc, argv); });
}
