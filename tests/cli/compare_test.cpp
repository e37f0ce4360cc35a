#include <gtest/gtest.h>

#include <regex>
#include <sstream>

#include "cli/launch.hpp"

namespace sprocketry::test::tiny {
namespace {

using Json = nlohmann::ordered_json;

const std::string kToday =
    "alder-4/gate-b/flint-60x14s1p/well-15/pull-420/small-420:16/large-420:56";
const std::string kMore =
    "alder-4/gate-x/flint-60x20s1p/well-15/pull-420/small-420:12/large-420:60";

Words compare(const Workplace& place, const Words& more) {
  Words words = {"compare", place.bike()};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

Json answer(const Workplace& place, const Words& more, int code = 0) {
  Words words = compare(place, more);
  words.insert(words.end(), {"--format", "json"});
  return json_of(words, code);
}

Json figure(const Json& answer, const std::string& key) {
  for (const Json& one : answer["differences"]) {
    if (one["key"] == key) return one;
  }
  ADD_FAILURE() << "no figure " << key;
  return {};
}

TEST(Compare, SetsTheFrontsOfTwoSearchesSideBySide) {
  const Workplace place;
  const Words a = {"choose.pack.series=[14, 16]"};
  const Words b = {"choose.pack.series=20"};
  const Json both = answer(place, {"--a-set", a[0], "--b-set", b[0]});
  const auto front = [&](const std::string& set) {
    return json_of({"search", place.bike(), "--format", "json", "--set", set});
  };
  for (const auto& [side, set] : {std::pair{"a", a[0]}, std::pair{"b", b[0]}}) {
    const Json searched = front(set);
    EXPECT_EQ(both[side]["combinations"], searched["count"]["combinations"]);
    ASSERT_EQ(both[side]["front"].size(), searched["front"].size());
    for (std::size_t i = 0; i < searched["front"].size(); ++i) {
      EXPECT_EQ(both[side]["front"][i]["id"], searched["front"][i]["id"]);
      EXPECT_EQ(both[side]["front"][i]["range_km"], searched["front"][i]["metrics"]["range_km"]);
    }
  }
  EXPECT_FALSE(both["budget"].empty());
  EXPECT_TRUE(both["upgrades"].empty());
}

TEST(Compare, TakesTwoFilesAndOverridesForBoth) {
  const Workplace place;
  place.write("other.yaml", read_file(place.bike()));
  place.edit("other.yaml", "mass: 90 kg", "mass: 70 kg");
  const Json both = json_of({"compare", place.bike(), place.file("other.yaml"), "--set",
                             "must.top_speed.min=50 km/h", "--format", "json"});
  EXPECT_TRUE(contains(both["a"]["label"], "bike.yaml with must.top_speed.min=50 km/h"));
  EXPECT_TRUE(contains(both["b"]["label"], "other.yaml"));
  // The lighter frame is better at the same price.
  EXPECT_TRUE(both["b_dominates"]);
  EXPECT_FALSE(both["a_dominates"]);
  EXPECT_TRUE(contains(both["verdict"], "B is nowhere worse")) << both["verdict"];
}

TEST(Compare, TheSameTwiceIsEvenEverywhere) {
  const Workplace place;
  place.write("other.yaml", read_file(place.bike()));
  const Json both =
      json_of({"compare", place.bike(), place.file("other.yaml"), "--format", "json"});
  EXPECT_EQ(both["a"]["beaten"], 0);
  EXPECT_EQ(both["a"]["matched"], both["a"]["front"].size());
  EXPECT_FALSE(both["a_dominates"]);
  for (const Json& step : both["budget"]) EXPECT_EQ(step["ahead"], "equal");
  for (const Json& one : both["differences"]) EXPECT_EQ(one["a"], one["b"]);
}

TEST(Compare, SetsTwoPicksSideBySide) {
  const Workplace place;
  const Json both = answer(place, {"--a-pick", kToday, "--b-pick", kMore});
  const auto metrics = [&](const std::string& id) {
    return json_of(
        {"evaluate", place.bike(), "--pick", id, "--format", "json"})["design"]["metrics"];
  };
  const Json a = metrics(kToday);
  const Json b = metrics(kMore);
  for (const char* key : {"pull_away_s", "range_km", "price", "winding_ride_c"}) {
    EXPECT_EQ(figure(both, key)["a"], a[key]);
    EXPECT_EQ(figure(both, key)["b"], b[key]);
  }
  EXPECT_EQ(figure(both, "cruise_2_motor_current_a")["b"], b["cruise"][1]["motor_current_a"]);
  const std::string text = run(compare(place, {"--a-pick", kToday, "--b-pick", kMore})).out;
  EXPECT_TRUE(contains(text, "at 65 km/h: motor current")) << text;
  EXPECT_TRUE(contains(text, "more (")) << text;
}

TEST(Compare, ComparesOnlyWhatBothAreAsked) {
  const Workplace place;
  const Json both = answer(
      place, {"--a-pick", kToday, "--b-pick", kMore, "--b-set", "cruise=[65 km/h, 50 km/h]"});
  // A's second cruise is B's first.
  EXPECT_EQ(figure(both, "cruise_2_speed_km_h")["b"], 65);
  for (const Json& one : both["differences"]) EXPECT_NE(one["key"], "cruise_1_speed_km_h");
}

TEST(Compare, SaysWhatMustBeBoughtForABikeThatRuns) {
  const Workplace place;
  place.edit("parts.yaml", "chargers:\n",
             "chargers:\n  - {id: brook-48, chemistries: [lfp], full_voltage: {min: 45 V, max: 60 "
             "V}, current: 15 A, mass: 2 kg, price: 90}\n");
  const std::string today =
      "alder-4/gate-b/flint-60x16s1p/brook-48/pull-420/small-420:14/large-420:56";
  const Json both = answer(place, {"--today", today, "--b-pick", kMore});
  EXPECT_EQ(both["a"]["front"][0]["price"], 0);
  ASSERT_EQ(both["upgrades"].size(), 1U);
  const Json upgrade = both["upgrades"][0];
  EXPECT_EQ(upgrade["price"], both["b"]["front"][0]["price"]);
  double sum = 0;
  std::map<std::string, Json> by_slot;
  for (const Json& one : upgrade["exchanged"]) {
    by_slot[one["slot"]] = one;
    sum += one["price"].get<double>();
  }
  for (const Json& one : upgrade["extras_bought"]) sum += one["price"].get<double>();
  EXPECT_NEAR(sum, upgrade["price"].get<double>(), 1e-9);
  EXPECT_EQ(by_slot["charger"]["no_longer_fits"], Json::parse(R"(["charger highest voltage"])"));
  EXPECT_EQ(by_slot["charger"]["price"], 160);
  EXPECT_TRUE(by_slot["controller"]["no_longer_fits"].empty());
  EXPECT_FALSE(by_slot.contains("motor"));
  EXPECT_EQ(upgrade["extras_bought"][0]["id"], "breaker-70");
  EXPECT_TRUE(contains(upgrade["extras_bought"][0]["reason"], "full-charge voltage 73 V"));
  const std::string text = run(compare(place, {"--today", today, "--b-pick", kMore})).out;
  EXPECT_EQ(by_slot["charger"]["clashes_with"], Json::parse(R"(["pack"])"));
  EXPECT_TRUE(contains(text, "(the old one does not go with the new pack: charger\n")) << text;
  EXPECT_TRUE(contains(text, "(the old one would do)")) << text;
  EXPECT_TRUE(contains(text, "stays: motor alder-4")) << text;
}

TEST(Compare, KeepsWhatIsNotPickedAndTellsDemandsFromFit) {
  const Workplace place;
  const Json both = answer(place, {"--today", kToday, "--b-pick", "pack=flint-60x20s1p", "--b-pick",
                                   "rear_teeth=60", "--b-set", "must.range.min=90 km"});
  const Json upgrade = both["upgrades"][0];
  EXPECT_EQ(upgrade["design"],
            "alder-4/gate-b/flint-60x20s1p/well-15/pull-420/small-420:16/large-420:60");
  const Json pack = upgrade["exchanged"][0];
  EXPECT_EQ(pack["slot"], "pack");
  EXPECT_TRUE(pack["no_longer_fits"].empty());
  EXPECT_EQ(pack["misses"], Json::parse(R"(["must range"])"));
  EXPECT_TRUE(contains(both["verdict"], "more B gives")) << both["verdict"];
}

// The controller of today stays and cannot bear the new pack: it alone is named for that.
TEST(Compare, NamesThePartThatStaysButDoesNotFit) {
  const std::string demo = SPROCKETRY_SOURCE_DIR "/specs/demo.yaml";
  const Words words = {"compare",
                       demo,
                       "--today",
                       "tessel-b5/vane-120/slate-60x16s1p/drip-lfp-48/linkage-420/"
                       "hub-420-78:12/ring-420:50",
                       "--b-pick",
                       "pack=slate-60x24s1p",
                       "--b-pick",
                       "charger=drip-lfp-72",
                       "--b-pick",
                       "rear_teeth=65"};
  Words json = words;
  json.insert(json.end(), {"--format", "json"});
  const Json upgrade = json_of(json, 1)["upgrades"][0];
  for (const Json& one : upgrade["exchanged"]) {
    for (const char* list : {"no_longer_fits", "misses"}) {
      for (const Json& rule : one[list]) EXPECT_NE(rule, "controller voltage") << one;
    }
  }
  EXPECT_EQ(upgrade["misfits"],
            Json::parse(R"([{"part": "controller vane-120", "rules": ["controller voltage"]}])"));
  EXPECT_TRUE(contains(run(words).out, "does not fit the rest: controller vane-120"));
}

TEST(Compare, LeavesOutWhatTheTwoSidesAreAskedDifferently) {
  const Workplace place;
  const Words words = {"--a-pick", kToday,
                       "--b-pick", kMore,
                       "--b-set",  "ride.cycle=nycc",
                       "--b-set",  "must.pull_away={to: 60 km/h, max: 60 s}"};
  const Json both = answer(place, words);
  ASSERT_EQ(both["asked_differently"].size(), 2U) << both["asked_differently"];
  EXPECT_EQ(both["asked_differently"][0]["question"], "pull_away");
  EXPECT_EQ(both["asked_differently"][0]["b"], "60 km/h");
  EXPECT_EQ(both["asked_differently"][1]["b"], "nycc");
  EXPECT_EQ(both["aims"], Json::parse(R"(["price"])"));
  for (const Json& one : both["differences"]) {
    EXPECT_NE(one["key"], "pull_away_s");
    EXPECT_NE(one["key"], "range_km");
    EXPECT_NE(one["key"], "winding_ride_c");
    EXPECT_FALSE(contains(one["key"].get<std::string>(), "climbs_1_winding"));
  }
  figure(both, "top_speed_km_h");
  const Outcome text = run(compare(place, words));
  EXPECT_TRUE(contains(text.out, "for B: the figures of it are not")) << text.out;
  EXPECT_TRUE(answer(place, {"--a-pick", kToday, "--b-pick", kMore})["asked_differently"].empty());
}

// An aim on the hardest of other climbs, or of other cruise speeds, is another aim.
TEST(Compare, LeavesOutAimsOnOtherClimbsAndCruises) {
  const Workplace place;
  const Words sides = {"--a-pick", kToday,
                       "--b-pick", kMore,
                       "--set",    "objectives=[price, climb_margin, cruise_current]",
                       "--set",    "must.climbs=[{grade: 8 %, speed: 15 km/h, for: 60 s}]",
                       "--set",    "cruise=[40 km/h]"};
  EXPECT_EQ(answer(place, sides)["aims"].size(), 3U);
  const auto with = [&](const std::string& override) {
    Words words = sides;
    words.insert(words.end(), {"--b-set", override});
    return answer(place, words);
  };
  const Json climbs = with("must.climbs=[{grade: 8 %, speed: 15 km/h, for: 90 s}]");
  EXPECT_EQ(climbs["aims"], Json::parse(R"(["price", "cruise_current"])"));
  EXPECT_EQ(climbs["asked_differently"][0]["a"], "8 % at 15 km/h for 60 s");
  EXPECT_EQ(climbs["asked_differently"][0]["b"], "8 % at 15 km/h for 90 s");
  for (const Json& one : climbs["differences"]) {
    EXPECT_FALSE(one["key"].get<std::string>().starts_with("climbs_")) << one;
  }
  const Json cruises = with("cruise=[40 km/h, 45 km/h]");
  EXPECT_EQ(cruises["aims"], Json::parse(R"(["price", "climb_margin"])"));
  EXPECT_EQ(cruises["asked_differently"][0]["b"], "40 km/h; 45 km/h");
}

// Prices with cents: what is printed adds up to the printed sum.
TEST(Compare, PrintsBillsThatAddUp) {
  const Workplace place;
  place.edit("parts.yaml", "mass: 2.1 kg, price: 390", "mass: 2.1 kg, price: 390.5");
  place.edit("parts.yaml", "mass: 1.2 kg, price: 42,", "mass: 1.2 kg, price: 42.3,");
  const std::string text = run(compare(place, {"--today", kToday, "--b-pick", kMore})).out;
  const std::size_t begin = text.find("For the pick: ");
  ASSERT_NE(begin, std::string::npos) << text;
  const auto amount_after = [&](const std::string& before, std::size_t from) {
    return std::stod(text.substr(text.find(before, from) + before.size()));
  };
  double sum = 0;
  for (std::size_t at = text.find(" -> ", begin); at != std::string::npos;
       at = text.find(" -> ", at + 1)) {
    const std::size_t line = text.rfind('\n', text.find(" EUR", at));
    EXPECT_LT(line, at);
    const std::size_t comma = text.rfind(", ", text.find(" EUR", at));
    sum += std::stod(text.substr(comma + 2));
  }
  for (std::size_t at = text.find("extra: ", begin); at != std::string::npos;
       at = text.find("extra: ", at + 1)) {
    sum += std::stod(text.substr(text.find(", ", at) + 2));
  }
  EXPECT_NEAR(sum, amount_after("For the pick: ", begin), 1e-9) << text;
}

TEST(Compare, AnswersNoWhenASideHasNothing) {
  const Workplace place;
  const Json both = answer(place, {"--b-set", "must.top_speed.min=200 km/h"}, 1);
  EXPECT_TRUE(both["b"]["front"].empty());
  EXPECT_TRUE(contains(both["verdict"], "B has no design that meets every rule"));
  EXPECT_EQ(run(compare(place, {"--b-set", "must.top_speed.min=200 km/h"})).code, 1);
  // A pick that a rule rejects is no answer either, but the bike of today may miss the new demands.
  const Words wish = {"--set", "must.top_speed.min=88 km/h"};
  Words pick = {"--a-pick", kToday, "--b-pick", kMore};
  pick.insert(pick.end(), wish.begin(), wish.end());
  const Json picked = answer(place, pick, 1);
  EXPECT_EQ(picked["a"]["rejected_by"], Json::parse(R"(["must top_speed"])"));
  pick[0] = "--today";
  EXPECT_EQ(run(compare(place, pick)).code, 0);
  const Json neither =
      answer(place, {"--today", kToday, "--set", "must.top_speed.min=200 km/h"}, 1);
  EXPECT_EQ(neither["verdict"],
            "B has no design that meets every rule; mind that today's bike is rejected by must "
            "top_speed.");
}

TEST(Compare, KnowsBudgetsWithoutPriceAmongTheAims) {
  const Workplace place;
  const Words aims = {"--set", "objectives=[pull_away, range]"};
  Words words = {"--b-set", "choose.pack.series=20"};
  words.insert(words.end(), aims.begin(), aims.end());
  const Json without = answer(place, words);
  const Json with = answer(place, {"--b-set", "choose.pack.series=20"});
  EXPECT_EQ(without["budget"], with["budget"]);
  EXPECT_LT(without["a"]["front"].size(), with["a"]["front"].size());
}

TEST(Compare, AChangeIsThatOfTheFiguresAsTheyAreShown) {
  const Workplace place;
  // The demo has a charging time so near a half that rounding it another way shows.
  const std::string text =
      run({"compare", SPROCKETRY_SOURCE_DIR "/specs/demo.yaml", "--today",
           "tessel-b8/vane-200/slate-60x16s1p/drip-lfp-48/linkage-420/hub-420-78:12/ring-420:41",
           "--b-pick", "pack=slate-60x20s1p", "--b-pick", "charger=drip-lfp-72", "--b-pick",
           "rear_teeth=52"})
          .out;
  std::istringstream lines(text);
  int changes = 0;
  for (std::string line; std::getline(lines, line);) {
    static const std::regex kRow(R"(^  .*?  +(-?[0-9.]+)  +(-?[0-9.]+)  +([-+][0-9.]+)(  .*)?$)");
    std::smatch found;
    if (!std::regex_match(line, found, kRow)) continue;
    EXPECT_NEAR(std::stod(found[2]) - std::stod(found[1]), std::stod(found[3]), 1e-9) << line;
    ++changes;
  }
  EXPECT_GT(changes, 20) << text;
}

TEST(Compare, GivesTheSameBytesForAnyNumberOfThreads) {
  const Workplace place;
  const Words words = compare(place, {"--b-set", "choose.pack.series=20", "--threads"});
  Words one = words;
  Words four = words;
  one.emplace_back("1");
  four.emplace_back("4");
  EXPECT_EQ(run(one).out, run(four).out);
}

TEST(Compare, RefusesWhatMakesNoSense) {
  const Workplace place;
  const std::vector<std::pair<Words, std::string>> cases = {
      {{}, "both sides are the same"},
      {{"--set", "rider.mass=90 kg"}, "both sides are the same"},
      {{"--today", kToday, "--a-pick", kToday}, "--today is side A already"},
      {{"--b-pick", "motor=alder-5"}, "did you mean 'alder-4'?"},
      {{"--b-set", "objectives=[mass, top_speed]"}, "no aim in common"},
      {{"--b-set", "currency=USD"}, "A is in EUR and B in USD"},
      {{"--b-set", "must.top_speed.min=fast"}, "must.top_speed.min=fast"},
      {{place.bike(), place.bike()}, "'" + place.bike() + "' is one argument too many"},
      {{"--b-pick", "foo"}, "--b-pick foo: write SLOT=ID"},
      {{"--b-pick", "motor="}, "--b-pick motor= names nothing"},
      {{"--a-pick", "motor=alder-4"}, "--a-pick: more than one option fits"},
      {{"--today", "alder-4"}, "--today alder-4: write SLOT=ID"},
      {{"--a-set", "must.price.max=2900 EUR"}, "--a-set must.price.max=2900 EUR:1:16: error"},
      {{"--b-set", "must.price.max=2900 EUR"}, "--b-set must.price.max=2900 EUR:1:16: error"},
      {{"--set", "must.price.max=2900 EUR", "--b-set", "rider.mass=90 kg"},
       "--set must.price.max=2900 EUR:1:16: error"},
      {{"--b-set", "must"}, "write for example --b-set must"},
  };
  for (const auto& [more, message] : cases) {
    const Outcome outcome = run(compare(place, more));
    EXPECT_EQ(outcome.code, 2) << message;
    EXPECT_EQ(outcome.out, "") << message;
    EXPECT_TRUE(contains(outcome.err, message)) << outcome.err;
  }
}

}  // namespace
}  // namespace sprocketry::test::tiny
