#include <gtest/gtest.h>

#include <sstream>

#include "cli/program.hpp"

namespace sprocketry::test {
namespace {

// Every "$ build/release/sprocketry ..." of the README is run, and what follows up to the end of
// its block must be what it prints.
TEST(Readme, ShowsWhatTheProgramPrints) {
  std::istringstream readme(read_file(SPROCKETRY_SOURCE_DIR "/README.md"));
  const std::string prompt = "$ build/release/sprocketry ";
  std::string line;
  int commands = 0;
  while (std::getline(readme, line)) {
    if (!line.starts_with(prompt)) continue;
    ++commands;
    const Outcome outcome = run_program(line.substr(prompt.size()));
    std::string shown;
    while (std::getline(readme, line) && line != "```") shown += line + '\n';
    EXPECT_EQ(outcome.output, shown);
    EXPECT_EQ(outcome.code, 0);
    EXPECT_EQ(outcome.errors, "");
  }
  EXPECT_GE(commands, 1);
}

}  // namespace
}  // namespace sprocketry::test
