#include "options.hpp"

#include <algorithm>
#include <charconv>
#include <iostream>

#include "complain.hpp"
#include "document/diagnostics.hpp"
#include "parts/plausible.hpp"
#include "search/workers.hpp"
#include "units/units.hpp"

namespace sprocketry::cli {
namespace {

constexpr int kMostThreads = 1024;

std::string joined(const std::vector<std::string>& words, std::string_view separator) {
  std::string text;
  for (const std::string& word : words) {
    if (!text.empty()) text += separator;
    text += word;
  }
  return text;
}

std::string check_threads(const std::string& text) {
  int value = -1;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  const bool whole = error == std::errc{} && end == text.data() + text.size();
  if (whole && value >= 0 && value <= kMostThreads) return {};
  return "'" + text + "' is not a number of threads; write a whole number from 0 (all cores) to " +
         std::to_string(kMostThreads);
}

}  // namespace

void add_job_options(CLI::App& command, JobOptions& options) {
  command.add_option("REQUIREMENT", options.file, "the requirement file (YAML)")
      ->required()
      ->type_name("");
  add_set(command, options.overrides);
}

void add_set(CLI::App& command, std::vector<std::string>& overrides) {
  command
      .add_option("--set", overrides,
                  "another value for one key of the requirement, for example\n"
                  "--set 'must.top_speed.min=90 km/h'; may be repeated")
      ->take_all()
      ->expected(1)
      ->type_name("PATH=VALUE");
}

void add_choice(CLI::App& command, const std::string& name, std::string& value,
                const std::vector<std::string>& words, const std::string& description) {
  const auto check = [words](const std::string& text) -> std::string {
    if (std::ranges::find(words, text) != words.end()) return {};
    return "'" + text + "' is not one of " + joined(words, ", ") + did_you_mean(text, words);
  };
  command.add_option(name, value, description + " (" + value + " if not given)")
      ->check(check)
      ->type_name(joined(words, "|"));
}

void add_rules(CLI::App& command, std::string& rules) {
  add_choice(command, "--rules", rules, {"telling", "all"},
             "rules to show of each design: the telling ones (cautions,\n"
             "not checked, the three tightest) or all");
}

report::RuleRows rule_rows(const std::string& rules) {
  return rules == "all" ? report::RuleRows::kAll : report::RuleRows::kTelling;
}

void add_threads(CLI::App& command, int& threads) {
  command
      .add_option("--threads", threads,
                  "threads to use; 0, if not given, is all cores. The output is the same")
      ->check(check_threads)
      ->type_name("N");
}

std::string check_whole(const std::string& text, std::uint64_t least, std::uint64_t most) {
  std::uint64_t value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error == std::errc{} && end == text.data() + text.size() && value >= least && value <= most) {
    return {};
  }
  return "'" + text + "' is not a whole number from " + std::to_string(least) + " to " +
         std::to_string(most);
}

void add_output(CLI::App& command, std::optional<std::string>& path) {
  command
      .add_option("--output", path,
                  "write to this file instead of standard output: whole, or not at all")
      ->type_name("FILE");
}

std::optional<spec::Job> load(const JobOptions& options, const WrittenFiles& outputs,
                              spec::WrittenJob* written) {
  document::Diagnostics diagnostics;
  return load(options, outputs, diagnostics, written);
}

std::optional<spec::Job> load(const JobOptions& options, const WrittenFiles& outputs,
                              document::Diagnostics& diagnostics, spec::WrittenJob* written) {
  std::optional<spec::Job> job;
  search::Workers(options.threads).run([&] {
    job = spec::load_job(options.file, options.overrides, diagnostics, written);
  });
  std::cerr << diagnostics.text();
  if (job && !spares(diagnostics, outputs)) job.reset();
  return job;
}

void point_to_doubtful_parts(const spec::Job& job, const std::string& file) {
  document::Diagnostics doubts;
  parts::warn_implausible(job.catalogue, doubts);
  const std::size_t count = doubts.all().size();
  if (count == 0) return;
  complain((count == 1 ? "something in the parts is"
                       : std::to_string(count) + " things in the parts are") +
           std::string(" hard to believe; this names ") + (count == 1 ? "it" : "them") +
           ": sprocketry parts " + file);
}

std::string did_you_mean(std::string_view word, const std::vector<std::string>& known) {
  const auto near = document::nearest(word, {known.begin(), known.end()});
  return near ? "; did you mean '" + std::string(*near) + "'?" : "";
}

std::optional<double> length_of(const char* option, const std::string& text,
                                const parts::QuantityRule& rule) {
  const auto quantity = units::parse(text, units::Dimension::kLength);
  if (!quantity) {
    complain(std::string(option) + ": " + quantity.error().message + "; " + quantity.error().hint);
    return std::nullopt;
  }
  if (quantity->value >= rule.min && quantity->value <= rule.max) return quantity->value;
  complain(std::string(option) + ": " + text + " is not between " +
           units::print(rule.min, units::Dimension::kLength, "mm") + " and " +
           units::print(rule.max, units::Dimension::kLength, "mm"));
  return std::nullopt;
}

}  // namespace sprocketry::cli
