#pragma once

#include <CLI/CLI.hpp>

namespace sprocketry::cli {

// Answers what parsing the command line threw: prints the help or the version that was asked for,
// or what is wrong and what to write instead. Returns the exit code.
int answer(const CLI::App& app, const CLI::ParseError& error);

}  // namespace sprocketry::cli
