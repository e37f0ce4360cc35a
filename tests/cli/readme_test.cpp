#include <gtest/gtest.h>

#include <sstream>

#include "cli/launch.hpp"

namespace sprocketry::test::tiny {
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
    Surroundings root;
    root.folder = SPROCKETRY_SOURCE_DIR;
    const Outcome outcome = run(split(line.substr(prompt.size()), ' '), root);
    std::string shown;
    while (std::getline(readme, line) && line != "```") shown += line + '\n';
    EXPECT_EQ(outcome.out, shown);
    EXPECT_LE(outcome.code, 1);  // 1: the answer is no
    EXPECT_EQ(outcome.err, "");
  }
  EXPECT_GE(commands, 1);
}

}  // namespace
}  // namespace sprocketry::test::tiny
