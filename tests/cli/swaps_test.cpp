#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "cli/launch.hpp"

namespace sprocketry::test::tiny {
namespace {

using Json = nlohmann::ordered_json;

const std::string kDesign =
    "alder-4/gate-x/flint-60x16s1p/well-15/pull-420/small-420:14/large-420:60";

Words swaps(const Workplace& place, const Words& more) {
  Words words = {"swaps", place.bike(), "--pick", kDesign};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

Json swaps_json(const Workplace& place, Words more = {}, int code = 0) {
  more.insert(more.end(), {"--format", "json"});
  return json_of(swaps(place, more), code);
}

TEST(Swaps, KeepTheChainAndTheRearSprocketInsideTheTravel) {
  const Workplace place;
  const Json answer = swaps_json(place);
  const int links = answer["design"]["chain"]["links"].get<int>();
  ASSERT_GE(answer["swaps"].size(), 2U);
  int present = 0;
  for (const Json& swap : answer["swaps"]) {
    EXPECT_EQ(swap["chain"]["links"], links);
    EXPECT_EQ(swap["parts"]["chain"], "pull-420");
    EXPECT_EQ(swap["parts"]["rear_teeth"], 60);
    EXPECT_GE(swap["chain"]["centre_distance_mm"].get<double>(), 560.0);
    EXPECT_LE(swap["chain"]["centre_distance_mm"].get<double>(), 592.0);
    if (!swap["present"].get<bool>()) continue;
    ++present;
    EXPECT_EQ(swap["id"], kDesign);
    EXPECT_EQ(swap["metrics"], answer["design"]["metrics"]);
  }
  EXPECT_EQ(present, 1);
}

TEST(Swaps, AndTheToothCountsOutOfReachAreTheWholeFamily) {
  const Workplace place;
  const Json answer = swaps_json(place);
  std::multiset<int> teeth;
  for (const Json& swap : answer["swaps"]) teeth.insert(swap["parts"]["front_teeth"].get<int>());
  for (const Json& beyond : answer["out_of_reach"]) {
    teeth.insert(beyond["front_teeth"].get<int>());
    const double centre = beyond["centre_distance_mm"].get<double>();
    EXPECT_TRUE(centre < 560.0 || centre > 592.0) << centre;
    EXPECT_NE(beyond["links_needed"], answer["design"]["chain"]["links"]);
  }
  EXPECT_EQ(teeth, (std::multiset<int>{12, 13, 14, 15, 16}));
}

TEST(Swaps, GiveTheFiguresThatEvaluateGivesWithTheSameChain) {
  const Workplace place;
  int compared = 0;
  const Json answer = swaps_json(place);
  for (const Json& swap : answer["swaps"]) {
    const Json evaluated = Json::parse(
        run({"evaluate", place.bike(), "--pick", swap["id"].get<std::string>(), "--format", "json"})
            .out)["design"];
    if (evaluated["chain"]["links"] != swap["chain"]["links"]) continue;
    ++compared;
    EXPECT_EQ(swap["metrics"], evaluated["metrics"]);
    EXPECT_EQ(swap["rejected_by"], evaluated["rejected_by"]);
    EXPECT_EQ(swap["chain"], evaluated["chain"]);
  }
  EXPECT_GE(compared, 2);
}

TEST(Swaps, OfferASprocketThatChooseLeavesOutWithACaution) {
  const Workplace place;
  const Json answer = swaps_json(place, {"--set", "choose.front_teeth=[14]"});
  ASSERT_GE(answer["swaps"].size(), 2U);
  for (const Json& swap : answer["swaps"]) {
    const bool cautioned = std::any_of(swap["rules"].begin(), swap["rules"].end(),
                                       [](auto& row) { return row["rule"] == "not in choose"; });
    EXPECT_EQ(cautioned, !swap["present"].get<bool>());
  }
}

TEST(Swaps, TakeAnotherFamilyOnlyWhenItFitsShaftAndChain) {
  const Workplace place;
  place.edit("parts.yaml", "rear_sprockets:",
             "  - {id: other-420, size: \"420\", teeth: {from: 14, to: 15}, bore: 7/8 in, key: "
             "3/16 in, price: 9, fabrication: 4.5, mass: 0.4 kg}\n"
             "  - {id: thin-420, size: \"420\", teeth: {from: 14, to: 15}, bore: 3/4 in, key: "
             "3/16 in, price: 9, mass: 0.4 kg}\n"
             "  - {id: other-520, size: \"520\", teeth: {from: 14, to: 15}, bore: 7/8 in, key: "
             "3/16 in, price: 9, mass: 0.4 kg}\n"
             "rear_sprockets:");
  std::set<std::string> families;
  const Json answer = swaps_json(place);
  for (const Json& swap : answer["swaps"]) {
    families.insert(swap["parts"]["front_sprocket"].get<std::string>());
    if (swap["parts"]["front_sprocket"] == "other-420") {
      EXPECT_EQ(swap["sprocket_price"], 13.5);
    }
  }
  EXPECT_EQ(families, (std::set<std::string>{"other-420", "small-420"}));
  EXPECT_TRUE(contains(run(swaps(place, {})).out, "  other-420  ")) << run(swaps(place, {})).out;
}

TEST(Swaps, NameTheDemandThatOneBreaks) {
  const Workplace place;
  const Json before = swaps_json(place);
  double fastest = 0;
  for (const Json& swap : before["swaps"]) {
    fastest = std::max(fastest, swap["metrics"]["top_speed_km_h"].get<double>());
  }
  const std::string demand = "must.top_speed.min=" + std::to_string(fastest - 0.1) + " km/h";
  const Json answer = swaps_json(place, {"--set", demand});
  int holding = 0;
  for (const Json& swap : answer["swaps"]) {
    if (swap["rejected_by"].empty()) {
      ++holding;
    } else {
      EXPECT_EQ(swap["rejected_by"], Json::parse(R"(["must top_speed"])"));
    }
  }
  EXPECT_EQ(holding, 1);
  const std::string text = run(swaps(place, {"--set", demand})).out;
  EXPECT_TRUE(contains(text, "must top_speed")) << text;
  EXPECT_TRUE(contains(text, "  now ")) << text;
  EXPECT_TRUE(contains(text, "at 40 km/h")) << text;
  EXPECT_TRUE(contains(text, "Before you build")) << text;
}

TEST(Swaps, AnswerNoWhereNoOtherMeetsEveryRule) {
  const Workplace place;
  const Json alone = swaps_json(place, {"--set", "must.price.max=10"}, 1);
  EXPECT_FALSE(alone["swaps"].empty());
  // The chain of the design itself does not end inside so short a travel.
  const Words short_travel = {"--set", "bike.centre_distance={min: 560 mm, max: 561 mm}"};
  const Json none = swaps_json(place, short_travel, 1);
  EXPECT_TRUE(none["design"]["chain"]["links"].is_null());
  EXPECT_EQ(none["design"]["rejected_by"][0], "chain length");
  EXPECT_TRUE(none["swaps"].empty());
  EXPECT_TRUE(none["out_of_reach"].empty());
  const Outcome text = run(swaps(place, short_travel));
  EXPECT_EQ(text.code, 1);
  EXPECT_TRUE(contains(text.out, "does not end inside")) << text.out;
}

TEST(Swaps, RefuseWrongOptionsAndOpenPicks) {
  const Workplace place;
  const std::vector<std::pair<Words, std::string>> cases = {
      {{"swaps", place.bike(), "--pick", "motor=alder-4"}, "more than one option fits"},
      {{"swaps", place.bike(), "--pick", "motr=alder-4"}, "did you mean 'motor'?"},
      {{"swaps", place.bike(), "--pick", kDesign, "--format", "csv"}, "not one of text, json"},
      {{"swaps", place.bike(), "--pick", kDesign, "--fromat", "json"}, "did you mean '--format'?"},
      {{"swaps"}, "REQUIREMENT is required"},
  };
  for (const auto& [words, message] : cases) {
    const Outcome outcome = run(words);
    EXPECT_EQ(outcome.code, 2) << message;
    EXPECT_EQ(outcome.out, "") << message;
    EXPECT_TRUE(contains(outcome.err, message)) << message << '\n' << outcome.err;
  }
}

}  // namespace
}  // namespace sprocketry::test::tiny
