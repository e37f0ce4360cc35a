#include <gtest/gtest.h>

#include <algorithm>
#include <csignal>
#include <set>

#include "cli/launch.hpp"

namespace sprocketry::test::tiny {
namespace {

using Json = nlohmann::ordered_json;

const std::string kTiny = SPROCKETRY_SOURCE_DIR "/specs/tiny.yaml";
const std::string kDemo = SPROCKETRY_SOURCE_DIR "/specs/demo.yaml";
const Words kConfident = {"search",    kTiny,
                          "--samples", "64",
                          "--set",     "objectives=[confidence, pull_away, price]",
                          "--set",     "must.range.min=70km"};

Words with(Words words, const Words& more) {
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

std::set<std::string> ids_of(const Json& answer) {
  std::set<std::string> ids;
  for (const Json& member : answer["front"]) ids.insert(member["id"].get<std::string>());
  return ids;
}

TEST(SearchWithConfidence, KeepsTheUsualFrontAndSurerDesignsBesideIt) {
  const Json usual = json_of({"search", kTiny, "--format", "json", "--set",
                              "objectives=[pull_away, price]", "--set", "must.range.min=70km"});
  const Json sure = json_of(with(kConfident, {"--format", "json"}));
  EXPECT_TRUE(sure["exact"].get<bool>());
  EXPECT_EQ(sure["sampling"]["samples"], 64);
  const auto all = ids_of(sure);
  EXPECT_TRUE(std::ranges::includes(all, ids_of(usual)));
  EXPECT_GT(all.size(), usual["front"].size());
  double least = 100;
  double most = 0;
  for (const Json& member : sure["front"]) {
    const double percent = member["confidence_percent"].get<double>();
    least = std::min(least, percent);
    most = std::max(most, percent);
  }
  EXPECT_LT(least, most);
}

TEST(SearchWithConfidence, ShowsItInEveryForm) {
  const Outcome text = run(kConfident);
  EXPECT_EQ(text.code, 0) << text.err;
  EXPECT_TRUE(contains(text.out, "Confidence is the share of 64 samples")) << text.out;
  EXPECT_TRUE(contains(text.out, "best confidence")) << text.out;
  const Json answer = json_of(with(kConfident, {"--format", "json"}));
  const Outcome csv = run(with(kConfident, {"--format", "csv"}));
  const Words lines = lines_of(csv.out);
  ASSERT_EQ(lines.size(), answer["front"].size() + 1);
  EXPECT_EQ(split(lines[0], ',').back(), "confidence_percent");
  for (std::size_t i = 1; i < lines.size(); ++i) {
    EXPECT_EQ(std::stod(split(lines[i], ',').back()),
              answer["front"][i - 1]["confidence_percent"].get<double>());
  }
  const Workplace place;
  EXPECT_EQ(run(with(kConfident, {"--html", place.file("front.html")})).code, 0);
  EXPECT_TRUE(contains(read_file(place.file("front.html")), "confidence"));
}

TEST(SearchWithConfidence, IsCoarsenedInItToo) {
  const Json whole = json_of(with(kConfident, {"--format", "json"}));
  const Json few = json_of(with(
      kConfident, {"--format", "json", "--resolution", "confidence=20%,pull_away=1s,price=200"}));
  EXPECT_LT(few["front"].size(), whole["front"].size());
  EXPECT_EQ(few["resolution"]["confidence"], 20.0);
}

TEST(SearchWithConfidence, SaysWhatDoesNotGoWithIt) {
  for (const Words& more : {Words{"--slice", "1/2", "--format", "json"}, Words{"--near", "2 %"},
                            Words{"--stand-ins", "a/b/c/d/e/f:1/g:2"}}) {
    const Outcome outcome = run(with(kConfident, more));
    EXPECT_EQ(outcome.code, 2) << more.front();
    EXPECT_EQ(outcome.out, "");
    EXPECT_TRUE(contains(outcome.err, "`confidence`")) << outcome.err;
  }
  const Outcome plain = run({"search", kTiny, "--samples", "64"});
  EXPECT_EQ(plain.code, 2);
  EXPECT_TRUE(contains(plain.err, "which the requirement does not name")) << plain.err;
  const Outcome certain = run(with(kConfident, {"--set", "conditions.headwind=0 km/h"}));
  EXPECT_EQ(certain.code, 0) << certain.err;  // other inputs are assumed still
  EXPECT_EQ(run(with(kConfident, {"--samples", "3"})).code, 2);
}

TEST(SearchWithConfidence, AnswersNoWhereNothingHolds) {
  const Outcome outcome = run(with(kConfident, {"--set", "must.range.min=900km"}));
  EXPECT_EQ(outcome.code, 1) << outcome.err;
  EXPECT_TRUE(contains(outcome.out, "No combination meets every rule")) << outcome.out;
}

TEST(SearchWithConfidence, IsStoppedWithoutAnAnswer) {
  const Outcome outcome = run_interrupted(
      {"search", kDemo, "--set", "objectives=[range, price, confidence]"}, {SIGINT});
  EXPECT_EQ(outcome.code, 3);
  EXPECT_EQ(outcome.out, "");
  EXPECT_TRUE(contains(outcome.err, "there is no answer")) << outcome.err;
}

// What the other commands rank by is the rest of the objectives.
TEST(SearchWithConfidence, IsLeftOutByOtherCommands) {
  const Words aims = {"--set", "objectives=[range, price, confidence]", "--format", "json"};
  for (const Words& words : {Words{"explain", kTiny}, Words{"robust", kTiny, "--samples", "32"},
                             Words{"compare", kTiny, "--b-set", "must.range.min=40km"}}) {
    const Outcome outcome = run(with(words, aims));
    EXPECT_EQ(outcome.code, 0) << words.front() << outcome.err;
  }
}

}  // namespace
}  // namespace sprocketry::test::tiny
