#include "common.hpp"

#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>

#include "commands.hpp"
#include "rules/rule.hpp"
#include "spec/metrics.hpp"

namespace sprocketry::cli {

void add_job_options(CLI::App& command, JobOptions& options) {
  command.add_option("requirement", options.file, "the requirement file (YAML)")->required();
  command
      .add_option("--set", options.overrides,
                  "overrides one key of the requirement, as PATH=VALUE; may be repeated "
                  "(--set 'must.top_speed.min=90 km/h')")
      ->take_all()
      ->expected(1);
}

void add_threads(CLI::App& command, int& threads) {
  command.add_option("--threads", threads, "threads to use; 0: all cores. The result is the same")
      ->check(CLI::Range(0, 1024))
      ->capture_default_str();
}

std::optional<spec::Job> load(const JobOptions& options) {
  document::Diagnostics diagnostics;
  auto job = spec::load_job(options.file, options.overrides, diagnostics);
  std::cerr << diagnostics.text();
  return job;
}

report::Colour colour() {
  const char* no_colour = std::getenv("NO_COLOR");
  const bool refused = no_colour != nullptr && *no_colour != '\0';
  return !refused && isatty(STDOUT_FILENO) ? report::Colour::kTerminal : report::Colour::kNever;
}

int finish_output(int code) {
  std::cout.flush();
  if (std::cout.good() && std::fflush(stdout) == 0) return code;
  std::cerr << "sprocketry: the output could not be written whole (is the disk full, or did the "
               "reader stop?)\n";
  return kStopped;
}

bool write_file(const std::string& path, std::string_view text) {
  const std::string temporary = path + ".part";
  std::error_code error;
  {
    std::ofstream file(temporary, std::ios::binary | std::ios::trunc);
    file.write(text.data(), static_cast<std::streamsize>(text.size()));
    file.close();
    if (!file) {
      std::cerr << "sprocketry: " << path << " cannot be written; does its folder exist, and is "
                << "there room?\n";
      std::filesystem::remove(temporary, error);
      return false;
    }
  }
  std::filesystem::rename(temporary, path, error);
  if (!error) return true;
  std::cerr << "sprocketry: " << path << " cannot be replaced: " << error.message() << '\n';
  std::filesystem::remove(temporary, error);
  return false;
}

std::string glossary() {
  std::string text = "Words of the tables:\n";
  for (const spec::MetricInfo& info : spec::metric_table()) {
    std::string name(info.name);
    name.resize(std::max<std::size_t>(name.size(), 22), ' ');
    text += "  " + name + std::string(info.explanation) +
            (info.objective ? " (may be an objective)" : "") + '\n';
  }
  text +=
      "  gearing               teeth of front and rear sprocket; reduction is rear over front\n"
      "  full-charge voltage   the pack's voltage at the end of charging\n"
      "  margin                how far inside its limit a value lies\n";
  return text;
}

std::string rule_list() {
  std::string text = "Rules, in the order in which a rejected combination is counted:\n";
  for (const rules::Rule& rule : rules::rule_table()) {
    std::string name(rule.name);
    name.resize(std::max<std::size_t>(name.size(), 27), ' ');
    text += "  " + name + std::string(rule.explanation) +
            (rule.kind == rules::Kind::kCaution ? " (a caution)" : "") + '\n';
  }
  return text;
}

}  // namespace sprocketry::cli
