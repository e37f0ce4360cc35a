#include <gtest/gtest.h>

#include <algorithm>

#include "cli/launch.hpp"

namespace sprocketry::test::tiny {
namespace {

using Json = nlohmann::ordered_json;

Words keys_of(const Json& object) {
  Words keys;
  for (const auto& [key, value] : object.items()) keys.push_back(key);
  return keys;
}

Words chain(const Words& more) {
  Words words = {"chain", "--size", "420", "--front", "12", "--rear", "60"};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

Json json(Words words, int code = 0) {
  words.insert(words.end(), {"--format", "json"});
  return json_of(words, code);
}

TEST(Chain, ReadsALoopOverTheTips) {
  const Json answer = json(chain({"--loop", "1650 mm"}));
  EXPECT_EQ(keys_of(answer), (Words{"size", "pitch_mm", "front_teeth", "rear_teeth", "measured",
                                    "plausible", "links", "fewest_links", "most_links",
                                    "centre_distance_mm", "wrap_deg", "nearby", "remarks"}));
  EXPECT_EQ(answer["size"], "420");
  EXPECT_EQ(answer["measured"], Json::parse(R"({"loop_mm": 1650.0, "around": "tips"})"));
  EXPECT_EQ(answer["plausible"], true);
  EXPECT_NEAR(answer["links"].get<double>(), 128.27, 0.01);
  EXPECT_LT(answer["fewest_links"], answer["links"]);
  EXPECT_GT(answer["most_links"], answer["links"]);
  ASSERT_EQ(answer["nearby"].size(), 3U);
  EXPECT_EQ(answer["nearby"][1]["links"], 128);
  EXPECT_TRUE(answer["remarks"].empty());
  const Outcome text = run(chain({"--loop", "1650 mm"}));
  EXPECT_EQ(text.code, 0) << text.err;
  for (const char* words : {"loop of 1650.0 mm over the tips", "plausible", "128.27", "577.8 mm",
                            "axle moves", "power disconnected"}) {
    EXPECT_TRUE(contains(text.out, words)) << words << '\n' << text.out;
  }
}

TEST(Chain, ReadsTheSameDriveFromAnyOfItsMeasurements) {
  const Json counted = json(chain({"--old-links", "126"}));
  EXPECT_EQ(counted["measured"], Json::parse(R"({"links": 126})"));
  EXPECT_NEAR(counted["centre_distance_mm"].get<double>(), 563.13, 0.01);
  const Json measured = json(chain({"--centre", "563.13 mm"}));
  EXPECT_NEAR(measured["links"].get<double>(), 126, 0.01);
  const Json pins = json(chain({"--loop", "1600.2 mm", "--around", "pitch-line"}));
  EXPECT_NEAR(pins["links"].get<double>(), 126, 1e-9);
  const Json roots = json(chain({"--loop", "1576.7 mm", "--around", "roots"}));
  EXPECT_NEAR(roots["links"].get<double>(), 126, 0.1);
  // By pitch and roller instead of the size: the same but for the name.
  Json by_pitch = json({"chain", "--pitch", "1/2 in", "--roller", "7.77 mm", "--front", "12",
                        "--rear", "60", "--loop", "1576.7 mm", "--around", "roots"});
  EXPECT_TRUE(by_pitch["size"].is_null());
  EXPECT_EQ(by_pitch["links"], roots["links"]);
  // An ISO 606 code is a size as well.
  EXPECT_EQ(json({"chain", "--size", "085", "--front", "12", "--rear", "60", "--centre",
                  "563.13 mm"})["size"],
            "41");
}

TEST(Chain, AnswersNoToAMeasurementThatCannotBe) {
  const Json short_loop = json(chain({"--loop", "700 mm"}), 1);
  EXPECT_EQ(short_loop["plausible"], false);
  EXPECT_TRUE(short_loop["centre_distance_mm"].is_null());
  EXPECT_TRUE(short_loop["links"].is_null());
  EXPECT_TRUE(contains(short_loop["remarks"][0].get<std::string>(), "would touch"));
  const Outcome text = run(chain({"--loop", "700 mm"}));
  EXPECT_EQ(text.code, 1);
  EXPECT_TRUE(contains(text.out, "NOT PLAUSIBLE: the sprockets would touch")) << text.out;
  EXPECT_EQ(json(chain({"--centre", "200 mm"}), 1)["plausible"], false);
  EXPECT_EQ(json(chain({"--centre", "1100 mm"}), 1)["plausible"], false);
}

TEST(Chain, RemarksAnOddCountAndALittleWrap) {
  const Json odd = json(chain({"--old-links", "125"}));
  EXPECT_EQ(odd["plausible"], true);
  EXPECT_TRUE(contains(odd["remarks"][0].get<std::string>(), "half link"));
  const Json wrap =
      json({"chain", "--size", "420", "--front", "12", "--rear", "100", "--centre", "300 mm"});
  EXPECT_TRUE(contains(wrap["remarks"][0].get<std::string>(), "120 deg"));
}

TEST(Chain, RefusesWhatIsMissingDoubleOrWrong) {
  const std::vector<std::pair<Words, std::string>> cases = {
      {chain({}), "give one measurement"},
      {chain({"--loop", "1650 mm", "--centre", "560 mm"}), "give one measurement"},
      {chain({"--loop", "1650"}), "--loop"},
      {chain({"--loop", "1650 kg"}), "--loop"},
      {chain({"--loop", "10 m"}), "is not between"},
      {chain({"--centre", "5 mm"}), "is not between"},
      {chain({"--old-links", "3"}), "--old-links"},
      {chain({"--loop", "1650 mm", "--around", "tip"}), "did you mean 'tips'?"},
      {{"chain", "--size", "421", "--front", "12", "--rear", "60", "--loop", "1650 mm"},
       "no chain size '421'"},
      {{"chain", "--front", "12", "--rear", "60", "--loop", "1650 mm"}, "--size or as --pitch"},
      {{"chain", "--pitch", "1/2 in", "--front", "12", "--rear", "60", "--loop", "1.6 m",
        "--around", "roots"},
       "needs --roller"},
      {{"chain", "--pitch", "1/2 in", "--roller", "13 mm", "--front", "12", "--rear", "60",
        "--loop", "1.6 m"},
       "smaller than the pitch"},
      {{"chain", "--size", "420", "--front", "2", "--rear", "60", "--loop", "1.6 m"}, "--front"},
      {{"chain", "--size", "420", "--rear", "60", "--loop", "1.6 m"}, "--front is required"},
  };
  for (const auto& [words, message] : cases) {
    const Outcome outcome = run(words);
    EXPECT_EQ(outcome.code, 2) << message << outcome.err;
    EXPECT_EQ(outcome.out, "") << message;
    EXPECT_TRUE(contains(outcome.err, message)) << message << '\n' << outcome.err;
  }
}

const Words kEvaluate = {
    "--pick", "alder-4/gate-x/flint-60x16s1p/well-15/pull-420/small-420:14/large-420:60"};

Words evaluate(const Workplace& place, const Words& more) {
  Words words = {"evaluate", place.bike()};
  words.insert(words.end(), kEvaluate.begin(), kEvaluate.end());
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

TEST(EvaluateChain, ListsTheLengthsThatFitAndWhatToBuy) {
  const Workplace place;
  const Json answer = json(evaluate(place, {}))["design"]["chain"];
  ASSERT_EQ(answer["links_possible"].size(), 2U);
  const Json& first = answer["links_possible"][0];
  EXPECT_EQ(keys_of(first), (Words{"links", "centre_distance_mm", "from_forward_end_mm",
                                   "travel_left_mm", "elongation_taken_up_percent"}));
  EXPECT_EQ(first["links"], answer["links"]);
  EXPECT_EQ(first["centre_distance_mm"], answer["centre_distance_mm"]);
  EXPECT_NEAR(first["from_forward_end_mm"].get<double>() + first["travel_left_mm"].get<double>(),
              32, 1e-9);
  const Json& buy = answer["buy"];
  EXPECT_EQ(keys_of(buy), (Words{"links", "length_mm", "boxes", "box_links", "offcut_links",
                                 "rollers_to_count", "ends", "connecting_links", "half_links"}));
  EXPECT_EQ(buy["links"], answer["links"]);
  EXPECT_EQ(buy["rollers_to_count"], answer["links"]);
  EXPECT_EQ(buy["boxes"], 1);
  EXPECT_EQ(buy["offcut_links"].get<int>(), 130 - answer["links"].get<int>());
  EXPECT_TRUE(answer["slack"].is_null());
  const Outcome text = run(evaluate(place, {}));
  for (const char* words : {"chain lengths", "from the forward end", "cut the chain", "rollers",
                            "both ends must be inner links"}) {
    EXPECT_TRUE(contains(text.out, words)) << words << '\n' << text.out;
  }
  EXPECT_FALSE(contains(text.out, "free play"));
}

TEST(EvaluateChain, NamesTheHalfLinkOfAnOddCount) {
  const Workplace place;
  const Words odd = {"--set", "choose.half_links=yes", "--set",
                     "bike.centre_distance={min: 560 mm, max: 566 mm}"};
  const Json answer = json(evaluate(place, odd))["design"];
  ASSERT_EQ(answer["chain"]["links"].get<int>() % 2, 1);
  EXPECT_EQ(answer["chain"]["buy"]["half_links"], 1);
  EXPECT_EQ(answer["chain"]["buy"]["rollers_to_count"].get<int>() % 2, 0);
  EXPECT_TRUE(contains(run(evaluate(place, odd)).out, "; with a half link"));
}

TEST(EvaluateChain, SaysHowToSetTheSlackOfASwingArm) {
  const Workplace place;
  const Words arm = {"--set",
                     "bike.swing_arm={length: 500 mm, shaft_from_pivot: {forward: 75 mm, up: 20 "
                     "mm}, droop: 18 deg, rest: 11 deg, bump: 2 deg, pivot_diameter: 20 mm}"};
  const Json design = json(evaluate(place, arm))["design"];
  const Json& slack = design["chain"]["slack"];
  EXPECT_EQ(keys_of(slack),
            (Words{"free_play_rest_mm", "free_play_droop_mm", "free_play_bump_mm",
                   "free_play_tightest_mm", "tightest_angle_deg", "tightest_distance_mm",
                   "rest_distance_mm", "rest_from_forward_end_mm", "arm_length_mm",
                   "path_change_mm", "pivot_to_upper_run_mm", "pivot_to_lower_run_mm"}));
  EXPECT_NEAR(slack["tightest_angle_deg"].get<double>(), 14.93, 0.01);
  EXPECT_GT(slack["free_play_bump_mm"], slack["free_play_rest_mm"]);
  EXPECT_GT(slack["free_play_rest_mm"], slack["free_play_tightest_mm"]);
  EXPECT_LT(slack["rest_distance_mm"], design["chain"]["centre_distance_mm"]);
  for (const char* rule : {"slack position", "slack", "slack limit", "pivot clearance"}) {
    const auto row = std::find_if(design["rules"].begin(), design["rules"].end(),
                                  [&](const Json& r) { return r["rule"] == rule; });
    ASSERT_NE(row, design["rules"].end()) << rule;
    EXPECT_NE((*row)["kind"], "unchecked") << rule;
  }
  const Outcome text = run(evaluate(place, arm));
  for (const char* words : {"of free play, up and down", "11.0 deg below horizontal",
                            "14.9 deg below horizontal", "at full bump", "upper and"}) {
    EXPECT_TRUE(contains(text.out, words)) << words << '\n' << text.out;
  }
}

}  // namespace
}  // namespace sprocketry::test::tiny
