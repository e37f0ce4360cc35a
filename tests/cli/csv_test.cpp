#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <set>

#include "cli/launch.hpp"

namespace sprocketry::test::tiny {
namespace {

using Json = nlohmann::json;

const std::string kColumns =
    "motor,controller,pack,charger,chain,front_sprocket,front_teeth,rear_sprocket,rear_teeth,"
    "pull_away_s,range_km,price,top_speed_km_h,top_speed_low_km_h,sustained_speed_km_h,"
    "start_grade_percent,consumption_wh_km,mass_kg,winding_ride_c,battery_current_peak_a,"
    "charge_time_h,keeps_up_percent,"
    "cruise_1_speed_km_h,cruise_1_battery_current_a,cruise_1_motor_current_a,cruise_1_motor_rpm,"
    "cruise_1_range_km,cruise_2_speed_km_h,cruise_2_battery_current_a,cruise_2_motor_current_a,"
    "cruise_2_motor_rpm,cruise_2_range_km,"
    "accelerations_1_from_km_h,accelerations_1_to_km_h,accelerations_1_time_s,"
    "climbs_1_grade_percent,climbs_1_speed_km_h,climbs_1_force_margin_n,"
    "climbs_1_force_margin_low_n,climbs_1_winding_c";

std::string id_of(const Words& fields) {
  std::string id;
  for (std::size_t i = 0; i < 5; ++i) id += fields[i] + '/';
  return id + fields[5] + ':' + fields[6] + '/' + fields[7] + ':' + fields[8];
}

std::vector<Words> rows_of(const Outcome& outcome) {
  std::vector<Words> rows;
  for (const std::string& line : lines_of(outcome.out)) rows.push_back(split(line, ','));
  rows.erase(rows.begin());
  return rows;
}

TEST(Csv, OfSearchHasPartAndMetricColumns) {
  const Workplace place;
  const Outcome outcome = run({"search", place.bike(), "--format", "csv"});
  EXPECT_EQ(outcome.code, 0);
  EXPECT_EQ(lines_of(outcome.out).front(), kColumns);
}

TEST(Csv, OfSearchHoldsTheNumbersOfTheJson) {
  const Workplace place;
  const auto front = json_of({"search", place.bike(), "--format", "json"})["front"];
  const auto rows = rows_of(run({"search", place.bike(), "--format", "csv"}));
  const Words columns = split(kColumns, ',');
  ASSERT_EQ(rows.size(), front.size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    ASSERT_EQ(rows[i].size(), columns.size());
    EXPECT_EQ(id_of(rows[i]), front[i]["id"]);
    for (std::size_t c = 9; c < 22; ++c) {
      EXPECT_EQ(std::strtod(rows[i][c].c_str(), nullptr), front[i]["metrics"][columns[c]]);
    }
    EXPECT_EQ(std::strtod(rows[i][26].c_str(), nullptr),
              front[i]["metrics"]["cruise"][0]["range_km"]);
    EXPECT_EQ(std::strtod(rows[i][39].c_str(), nullptr),
              front[i]["metrics"]["climbs"][0]["winding_c"]);
  }
}

TEST(Csv, OfSearchIsAHeadingAloneWhenNothingIsFeasible) {
  const Workplace place;
  const Outcome outcome =
      run({"search", place.bike(), "--format", "csv", "--set", "must.price.max=10"});
  EXPECT_EQ(outcome.code, 1);
  EXPECT_EQ(outcome.out, kColumns + "\n");
}

TEST(Csv, OfEnumerateEndsWithTheRulesThatReject) {
  const Workplace place;
  const Outcome outcome = run({"enumerate", place.bike(), "--set", "must.mass.max=120 kg"});
  EXPECT_EQ(outcome.code, 0);
  EXPECT_EQ(lines_of(outcome.out).front(), kColumns + ",rejected_by");
  std::set<std::string> reasons;
  for (const Words& row : rows_of(outcome)) reasons.insert(row.back());
  EXPECT_TRUE(reasons.contains(""));
  EXPECT_TRUE(reasons.contains("must mass"));
  EXPECT_TRUE(reasons.contains("cruise motor current;must mass"));
}

TEST(Csv, OfEnumerateLeavesAMetricThatDoesNotExistEmpty) {
  const Workplace place;
  const Outcome outcome = run({"enumerate", place.bike(), "--format", "csv", "--set",
                               "accelerations=[{from: 10 km/h, to: 150 km/h}]"});
  EXPECT_EQ(outcome.code, 0);
  for (const Words& row : rows_of(outcome)) EXPECT_EQ(row[34], "");
}

// The plainest search: every combination that no rule rejects and no other one dominates.
TEST(Enumerate, FollowedByANaiveFilterGivesTheFrontOfSearch) {
  const Workplace place;
  std::vector<Words> sound;
  for (const Words& row : rows_of(run({"enumerate", place.bike()}))) {
    if (row.back().empty()) sound.push_back(row);
  }
  const auto answer = json_of({"search", place.bike(), "--format", "json"});
  EXPECT_EQ(answer["count"]["evaluated"], sound.size());
  const auto aims = [](const Words& row) {
    return std::array{std::strtod(row[9].c_str(), nullptr), -std::strtod(row[10].c_str(), nullptr),
                      std::strtod(row[11].c_str(), nullptr)};
  };
  std::set<std::string> kept;
  for (const Words& row : sound) {
    const auto mine = aims(row);
    const bool dominated = std::ranges::any_of(sound, [&](const Words& other) {
      const auto theirs = aims(other);
      bool no_worse = true;
      for (std::size_t k = 0; k < mine.size(); ++k) no_worse = no_worse && theirs[k] <= mine[k];
      return no_worse && theirs != mine;
    });
    if (!dominated) kept.insert(id_of(row));
  }
  std::set<std::string> found;
  for (const auto& design : answer["front"]) found.insert(design["id"].get<std::string>());
  EXPECT_EQ(found, kept);
}

TEST(Enumerate, WritesAsJsonLinesTheDesignsOfTheCsv) {
  const Workplace place;
  const auto rows = rows_of(run({"enumerate", place.bike(), "--format", "csv"}));
  const Words lines = lines_of(run({"enumerate", place.bike(), "--format", "jsonl"}).out);
  ASSERT_EQ(lines.size(), rows.size());
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const Json design = Json::parse(lines[i]);
    EXPECT_EQ(design["id"], id_of(rows[i]));
    std::string reasons;
    for (const auto& reason : design["rejected_by"]) {
      reasons += (reasons.empty() ? "" : ";") + reason.get<std::string>();
    }
    EXPECT_EQ(reasons, rows[i].back());
  }
}

TEST(Enumerate, ListsOnlyWhatPassesThePairwiseRules) {
  const Workplace place;
  const auto rows = rows_of(run({"enumerate", place.bike()}));
  EXPECT_FALSE(rows.empty());
  for (const Words& row : rows) EXPECT_FALSE(row[0] == "birch-6" && row[1] == "gate-b");
}

TEST(Enumerate, ShowsAllRulesOfAJsonLineOnDemand) {
  const Workplace place;
  const Words few = {"enumerate", place.bike(), "--format", "jsonl"};
  Words many = few;
  many.insert(many.end(), {"--rules", "all"});
  const auto first = [](const Outcome& outcome) {
    return Json::parse(lines_of(outcome.out).front())["rules"].size();
  };
  EXPECT_GT(first(run(many)), first(run(few)));
}

TEST(Enumerate, ThatListsNothingIsDone) {
  const Workplace place;
  const Outcome outcome =
      run({"enumerate", place.bike(), "--set", "bike.rear_sprocket.bolt_circle=120 mm"});
  EXPECT_EQ(outcome.code, 0);
  EXPECT_EQ(outcome.out, kColumns + ",rejected_by\n");
}

TEST(Threads, ChangeNoByteOfAnyOutput) {
  const Workplace place;
  const std::vector<Words> commands = {
      {"search", place.bike()},
      {"search", place.bike(), "--format", "json"},
      {"search", place.bike(), "--format", "csv"},
      {"enumerate", place.bike(), "--format", "csv"},
      {"enumerate", place.bike(), "--format", "jsonl"},
  };
  for (const Words& command : commands) {
    Words one = command;
    Words two = command;
    one.insert(one.end(), {"--threads", "1"});
    two.insert(two.end(), {"--threads", "2"});
    const std::string expected = run(command).out;
    EXPECT_FALSE(expected.empty());
    EXPECT_EQ(run(one).out, expected) << command.front();
    EXPECT_EQ(run(two).out, expected) << command.front();
  }
}

}  // namespace
}  // namespace sprocketry::test::tiny
