// The JSON of every command against its published schema.
#include <gtest/gtest.h>

#include <functional>

#include "cli/input_examples.hpp"
#include "cli/launch.hpp"
#include "cli/schema.hpp"

namespace sprocketry::test::tiny {
namespace {

using nlohmann::json;

constexpr const char* kDesign =
    "quill-3/keld-200/slate-60x16s1p/drip-lfp-48/linkage-420/hub-420-34:11/ring-420:60";

std::string answer(const Words& words) {
  Surroundings root;
  root.folder = SPROCKETRY_SOURCE_DIR;
  const Outcome outcome = run(words, root);
  EXPECT_LE(outcome.code, 1) << outcome.err;
  return outcome.out;
}

json answer_json(Words words) {
  words.insert(words.end(), {"--format", "json"});
  return json::parse(answer(words));
}

// Each breaks a valid document in one place; a schema that lets one pass says too little.
struct Break {
  std::string what;
  std::function<void(json&)> apply;
};

void expect_refused(const std::string& schema_name, const json& sound,
                    const std::vector<Break>& breaks) {
  const Schema schema(schema_name);
  ASSERT_EQ(schema.problems(sound), "");
  for (const Break& one : breaks) {
    json broken = sound;
    one.apply(broken);
    EXPECT_NE(schema.problems(broken), "") << one.what;
  }
}

TEST(OutputSchema, HoldsForFrontsWithAndWithoutMembers) {
  const Schema schema("search");
  for (const char* file : {"specs/tiny.yaml", "specs/demo.yaml"}) {
    EXPECT_EQ(schema.problems(answer_json({"search", file})), "") << file;
  }
  EXPECT_EQ(schema.problems(answer_json({"search", "specs/tiny.yaml", "--rules", "all"})), "");
  EXPECT_EQ(
      schema.problems(answer_json({"search", "specs/tiny.yaml", "--set", "must.price.max=1"})), "");
  const Workplace place;
  EXPECT_EQ(schema.problems(answer_json({"search", place.bike()})), "");
}

TEST(OutputSchema, HoldsForEvaluationsOfMembersMisfitsAndUnreachedSpeeds) {
  const Schema schema("evaluate");
  const std::vector<Words> sets = {
      {},
      {"--set", "bike.centre_distance.max=560.5mm"},
      {"--set", "cruise=[150km/h]"},
      {"--set", "choose.motor=[hollin-48]"},
      {"--set",
       "bike.swing_arm={length: 500 mm, shaft_from_pivot: {forward: 65 mm, up: 0 mm}, "
       "droop: 15 deg, rest: 8 deg, bump: -4 deg}"},
  };
  for (const Words& set : sets) {
    Words words = {"evaluate", "specs/tiny.yaml", "--pick", kDesign};
    words.insert(words.end(), set.begin(), set.end());
    EXPECT_EQ(schema.problems(answer_json(words)), "") << (set.empty() ? "" : set.back());
  }
}

TEST(OutputSchema, HoldsForEveryLineOfAListing) {
  const Schema schema("enumerate");
  std::size_t lines = 0;
  for (const std::string& line :
       lines_of(answer({"enumerate", "specs/tiny.yaml", "--format", "jsonl"}))) {
    if (lines++ % 7 != 0) continue;
    ASSERT_EQ(schema.problems(json::parse(line)), "") << line;
  }
  EXPECT_GT(lines, 100U);
}

TEST(OutputSchema, HoldsForAMeasuredChain) {
  const Schema schema("chain");
  const Words drive = {"chain", "--size", "420", "--front", "12", "--rear", "54"};
  for (const Words& measured : {Words{"--loop", "1800 mm"}, Words{"--centre", "600 mm"},
                                Words{"--old-links", "98"}, Words{"--old-links", "40"}}) {
    Words words = drive;
    words.insert(words.end(), measured.begin(), measured.end());
    EXPECT_EQ(schema.problems(answer_json(words)), "") << measured.back();
  }
}

TEST(OutputSchema, HoldsForWhatExplainSays) {
  const Schema schema("explain");
  EXPECT_EQ(schema.problems(answer_json({"explain", "specs/tiny.yaml"})), "");
  const json answer =
      answer_json({"explain", "specs/tiny.yaml", "--set", "must.top_speed.min=400km/h"});
  EXPECT_EQ(schema.problems(answer), "");
  ASSERT_FALSE(answer["relaxations"].empty());
  ASSERT_FALSE(answer["conflict"].empty());
  expect_refused(
      "explain", answer,
      {{"no limit", [](json& d) { d["relaxations"][0].erase("limit"); }},
       {"a count below 0", [](json& d) { d["rules"][0]["alone"] = -1; }},
       {"a reach without its voltage",
        [](json& d) { d["reach"][0]["voltages"][0].erase("nominal_voltage_v"); }},
       {"a conflict without its design", [](json& d) { d["conflict"][0].erase("without"); }},
       {"an undocumented member", [](json& d) { d["colour"] = "red"; }}});
}

TEST(OutputSchema, HoldsForAFrontWithConfidence) {
  const Schema schema("search");
  const json answer = answer_json({"search", "specs/tiny.yaml", "--samples", "32", "--set",
                                   "objectives=[range, price, confidence]"});
  EXPECT_EQ(schema.problems(answer), "");
  EXPECT_EQ(answer["objectives"].back()["name"], "confidence");
  expect_refused(
      "search", answer,
      {{"a confidence above 100 %", [](json& d) { d["front"][0]["confidence_percent"] = 101; }},
       {"no number of samples", [](json& d) { d["sampling"].erase("samples"); }}});
}

TEST(OutputSchema, HoldsForWhatLimitsOneDesign) {
  const Schema schema("explain_pick");
  for (const char* demand : {"must.top_speed.min=60km/h", "must.top_speed.min=400km/h"}) {
    EXPECT_EQ(schema.problems(
                  answer_json({"explain", "specs/tiny.yaml", "--pick", kDesign, "--set", demand})),
              "");
  }
  const json answer = answer_json({"explain", "specs/tiny.yaml", "--pick", kDesign});
  expect_refused(
      "explain_pick", answer,
      {{"no limit", [](json& d) { d["full_throttle"][0].erase("limited_by"); }},
       {"an unknown limit", [](json& d) { d["full_throttle"][0]["limited_by"] = "luck"; }},
       {"a figure without a name", [](json& d) { d["single_changes"][0].erase("figure"); }},
       {"an undocumented member", [](json& d) { d["colour"] = "red"; }}});
}

TEST(OutputSchema, HoldsForHowSureDesignsAre) {
  const Schema schema("robust");
  EXPECT_EQ(schema.problems(answer_json({"robust", "specs/demo.yaml", "--samples", "64"})), "");
  const json answer =
      answer_json({"robust", "specs/tiny.yaml", "--samples", "64", "--pick", kDesign, "--set",
                   "spread.rider.mass.normal=5 kg", "--set", "must.top_speed.min=100km/h"});
  EXPECT_FALSE(answer["designs"][0]["holds_as_stated"].get<bool>());
  expect_refused(
      "robust", answer,
      {{"no confidence", [](json& d) { d["designs"][0].erase("confidence"); }},
       {"a share above 1", [](json& d) { d["designs"][0]["rules"][0]["share"] = 1.5; }},
       {"a figure without its median", [](json& d) { d["designs"][0]["figures"][0].erase("p50"); }},
       {"a spread of no shape", [](json& d) { d["inputs"][0]["spread"] = "wide"; }},
       {"an undocumented member", [](json& d) { d["colour"] = "red"; }}});
}

TEST(OutputSchema, HoldsForOtherFrontSprockets) {
  const Schema schema("swaps");
  const json answer = answer_json({"swaps", "specs/tiny.yaml", "--pick", kDesign});
  EXPECT_EQ(schema.problems(answer), "");
  EXPECT_GT(answer["swaps"].size(), 1U);
  EXPECT_EQ(schema.problems(answer_json({"swaps", "specs/tiny.yaml", "--pick", kDesign, "--set",
                                         "bike.centre_distance.max=562mm", "--rules", "all"})),
            "");
  expect_refused("swaps", answer,
                 {{"no price", [](json& d) { d["swaps"][0].erase("sprocket_price"); }},
                  {"no verdict", [](json& d) { d["swaps"][0].erase("rejected_by"); }},
                  {"an undocumented member", [](json& d) { d["swaps"][0]["colour"] = "red"; }}});
}

TEST(OutputSchema, HoldsForCataloguesWithEverythingAndTheLeast) {
  const Schema schema("catalogue");
  const json harbour = answer_json({"parts", "specs/parts/harbour.yaml"});
  EXPECT_EQ(schema.problems(harbour), "");
  EXPECT_EQ(harbour["motors"].size(), 6U);
  EXPECT_EQ(harbour["motors"][0]["id"], "hollin-48");
  EXPECT_NEAR(harbour["motors"][0]["speed_constant_rpm_v"].get<double>(), 62, 1e-12);
  EXPECT_EQ(harbour["chains"][1]["pitch_mm"], 12.7);
  for (const InputExample& example : input_examples()) {
    const Workplace place;
    place.write("parts.yaml", example.parts);
    EXPECT_EQ(schema.problems(answer_json({"parts", place.file("parts.yaml")})), "");
  }
}

TEST(OutputSchema, RefusesFrontsThatLackOrAddOrTwist) {
  expect_refused(
      "search", answer_json({"search", "specs/tiny.yaml", "--rules", "all"}),
      {{"no account", [](json& d) { d.erase("count"); }},
       {"a member nobody documents", [](json& d) { d["seconds"] = 3; }},
       {"a version that is none", [](json& d) { d["sprocketry"] = 1; }},
       {"exact as a text", [](json& d) { d["exact"] = "yes"; }},
       {"an objective without direction", [](json& d) { d["objectives"][0].erase("better"); }},
       {"a direction that is none", [](json& d) { d["objectives"][0]["better"] = "best"; }},
       {"a negative count", [](json& d) { d["count"]["pruned"] = -1; }},
       {"a rule that rejected nothing", [](json& d) { d["count"]["rejected"]["wrap"] = 0; }},
       {"a default without source", [](json& d) { d["defaults"][0].erase("source"); }},
       {"no id", [](json& d) { d["front"][0].erase("id"); }},
       {"an id of too few parts", [](json& d) { d["front"][0]["id"] = "a/b/c"; }},
       {"rejected on the front", [](json& d) { d["front"][0]["rejected_by"] = json::array(); }},
       {"teeth as a text", [](json& d) { d["front"][0]["parts"]["front_teeth"] = "12"; }},
       {"a slot nobody knows", [](json& d) { d["front"][0]["parts"]["horn"] = "x"; }},
       {"a metric as a text", [](json& d) { d["front"][0]["metrics"]["range_km"] = "70 km"; }},
       {"a metric missing", [](json& d) { d["front"][0]["metrics"].erase("range_km"); }},
       {"a metric nobody knows", [](json& d) { d["front"][0]["metrics"]["fun"] = 1; }},
       {"half a link", [](json& d) { d["front"][0]["chain"]["links"] = 98.5; }},
       {"a setting missing", [](json& d) { d["front"][0]["settings"].erase("low_voltage_v"); }},
       {"a rule of no kind", [](json& d) { d["front"][0]["rules"][0].erase("kind"); }},
       {"a kind that is none", [](json& d) { d["front"][0]["rules"][0]["kind"] = "maybe"; }},
       {"a checked rule that lacks a field",
        [](json& d) { d["front"][0]["rules"][0]["missing"] = "bike.mass"; }},
       {"an unchecked rule that lacks nothing", [](json& d) {
          json& row = d["front"][0]["rules"][0];
          row["kind"] = "unchecked";
          row.erase("missing");
        }}});
}

TEST(OutputSchema, RefusesEvaluationsAndLinesWithoutTheirVerdict) {
  const json sound = answer_json({"evaluate", "specs/tiny.yaml", "--pick", kDesign});
  expect_refused("evaluate", sound,
                 {{"no verdict", [](json& d) { d["design"].erase("rejected_by"); }},
                  {"no defaults", [](json& d) { d.erase("defaults"); }},
                  {"a verdict without words", [](json& d) { d["design"]["rejected_by"] = {""}; }},
                  {"an undocumented member", [](json& d) { d["design"]["colour"] = "red"; }}});
  expect_refused("enumerate", sound["design"],
                 {{"no verdict", [](json& d) { d.erase("rejected_by"); }},
                  {"an undocumented member", [](json& d) { d["colour"] = "red"; }}});
}

TEST(OutputSchema, RefusesCataloguesThatLackOrAddOrTwist) {
  expect_refused("catalogue", answer_json({"parts", "specs/parts/harbour.yaml"}),
                 {{"no cells", [](json& d) { d.erase("cells"); }},
                  {"a list nobody knows", [](json& d) { d["horns"] = json::array(); }},
                  {"a mass as a text", [](json& d) { d["motors"][0]["mass_kg"] = "8 kg"; }},
                  {"a price missing", [](json& d) { d["extras"][0].erase("price"); }},
                  {"a kind that is none", [](json& d) { d["motors"][0]["kind"] = "hub"; }},
                  {"no teeth", [](json& d) { d["rear_sprockets"][0]["teeth"] = json::array(); }}});
}

}  // namespace
}  // namespace sprocketry::test::tiny
