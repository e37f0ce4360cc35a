#include "usage.hpp"

#include <algorithm>
#include <iostream>

#include "commands.hpp"
#include "complain.hpp"
#include "manual.hpp"
#include "options.hpp"
#include "output.hpp"

namespace sprocketry::cli {
namespace {

using Words = std::vector<std::string>;

Words command_names(const CLI::App& app) {
  Words names;
  for (const CLI::App* command : app.get_subcommands({})) names.push_back(command->get_name());
  return names;
}

Words option_names(const CLI::App& command) {
  Words names;
  for (const CLI::Option* option : command.get_options()) {
    for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
  }
  return names;
}

std::string no_command(const CLI::App& app, const Words& extras) {
  const Words names = command_names(app);
  std::string text = "name a command";
  if (!extras.empty()) {
    text = "there is no command '" + extras.front() + "'" + did_you_mean(extras.front(), names);
  }
  text += "\nCommands:";
  for (const std::string& name : names) text += ' ' + name;
  return text;
}

std::string unknown_option(const CLI::App& app, const CLI::App& command, const std::string& word) {
  const std::string name = word.substr(0, word.find('='));
  std::string text = command.get_name() + " has no option '" + name + "'";
  const std::string near = did_you_mean(name, option_names(command));
  if (!near.empty()) return text + near;
  for (const CLI::App* other : app.get_subcommands({})) {
    const Words names = option_names(*other);
    if (std::ranges::find(names, name) != names.end()) {
      return text + "; " + other->get_name() + " has it";
    }
  }
  return text;
}

std::string problem(const CLI::App& app, const CLI::App* command, const CLI::ParseError& error) {
  const Words extras = app.remaining(true);
  const auto option =
      std::ranges::find_if(extras, [](const std::string& word) { return word.starts_with('-'); });
  if (option != extras.end()) return unknown_option(app, command ? *command : app, *option);
  if (!command) return no_command(app, extras);
  if (!extras.empty()) return "'" + extras.front() + "' is one argument too many";
  std::string text = error.what();
  const std::size_t twice = text.find(": At Most 1 required");
  if (twice != std::string::npos) return text.substr(0, twice) + " may be given once only";
  return text;
}

}  // namespace

int answer(const CLI::App& app, const CLI::ParseError& error) {
  if (error.get_exit_code() == 0) {
    app.exit(error, std::cout, std::cerr);
    return finish_output(kDone);
  }
  const auto parsed = app.get_subcommands();
  const CLI::App* command = parsed.empty() ? nullptr : parsed.front();
  const std::string name = command ? command->get_name() : "";
  complain(problem(app, command, error) + "\nFor example: " + std::string(example_of(name)) +
           "\nMore: sprocketry " + name + (command ? " " : "") + "--help");
  return kBadInput;
}

}  // namespace sprocketry::cli
