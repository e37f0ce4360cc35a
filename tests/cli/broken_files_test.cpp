#include "hostile/broken_files.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "cli/launch.hpp"

namespace sprocketry::test::tiny {
namespace {

// The files of one row in a folder of their own; what stands there of another test is not theirs.
void lay_out(const Workplace& place, const BrokenFile& row) {
  std::filesystem::remove(place.bike());
  std::filesystem::remove(place.file("parts.yaml"));
  for (const auto& [name, text] : row.files) {
    if (name.ends_with('/')) {
      std::filesystem::create_directories(place.file(name));
    } else {
      place.write(name, text);
    }
  }
}

Words command(const std::string& name, const Workplace& place, const BrokenFile& row) {
  Words words = {name, place.bike()};
  for (const std::string& assignment : row.overrides) {
    words.insert(words.end(), {"--set", assignment});
  }
  return words;
}

// "parts.yaml:12:" before an error, or "parts.yaml:" for the file as a whole.
bool names_its_place(const std::string& said, const BrokenFile& row) {
  const Words lines = lines_of(said);
  return std::ranges::any_of(lines, [&](const std::string& line) {
    if (!contains(line, ": error: ")) return false;
    if (row.line == 0) return contains(line, row.place);
    return contains(line, row.place + ":" + std::to_string(row.line) + ":");
  });
}

TEST(BrokenFilesOnTheCommandLine, AreExitCodeTwoWithTheirPlaceAndNothingOnStandardOutput) {
  for (const BrokenFile& row : broken_files()) {
    SCOPED_TRACE(row.name);
    const Workplace place;
    lay_out(place, row);
    for (const char* name : {"search", "evaluate", "enumerate"}) {
      const Outcome outcome = run(command(name, place, row));
      EXPECT_EQ(outcome.code, 2) << name << '\n' << outcome.err;
      EXPECT_EQ(outcome.out, "") << name;
      EXPECT_TRUE(names_its_place(outcome.err, row)) << name << '\n' << outcome.err;
      EXPECT_TRUE(contains(outcome.err, row.fragment)) << name << '\n' << outcome.err;
    }
  }
}

TEST(BrokenFilesOnTheCommandLine, AreEditsOfFilesThatTheProgramAccepts) {
  const Workplace place;
  for (const auto& [name, text] : sound_files()) place.write(name, text);
  const Outcome outcome = run({"search", place.bike()});
  EXPECT_LE(outcome.code, 1) << outcome.err;
  EXPECT_EQ(outcome.err, "");
}

}  // namespace
}  // namespace sprocketry::test::tiny
