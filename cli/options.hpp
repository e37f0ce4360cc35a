#pragma once

#include <CLI/CLI.hpp>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "parts/values.hpp"
#include "report/design_json.hpp"
#include "spec/load.hpp"
#include "written_files.hpp"

namespace sprocketry::cli {

// What every command on a requirement takes: the file, and --set PATH=VALUE; some take --threads.
struct JobOptions {
  std::string file;
  std::vector<std::string> overrides;
  int threads = 0;
};
void add_job_options(CLI::App& command, JobOptions& options);
void add_set(CLI::App& command, std::vector<std::string>& overrides);

// An option that takes one of some words, the present value being the default.
void add_choice(CLI::App& command, const std::string& name, std::string& value,
                const std::vector<std::string>& words, const std::string& description);

// --rules telling|all, and what it means.
void add_rules(CLI::App& command, std::string& rules);
report::RuleRows rule_rows(const std::string& rules);

// --threads N.
void add_threads(CLI::App& command, int& threads);

// --output FILE.
void add_output(CLI::App& command, std::optional<std::string>& path);

// "'12.5' is not a whole number from 1 to 20", or nothing: for CLI::Option::check().
std::string check_whole(const std::string& text, std::uint64_t least, std::uint64_t most);

// Loads the job; findings go to standard error. Nothing after an error, or when one of `outputs`
// would take the place of a file that was read. `written` gets what it was loaded from.
std::optional<spec::Job> load(const JobOptions& options, const WrittenFiles& outputs,
                              spec::WrittenJob* written = nullptr);
// The same; `diagnostics` holds the findings and what was read.
std::optional<spec::Job> load(const JobOptions& options, const WrittenFiles& outputs,
                              document::Diagnostics& diagnostics,
                              spec::WrittenJob* written = nullptr);

// Says on standard error when numbers of parts are hard to believe, and which command names them:
// such a part may vanish from every answer without a word.
void point_to_doubtful_parts(const spec::Job& job, const std::string& file);

// Reads an option's length in m within the rule's limits; says on standard error what is wrong.
std::optional<double> length_of(const char* option, const std::string& text,
                                const parts::QuantityRule& rule);

// "; did you mean 'search'?", or nothing.
std::string did_you_mean(std::string_view word, const std::vector<std::string>& known);

}  // namespace sprocketry::cli
