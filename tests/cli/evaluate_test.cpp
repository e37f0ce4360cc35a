#include <gtest/gtest.h>

#include <algorithm>

#include "cli/launch.hpp"

namespace sprocketry::test::tiny {
namespace {

using Json = nlohmann::ordered_json;

const std::string kDesign =
    "alder-4/gate-x/flint-60x16s1p/well-15/pull-420/small-420:14/large-420:60";

Words evaluate(const Workplace& place, const Words& more) {
  Words words = {"evaluate", place.bike()};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

TEST(Evaluate, TakesADesignsIdAndGivesTheSameMetricsAsSearch) {
  const Workplace place;
  const Json front = json_of({"search", place.bike(), "--format", "json"})["front"];
  for (const std::size_t i : {std::size_t{0}, front.size() / 2, front.size() - 1}) {
    const auto id = front[i]["id"].get<std::string>();
    const Json answer = json_of(evaluate(place, {"--pick", id, "--format", "json"}));
    EXPECT_EQ(answer["design"]["id"], id);
    EXPECT_EQ(answer["design"]["metrics"], front[i]["metrics"]);
    EXPECT_EQ(answer["design"]["chain"], front[i]["chain"]);
    EXPECT_TRUE(answer["design"]["rejected_by"].empty());
  }
}

TEST(Evaluate, TakesEverySlotByName) {
  const Workplace place;
  const Json answer = json_of(
      evaluate(place, {"--pick", "motor=alder-4",       "--pick",   "controller=gate-x",
                       "--pick", "pack=flint-60x16s1p", "--pick",   "charger=well-15",
                       "--pick", "chain=pull-420",      "--pick",   "front_sprocket=small-420",
                       "--pick", "front_teeth=14",      "--pick",   "rear_sprocket=large-420",
                       "--pick", "rear_teeth=60",       "--format", "json"}));
  EXPECT_EQ(answer["design"]["id"], kDesign);
}

TEST(Evaluate, FillsInTheSlotsThatOnlyOneOptionFits) {
  const Workplace place;
  const Json answer =
      json_of(evaluate(place, {"--pick", "motor=birch-6", "--pick", "pack=flint-60x16s1p", "--pick",
                               "front_teeth=14", "--pick", "rear_teeth=60", "--format", "json"}));
  EXPECT_EQ(answer["design"]["parts"]["controller"], "gate-x");
  EXPECT_EQ(answer["design"]["parts"]["chain"], "pull-420");
}

TEST(Evaluate, ListsTheOptionsOfSlotsThatAreStillOpen) {
  const Workplace place;
  const Outcome outcome = run(evaluate(place, {"--pick", "pack=flint-60x16s1p", "--pick",
                                               "front_teeth=14", "--pick", "rear_teeth=60"}));
  EXPECT_EQ(outcome.code, 2);
  EXPECT_EQ(outcome.out, "");
  EXPECT_TRUE(contains(outcome.err, "motor: alder-4 birch-6")) << outcome.err;
  EXPECT_TRUE(contains(outcome.err, "controller: gate-b gate-x")) << outcome.err;
  EXPECT_FALSE(contains(outcome.err, "chain:")) << outcome.err;
}

TEST(Evaluate, AnswersNoAndNamesTheRulesWhenOneRejects) {
  const Workplace place;
  const Words words = evaluate(place, {"--pick", kDesign, "--set", "must.top_speed.min=140 km/h",
                                       "--set", "must.price.max=100"});
  Words json = words;
  json.insert(json.end(), {"--format", "json"});
  const Json answer = json_of(json, 1);
  EXPECT_EQ(answer["design"]["rejected_by"], Json::parse(R"(["must top_speed", "must price"])"));
  const Outcome text = run(words);
  EXPECT_EQ(text.code, 1);
  EXPECT_TRUE(contains(text.out, "It is rejected by: must top_speed; must price.")) << text.out;
}

TEST(Evaluate, EvaluatesAPickThatBreaksAPairwiseRule) {
  const Workplace place;
  std::string id = kDesign;
  id.replace(0, std::string("alder-4/gate-x").size(), "birch-6/gate-b");
  const Json answer = json_of(evaluate(place, {"--pick", id, "--format", "json"}), 1);
  EXPECT_EQ(answer["design"]["rejected_by"][0], "controller drives motor");
}

TEST(Evaluate, CautionsOfAPickThatChooseLeavesOut) {
  const Workplace place;
  const Words words = evaluate(place, {"--pick", kDesign, "--set", "choose.motor=[birch-6]"});
  Words json = words;
  json.insert(json.end(), {"--format", "json"});
  const Json rules = json_of(json)["design"]["rules"];
  const auto caution = std::find_if(rules.begin(), rules.end(),
                                    [](const Json& row) { return row["rule"] == "not in choose"; });
  ASSERT_NE(caution, rules.end());
  EXPECT_EQ((*caution)["kind"], "caution");
  EXPECT_TRUE(contains(run(words).out, "not in choose"));
}

TEST(Evaluate, TakesAPackOfAnyCellInAnyNumberWithACaution) {
  const Workplace place;
  std::string id = kDesign;
  id.replace(id.find("60x16s1p"), 8, "40x15s2p");
  const Outcome outcome = run(evaluate(place, {"--pick", id}));
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_TRUE(contains(outcome.out, "flint-40x15s2p"));
  EXPECT_TRUE(contains(outcome.out, "not in choose"));
}

TEST(Evaluate, GivesAllRulesUnlessToldOtherwise) {
  const Workplace place;
  const auto count = [&](const Words& more) {
    Words words = evaluate(place, {"--pick", kDesign, "--format", "json"});
    words.insert(words.end(), more.begin(), more.end());
    return json_of(words)["design"]["rules"].size();
  };
  EXPECT_EQ(count({}), count({"--rules", "all"}));
  EXPECT_LT(count({"--rules", "telling"}), count({}));
  const auto lines = [&](const std::string& rules) {
    return lines_of(run(evaluate(place, {"--pick", kDesign, "--rules", rules})).out).size();
  };
  EXPECT_LT(lines("telling"), lines("all"));
}

TEST(Evaluate, LeavesTheLegalClassToNationalLaw) {
  const Workplace place;
  const auto text = [&](const std::string& vehicle_class) {
    return run(evaluate(place, {"--pick", kDesign, "--set", "must.vehicle_class=" + vehicle_class}))
        .out;
  };
  const std::string motorcycle = text("L3e-A1");
  EXPECT_TRUE(contains(motorcycle, "The limits of class L3e-A1 are those of Regulation (EU) 168"));
  EXPECT_TRUE(contains(motorcycle, "national law and its authority decide")) << motorcycle;
  EXPECT_FALSE(contains(motorcycle, "No speed limiter"));
  const std::string moped = text("{name: town, top_speed: 45 km/h}");
  EXPECT_TRUE(contains(moped, "The limits of class town are your own")) << moped;
  EXPECT_TRUE(contains(moped, "No speed limiter of a controller is computed")) << moped;
}

TEST(Evaluate, ExplainsEveryFigureInText) {
  const Workplace place;
  const Outcome outcome = run(evaluate(place, {"--pick", kDesign}));
  EXPECT_EQ(outcome.code, 0);
  for (const char* words :
       {"It meets every rule and demand.", "0-50 km/h", "full-charge voltage 58.4 V",
        "battery current 180 A", "low-voltage cut-off", "shaft to axle", "sustained", "40 km/h",
        "acceleration from 30 km/h to 65 km/h", "climb of 10.0 % at 25 km/h",
        "gross mass: bike.max_gross_mass is not given", "Before you build"}) {
    EXPECT_TRUE(contains(outcome.out, words)) << words << '\n' << outcome.out;
  }
}

TEST(Evaluate, SaysWhenTemperaturesAreEstimated) {
  const Workplace place;
  std::string id = kDesign;
  id.replace(0, std::string("alder-4").size(), "birch-6");
  EXPECT_TRUE(contains(run(evaluate(place, {"--pick", id})).out, "temperatures are estimated"));
  EXPECT_FALSE(contains(run(evaluate(place, {"--pick", kDesign})).out, "estimated"));
}

TEST(Evaluate, SaysThatPeukertCellsMayTakeLessFromTheWall) {
  const std::string demo = std::string(SPROCKETRY_SOURCE_DIR) + "/specs/demo.yaml";
  const auto charging = [&](const char* pick) {
    const std::string text = run({"evaluate", demo, "--pick", pick}).out;
    const std::size_t at = text.find("  charging ");
    return text.substr(at, text.find("  gearing ", at) - at);
  };
  const std::string lead =
      charging("hollin-72/keld-200/anvil-12x4s1p/sump-pb/linkage-420/hub-420-78:12/ring-420:61");
  EXPECT_TRUE(contains(lead, "kW from the wall, at most")) << lead;
  const std::string lithium = charging(
      "hollin-72/keld-200/slate-60x16s1p/drip-lfp-48/linkage-420/hub-420-78:12/ring-420:60");
  EXPECT_TRUE(contains(lithium, "Wh/km")) << lithium;
  EXPECT_FALSE(contains(lithium, "kW from the wall, at most")) << lithium;
}

TEST(Evaluate, WritesOneCsvLine) {
  const Workplace place;
  const Words lines = lines_of(run(evaluate(place, {"--pick", kDesign, "--format", "csv"})).out);
  ASSERT_EQ(lines.size(), 2U);
  EXPECT_EQ(split(lines[0], ',').size(), split(lines[1], ',').size());
  EXPECT_TRUE(lines[1].starts_with("alder-4,gate-x,flint-60x16s1p,well-15,pull-420,small-420,14,"));
}

TEST(Evaluate, RefusesAPickThatMakesNoSense) {
  const Workplace place;
  const std::vector<std::pair<std::string, std::string>> cases = {
      {"motr=alder-4", "did you mean 'motor'?"},
      {"motor=alder-5", "did you mean 'alder-4'?"},
      {"front_teeth=many", "whole number"},
      {"front_teeth=99", "99 teeth"},
      {"alder-4/gate-x", "motor/controller/pack/charger/chain/front:TEETH/rear:TEETH"},
      {"motor=", "names nothing"},
  };
  for (const auto& [pick, message] : cases) {
    const Outcome outcome =
        run(evaluate(place, {"--pick", "front_sprocket=small-420", "--pick", pick}));
    EXPECT_EQ(outcome.code, 2) << pick;
    EXPECT_EQ(outcome.out, "") << pick;
    EXPECT_TRUE(contains(outcome.err, message)) << pick << '\n' << outcome.err;
  }
}

}  // namespace
}  // namespace sprocketry::test::tiny
