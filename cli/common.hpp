#pragma once

#include <CLI/CLI.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "report/text.hpp"
#include "spec/load.hpp"

namespace sprocketry::cli {

// What every command on a requirement takes.
struct JobOptions {
  std::string file;
  std::vector<std::string> overrides;
};
void add_job_options(CLI::App& command, JobOptions& options);

// --threads N.
void add_threads(CLI::App& command, int& threads);

// Loads the job; findings go to standard error. Nothing after an error.
std::optional<spec::Job> load(const JobOptions& options);

// Colour when standard output is a terminal and NO_COLOR is not set.
report::Colour colour();

// Says so on standard error and returns kDefect's sibling for a full disk when standard output did
// not take everything; else `code`.
int finish_output(int code);

// Writes a whole file beside its name and renames it, so that a failure leaves the old one. Prints
// why on standard error and returns false when it cannot.
bool write_file(const std::string& path, std::string_view text);

// Words of tables, one line each, for --help.
std::string glossary();
std::string rule_list();

}  // namespace sprocketry::cli
