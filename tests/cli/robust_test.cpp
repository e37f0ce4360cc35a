#include <gtest/gtest.h>

#include <csignal>
#include <set>

#include "cli/launch.hpp"

namespace sprocketry::test::tiny {
namespace {

using Json = nlohmann::ordered_json;

const std::string kDesign =
    "alder-4/gate-x/flint-60x16s1p/well-15/pull-420/small-420:14/large-420:60";

Words robust(const Workplace& place, const Words& more) {
  Words words = {"robust", place.bike(), "--samples", "128"};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

Json robust_json(const Workplace& place, Words more, int code = 0) {
  more.insert(more.end(), {"--format", "json"});
  return json_of(robust(place, more), code);
}

std::set<std::string> paths(const Json& answer) {
  std::set<std::string> names;
  for (const Json& input : answer["inputs"]) names.insert(input["path"].get<std::string>());
  return names;
}

TEST(RobustCommand, JudgesTheDesignsThatTheTableOfSearchWouldShow) {
  const Workplace place;
  const Json answer = robust_json(place, {});
  ASSERT_EQ(answer["designs"].size(), 20U);
  std::set<std::string> front;
  const Json searched = json_of({"search", place.bike(), "--format", "json"});
  for (const Json& member : searched["front"]) {
    front.insert(member["id"].get<std::string>());
  }
  ASSERT_GT(front.size(), 20U);
  std::set<std::string> judged;
  for (const Json& design : answer["designs"]) judged.insert(design["id"].get<std::string>());
  EXPECT_EQ(judged.size(), 20U);
  for (const std::string& id : judged) EXPECT_TRUE(front.contains(id)) << id;
}

TEST(RobustCommand, ConfidenceIsNoMoreThanTheShareOfAnyRule) {
  const Workplace place;
  const Json answer = robust_json(place, {"--set", "must.top_speed.min=70km/h"});
  int unsure = 0;
  for (const Json& design : answer["designs"]) {
    EXPECT_TRUE(design["holds_as_stated"].get<bool>());
    double least = 1;
    double misses = 0;
    for (const Json& rule : design["rules"]) {
      least = std::min(least, rule["share"].get<double>());
      misses += 1 - rule["share"].get<double>();
    }
    EXPECT_LE(design["confidence"].get<double>(), least);
    EXPECT_GE(design["confidence"].get<double>(), 1 - misses - 1e-12);
    unsure += design["confidence"].get<double>() < 1 ? 1 : 0;
    for (const Json& figure : design["figures"]) {
      if (figure["p10"].is_null() || figure["p90"].is_null()) continue;
      EXPECT_LE(figure["p10"].get<double>(), figure["p50"].get<double>());
      EXPECT_LE(figure["p50"].get<double>(), figure["p90"].get<double>());
    }
  }
  EXPECT_GT(unsure, 0);
}

TEST(RobustCommand, UsualSpreadsAreOfWhatWasAssumedAndCanBeLeftOut) {
  const Workplace place;
  const Json usual = robust_json(place, {"--pick", kDesign});
  for (const Json& input : usual["inputs"]) {
    EXPECT_FALSE(input["value_stated"].get<bool>());
    EXPECT_EQ(input["source"], "common practice, no source");
  }
  EXPECT_TRUE(paths(usual).contains("bike.drag_area"));
  EXPECT_TRUE(paths(usual).contains("chargers.well-15.efficiency"));
  EXPECT_TRUE(paths(usual).contains("cells.flint-60.usable.to"));
  EXPECT_FALSE(paths(usual).contains("rider.mass"));
  const Json exact = robust_json(place, {"--pick", kDesign, "--set", "spread.bike.drag_area=none"});
  EXPECT_FALSE(paths(exact).contains("bike.drag_area"));
  EXPECT_EQ(paths(exact).size() + 1, paths(usual).size());
  const Json stated = robust_json(
      place, {"--pick", kDesign, "--no-default-spread", "--set", "spread.rider.mass.normal=5 kg"});
  EXPECT_EQ(paths(stated), (std::set<std::string>{"rider.mass"}));
  EXPECT_EQ(stated["inputs"][0]["source"], "the requirement");
  // Of another motor it changes nothing, and is said.
  const Json other = robust_json(
      place, {"--pick", kDesign, "--set", "spread.motors.birch-6.resistance.normal=5 %"});
  EXPECT_EQ(other["unused"], Json::array({"motors.birch-6.resistance"}));
  EXPECT_EQ(other["designs"], usual["designs"]);
  EXPECT_TRUE(usual["unused"].empty());
  // An estimated motor is as unsure as its estimate.
  const std::string birch = "birch-6" + kDesign.substr(std::string("alder-4").size());
  const Json estimated = robust_json(place, {"--pick", birch});
  EXPECT_TRUE(paths(estimated).contains("motors.birch-6.thermal.resistance"));
  EXPECT_FALSE(paths(usual).contains("motors.alder-4.thermal.resistance"));
}

TEST(RobustCommand, AnswersNoWhereThePickDoesNotHoldAndWhereNothingDoes) {
  const Workplace place;
  const Words pick = {"--pick", kDesign, "--set", "must.top_speed.min=150km/h"};
  const Json answer = robust_json(place, pick, 1);
  EXPECT_FALSE(answer["designs"][0]["holds_as_stated"].get<bool>());
  const Outcome text = run(robust(place, pick));
  EXPECT_EQ(text.code, 1);
  EXPECT_TRUE(contains(text.out, "As stated it does not hold")) << text.out;
  const Outcome none = run(robust(place, {"--set", "must.top_speed.min=400km/h"}));
  EXPECT_EQ(none.code, 1);
  EXPECT_EQ(none.out, "");
  EXPECT_TRUE(contains(none.err, "explain")) << none.err;
}

TEST(RobustCommand, SaysInWordsWhatToMeasureFirst) {
  const Workplace place;
  const Words words =
      robust(place, {"--pick", kDesign, "--no-default-spread", "--set",
                     "spread.rider.mass.normal=10 kg", "--set", "bike.max_gross_mass=230 kg"});
  const Outcome outcome = run(words);
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_TRUE(contains(outcome.out, "Measure first")) << outcome.out;
  EXPECT_TRUE(contains(outcome.out, "1. mass of the rider (rider.mass), now 80 kg, normal 10 kg"))
      << outcome.out;
  EXPECT_TRUE(contains(outcome.out, "How: weigh the")) << outcome.out;
  EXPECT_TRUE(contains(outcome.out, "gross mass")) << outcome.out;
  EXPECT_FALSE(contains(outcome.out, "nan")) << outcome.out;
}

TEST(RobustCommand, GivesTheSameBytesForAnyThreads) {
  const Workplace place;
  for (const char* format : {"text", "json"}) {
    const Words words = robust(place, {"--format", format});
    Words alone = words;
    alone.insert(alone.end(), {"--threads", "1"});
    Words many = words;
    many.insert(many.end(), {"--threads", "5"});
    const Outcome one = run(alone);
    EXPECT_EQ(one.code, 0) << one.err;
    EXPECT_EQ(run(many).out, one.out);
    EXPECT_EQ(run(words).out, one.out);
  }
}

TEST(RobustCommand, IsStoppedWithoutAnAnswer) {
  for (const int signal : {SIGINT, SIGTERM}) {
    const Outcome outcome = run_interrupted(
        {"robust", SPROCKETRY_SOURCE_DIR "/specs/demo.yaml", "--samples", "16384"}, {signal});
    EXPECT_EQ(outcome.code, 3) << outcome.err;
    EXPECT_EQ(outcome.out, "");
    EXPECT_TRUE(contains(outcome.err, "stopped before every sample was computed")) << outcome.err;
  }
}

TEST(RobustCommand, SaysWhatIsWrong) {
  const Workplace place;
  const std::vector<std::pair<Words, std::string>> cases = {
      {{"--no-default-spread"}, "nothing is uncertain"},
      {{"--samples", "3"}, "not a whole number from 16 to 16384"},
      {{"--samples", "1e3"}, "not a whole number"},
      {{"--seed", "-1"}, "not a whole number"},
      {{"--format", "csv"}, "not one of text, json"},
      {{"--pick", "motr=alder-4"}, "did you mean 'motor'?"},
      {{"--set", "spread.rider.mas.normal=5 kg"}, "did you mean `rider.mass`?"},
      {{"--set", "spread.motors.*.current.continuous={uniform: {from: 400 A, to: 900 A}}"},
       "the spreads are too wide"},
  };
  for (const auto& [more, message] : cases) {
    Words words = {"robust", place.bike()};
    words.insert(words.end(), more.begin(), more.end());
    const Outcome outcome = run(words);
    EXPECT_EQ(outcome.code, 2) << message;
    EXPECT_EQ(outcome.out, "") << message;
    EXPECT_TRUE(contains(outcome.err, message)) << message << '\n' << outcome.err;
  }
}

}  // namespace
}  // namespace sprocketry::test::tiny
