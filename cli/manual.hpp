#pragma once

#include <CLI/CLI.hpp>
#include <string>
#include <string_view>

namespace sprocketry::cli {

// One example of each command, which works in the folder of the project.
std::string_view example_of(std::string_view command);

// Lays out the help of the program or a command like a short manual page. `more` comes after the
// example.
void lay_out(CLI::App& command, const std::string& more);

// The words of the tables, each explained once (from the table of metrics), and all rules in their
// order.
std::string glossary();
std::string rule_list();

// The exit codes of all commands.
std::string exit_codes();

}  // namespace sprocketry::cli
