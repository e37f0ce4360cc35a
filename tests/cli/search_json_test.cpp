#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <tuple>

#include "cli/launch.hpp"
#include "rules/rule.hpp"
#include "spec/metrics.hpp"

namespace sprocketry::test::tiny {
namespace {

using Json = nlohmann::ordered_json;

Words keys_of(const Json& object) {
  Words keys;
  for (const auto& [key, value] : object.items()) keys.push_back(key);
  return keys;
}

Json search(const Workplace& place, Words more = {}, int code = 0) {
  Words words = {"search", place.bike(), "--format", "json"};
  words.insert(words.end(), more.begin(), more.end());
  return json_of(words, code);
}

TEST(SearchJson, HasTheDocumentedKeysInTheirOrder) {
  const Workplace place;
  const Json answer = search(place);
  EXPECT_EQ(keys_of(answer),
            (Words{"sprocketry", "title", "exact", "defaults", "count", "objectives", "front"}));
  EXPECT_EQ(answer["title"], "Tiny town bike");
  EXPECT_EQ(answer["exact"], true);
  EXPECT_EQ(keys_of(answer["count"]),
            (Words{"combinations", "rejected", "pruned", "evaluated", "front"}));
  ASSERT_FALSE(answer["front"].empty());
  const Json& design = answer["front"][0];
  for (const char* key : {"id", "parts", "metrics", "chain", "rules"}) {
    EXPECT_TRUE(design.contains(key)) << key;
  }
  EXPECT_FALSE(design.contains("rejected_by"));
  EXPECT_EQ(keys_of(design["parts"]),
            (Words{"motor", "controller", "pack", "charger", "chain", "front_sprocket",
                   "front_teeth", "rear_sprocket", "rear_teeth"}));
  EXPECT_EQ(keys_of(design["chain"]),
            (Words{"links", "centre_distance_mm", "wrap_deg", "efficiency", "chordal_percent",
                   "strength_n", "pull_peak_n", "pull_continuous_n", "steady_power_kw",
                   "steady_front_rpm", "power_capacity_kw", "galling_rpm", "links_possible", "buy",
                   "slack", "line"}));
}

TEST(SearchJson, GivesEveryMetricOfTheTableAndTheListsUnderTheirDocumentedNames) {
  const Workplace place;
  const Json answer = search(place);
  Words expected;
  for (const spec::MetricInfo& info : spec::metric_table()) {
    if (!info.json_key.empty()) expected.emplace_back(info.json_key);
  }
  const Words documented = {"pull_away_s",
                            "range_km",
                            "price",
                            "top_speed_km_h",
                            "top_speed_low_km_h",
                            "sustained_speed_km_h",
                            "start_grade_percent",
                            "consumption_wh_km",
                            "mass_kg",
                            "winding_ride_c",
                            "battery_current_peak_a",
                            "charge_time_h",
                            "keeps_up_percent"};
  EXPECT_EQ(expected, documented);
  expected.insert(expected.end(), {"cruise", "accelerations", "climbs"});
  for (const Json& design : answer["front"]) {
    const Json& metrics = design["metrics"];
    ASSERT_EQ(keys_of(metrics), expected);
    ASSERT_EQ(metrics["cruise"].size(), 2U);
    EXPECT_EQ(keys_of(metrics["cruise"][0]), (Words{"speed_km_h", "battery_current_a",
                                                    "motor_current_a", "motor_rpm", "range_km"}));
    ASSERT_EQ(metrics["accelerations"].size(), 1U);
    EXPECT_EQ(keys_of(metrics["accelerations"][0]), (Words{"from_km_h", "to_km_h", "time_s"}));
    ASSERT_EQ(metrics["climbs"].size(), 1U);
    EXPECT_EQ(keys_of(metrics["climbs"][0]), (Words{"grade_percent", "speed_km_h", "force_margin_n",
                                                    "force_margin_low_n", "winding_c"}));
  }
}

TEST(SearchJson, RepeatsTheSpeedsThatWereAskedForAsTheyWereWritten) {
  const Workplace place;
  const Json metrics = search(place)["front"][0]["metrics"];
  EXPECT_EQ(metrics["cruise"][0]["speed_km_h"], 40);
  EXPECT_EQ(metrics["cruise"][1]["speed_km_h"], 65);
  EXPECT_EQ(metrics["accelerations"][0]["from_km_h"], 30);
  EXPECT_EQ(metrics["accelerations"][0]["to_km_h"], 65);
  EXPECT_EQ(metrics["climbs"][0]["speed_km_h"], 25);
}

TEST(SearchJson, CountsAddUpAndNameRulesInPublishedOrderWithoutZeros) {
  const Workplace place;
  const Json answer = search(place);
  const Json& count = answer["count"];
  EXPECT_EQ(count["combinations"], 2 * 2 * 6 * 1 * 1 * 5 * 21);
  Words published;
  for (const rules::Rule& rule : rules::rule_table()) published.emplace_back(rule.name);
  long long rejected = 0;
  auto place_in_table = published.begin();
  for (const auto& [name, number] : count["rejected"].items()) {
    place_in_table = std::find(place_in_table, published.end(), name);
    EXPECT_NE(place_in_table, published.end()) << name;
    EXPECT_GT(number.get<long long>(), 0) << name;
    rejected += number.get<long long>();
  }
  EXPECT_EQ(count["combinations"].get<long long>(),
            rejected + count["pruned"].get<long long>() + count["evaluated"].get<long long>());
  EXPECT_EQ(count["front"], answer["front"].size());
}

TEST(SearchJson, NamesObjectivesWithUnitAndDirection) {
  const Workplace place;
  place.edit("bike.yaml",
             "title:", "currency: CHF\nobjectives: [price, range, mass, charge_time]\ntitle:");
  const Json answer = search(place);
  const Json expected = Json::parse(R"([
      {"name": "price", "unit": "CHF", "better": "lower"},
      {"name": "range", "unit": "km", "better": "higher"},
      {"name": "mass", "unit": "kg", "better": "lower"},
      {"name": "charge_time", "unit": "h", "better": "lower"}])");
  EXPECT_EQ(answer["objectives"], expected);
}

TEST(SearchJson, SortsTheFrontByObjectivesInTheirOrderThenIds) {
  const Workplace place;
  const Json answer = search(place);
  const auto key = [](const Json& design) {
    const Json& m = design["metrics"];
    return std::tuple(m["pull_away_s"].get<double>(), -m["range_km"].get<double>(),
                      m["price"].get<double>());
  };
  const Json& front = answer["front"];
  for (std::size_t i = 1; i < front.size(); ++i) EXPECT_LE(key(front[i - 1]), key(front[i])) << i;
}

TEST(SearchJson, GivesEachDefaultWithItsSourceAndOnlyPartsOnTheFront) {
  const Workplace place;
  const Json answer = search(place);
  std::set<std::string> used;
  for (const Json& design : answer["front"]) {
    used.insert(design["parts"]["motor"].get<std::string>());
  }
  std::set<std::string> keys;
  for (const Json& entry : answer["defaults"]) {
    EXPECT_EQ(keys_of(entry), (Words{"key", "value", "source"}));
    EXPECT_FALSE(entry["value"].get<std::string>().empty());
    EXPECT_FALSE(entry["source"].get<std::string>().empty());
    const auto key = entry["key"].get<std::string>();
    EXPECT_TRUE(keys.insert(key).second) << key;
    if (!key.starts_with("motors.")) continue;
    EXPECT_TRUE(used.contains(split(key, '.')[1])) << key;
  }
  EXPECT_TRUE(keys.contains("bike.wheelbase"));
  EXPECT_TRUE(keys.contains("conditions.grip"));
  EXPECT_TRUE(keys.contains("cells.flint-60.nominal_voltage"));
  const Json fewer = search(place, {"--set", "choose.motor=[alder-4]"});
  EXPECT_FALSE(contains(fewer["defaults"].dump(), "motors.birch-6"));
}

TEST(SearchJson, GivesOfTheRulesTheTellingOnesOrAll) {
  const Workplace place;
  const Json telling = search(place)["front"][0]["rules"];
  const Json all = search(place, {"--rules", "all"})["front"][0]["rules"];
  EXPECT_GT(all.size(), telling.size());
  for (const Json& row : telling) {
    EXPECT_NE(std::find(all.begin(), all.end(), row), all.end()) << row;
  }
  const auto tight = std::count_if(telling.begin(), telling.end(),
                                   [](const Json& row) { return row["kind"] == "reject"; });
  EXPECT_EQ(tight, 3);
  const std::set<std::string> kinds = {"reject", "caution", "unchecked"};
  for (const Json& row : all) {
    for (const char* key : {"rule", "value", "limit", "unit", "margin", "kind", "source"}) {
      EXPECT_TRUE(row.contains(key)) << row;
    }
    const auto kind = row["kind"].get<std::string>();
    EXPECT_TRUE(kinds.contains(kind)) << row;
    EXPECT_EQ(row.contains("missing"), kind == "unchecked") << row;
    EXPECT_EQ(row["value"].is_null(), kind == "unchecked") << row;
  }
}

TEST(SearchJson, NamesTheFieldThatAnUncheckedRuleLacks) {
  const Workplace place;
  const Json rules = search(place)["front"][0]["rules"];
  const auto row = std::find_if(rules.begin(), rules.end(),
                                [](const Json& r) { return r["rule"] == "gross mass"; });
  ASSERT_NE(row, rules.end());
  EXPECT_EQ((*row)["kind"], "unchecked");
  EXPECT_EQ((*row)["missing"], "bike.max_gross_mass");
  EXPECT_TRUE((*row)["margin"].is_null());
}

TEST(SearchJson, MeasuresMoneyInTheCurrencyAndTellsListedChecksApart) {
  const Workplace place;
  const Json rules = search(place, {"--rules", "all", "--set", "must.price.max=3000", "--set",
                                    "currency=CHF"})["front"][0]["rules"];
  std::set<std::string> cruises;
  bool priced = false;
  for (const Json& row : rules) {
    if (row["rule"] == "must price") {
      priced = true;
      EXPECT_EQ(row["unit"], "CHF");
      EXPECT_EQ(row["limit"], 3000);
      EXPECT_NEAR(row["margin"].get<double>(), 3000 - row["value"].get<double>(), 1e-9);
    }
    if (row["rule"] == "cruise motor current") cruises.insert(row["about"].get<std::string>());
  }
  EXPECT_TRUE(priced);
  EXPECT_EQ(cruises, (std::set<std::string>{"40 km/h", "65 km/h"}));
}

TEST(SearchJson, WritesAMetricThatDoesNotExistAsNull) {
  const Workplace place;
  const Json answer = search(place, {"--set", "accelerations=[{from: 10 km/h, to: 150 km/h}]"});
  ASSERT_FALSE(answer["front"].empty());
  EXPECT_TRUE(answer["front"][0]["metrics"]["accelerations"][0]["time_s"].is_null());
}

TEST(SearchJson, WritesNoChargerAsNull) {
  const Workplace place;
  std::string parts = read_file(place.file("parts.yaml"));
  const std::size_t begin = parts.find("chargers:");
  parts.erase(begin, parts.find("chains:") - begin);
  place.write("parts.yaml", parts);
  const Json design = search(place)["front"][0];
  EXPECT_TRUE(design["parts"]["charger"].is_null());
  EXPECT_TRUE(design["metrics"]["charge_time_h"].is_null());
  EXPECT_TRUE(contains(design["id"].get<std::string>(), "/none/"));
}

TEST(SearchJson, IsWholeWithAnEmptyFrontWhenNothingIsFeasible) {
  const Workplace place;
  const Json answer = search(place, {"--set", "must.price.max=10"}, 1);
  EXPECT_TRUE(answer["front"].is_array());
  EXPECT_TRUE(answer["front"].empty());
  EXPECT_EQ(answer["count"]["front"], 0);
  EXPECT_EQ(answer["count"]["evaluated"], 0);
  EXPECT_EQ(answer["objectives"].size(), 3U);
}

}  // namespace
}  // namespace sprocketry::test::tiny
