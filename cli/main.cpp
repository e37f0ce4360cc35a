#include <exception>
#include <iostream>

#include "commands.hpp"

int main(int argc, char** argv) {
  using namespace sprocketry::cli;
  std::ios::sync_with_stdio(false);
  CLI::App app{
      "Sprocketry chooses motor, controller, battery pack, charger, chain and sprockets for a\n"
      "motorcycle that gets an electric motor: a requirement in, the exact trade-off out.\n"
      "Example: sprocketry search specs/demo.yaml"};
  app.set_version_flag("--version", "sprocketry " SPROCKETRY_VERSION);
  app.require_subcommand(1);
  Run run;
  add_search(app, run);
  add_evaluate(app, run);
  add_enumerate(app, run);
  add_parts(app, run);
  try {
    app.parse(argc, argv);
    return run();
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? kDone : kBadInput;
  } catch (const std::exception& error) {
    std::cerr << "sprocketry: " << error.what()
              << "\nThis is a defect in the program; please report it with the files that you "
                 "used.\n";
    return kDefect;
  }
}
