#include <gtest/gtest.h>

#include "cli/launch.hpp"

namespace sprocketry::test::tiny {
namespace {

const std::string kPackLine =
    "  pack: {cells: [flint-60, flint-40], series: [14, 16, 20], parallel: 1}\n";

// The line that an answer tells to write under `choose`.
std::string advised(const std::string& text, const std::string& key) {
  for (const std::string& line : lines_of(text)) {
    const std::size_t at = line.find_first_not_of(' ');
    if (at != std::string::npos && line.substr(at).starts_with(key + ": {")) return line.substr(at);
  }
  return "";
}

TEST(NoOption, OfAPackSaysWhatToWriteAndThatGivesPacks) {
  const Workplace place;
  place.edit("bike.yaml", kPackLine, "");
  for (const char* command : {"search", "explain"}) {
    const Outcome outcome = run({command, place.bike()});
    EXPECT_EQ(outcome.code, 1) << command;
    EXPECT_TRUE(contains(outcome.out, "no option for: pack.")) << outcome.out;
    EXPECT_FALSE(contains(outcome.out, "whatever the demands")) << outcome.out;
    EXPECT_FALSE(contains(outcome.out, "no value is enough")) << outcome.out;
    const std::string line = advised(outcome.out, "pack");
    ASSERT_FALSE(line.empty()) << outcome.out;
    const std::string value = line.substr(line.find('{'));
    const auto answer =
        json_of({"search", place.bike(), "--format", "json", "--set", "choose.pack=" + value});
    EXPECT_GT(answer["front"].size(), 0U);
  }
}

// A thousandfold speed constant takes the motor out of every answer.
TEST(DoubtfulParts, ArePointedToWhereTheyWouldVanish) {
  const Workplace place;
  EXPECT_EQ(run({"search", place.bike()}).err, "");
  place.edit("parts.yaml", "speed_constant: 66 rpm/V", "speed_constant: 3.8 V/krpm");
  for (const char* command : {"search", "explain"}) {
    const std::string said = run({command, place.bike()}).err;
    EXPECT_TRUE(contains(said, "hard to believe")) << said;
    EXPECT_TRUE(contains(said, "sprocketry parts " + place.bike())) << said;
  }
  EXPECT_TRUE(contains(run({"parts", place.bike()}).err, "alder-4"));
}

TEST(NoOption, IsSaidToAPickThatLeavesThatSlotOpen) {
  const Workplace place;
  place.edit("bike.yaml", kPackLine, "");
  const Outcome outcome = run({"evaluate", place.bike(), "--pick", "motor=alder-4"});
  EXPECT_EQ(outcome.code, 2);
  EXPECT_TRUE(contains(outcome.err, "no option for: pack\n")) << outcome.err;
  EXPECT_FALSE(advised(outcome.err, "pack").empty()) << outcome.err;
}

TEST(NoOption, OfSeveralSlotsNamesEachWithItsReason) {
  const Workplace place;
  place.edit("bike.yaml", kPackLine, "");
  const std::string second =
      "  - {id: wide-420, size: \"420\", teeth: 18, bore: 7/8 in, hub_diameter: 32 mm, price: 9, "
      "mass: 0.5 kg}\nrear_sprockets:";
  place.edit("parts.yaml", "rear_sprockets:", second);
  const Outcome outcome = run({"explain", place.bike(), "--set", "choose.front_teeth=[18]", "--set",
                               "choose.front_sprocket=[small-420]"});
  EXPECT_EQ(outcome.code, 1) << outcome.err;
  EXPECT_TRUE(contains(outcome.out, "no option for: pack, front sprocket.")) << outcome.out;
  EXPECT_FALSE(advised(outcome.out, "pack").empty()) << outcome.out;
  EXPECT_TRUE(contains(outcome.out, "small-420 from 12 to 16")) << outcome.out;
  EXPECT_FALSE(contains(outcome.out, "wide-420")) << outcome.out;
}

}  // namespace
}  // namespace sprocketry::test::tiny
