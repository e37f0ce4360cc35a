#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <set>

#include "cli/launch.hpp"

namespace sprocketry::test::tiny {
namespace {

// The numbers in front of the table's lines.
std::vector<std::size_t> numbers_shown(const std::string& text) {
  std::vector<std::size_t> numbers;
  bool inside = false;
  for (const std::string& line : lines_of(text)) {
    const std::size_t first = line.find_first_not_of(' ');
    if (first == std::string::npos) continue;
    if (line[first] == '#') {
      inside = true;
    } else if (inside && std::isdigit(static_cast<unsigned char>(line[first]))) {
      numbers.push_back(std::stoul(line.substr(first)));
    } else if (inside && !numbers.empty()) {
      break;
    }
  }
  return numbers;
}

TEST(SearchText, SaysOnceThatARuleIsNotChecked) {
  const Workplace place;
  std::size_t unchecked = 0;
  for (const std::string& line : lines_of(run({"search", place.bike()}).out)) {
    const std::size_t at = line.find("not checked");
    if (at == std::string::npos) continue;
    ++unchecked;
    EXPECT_EQ(line.find("not checked", at + 1), std::string::npos) << line;
  }
  EXPECT_GT(unchecked, 0U);
}

TEST(SearchText, BeginsWithTheTitleAndTheCounts) {
  const Workplace place;
  const Words lines = lines_of(run({"search", place.bike()}).out);
  const auto count = json_of({"search", place.bike(), "--format", "json"})["count"];
  ASSERT_GT(lines.size(), 3U);
  EXPECT_EQ(lines[0], "Tiny town bike");
  EXPECT_TRUE(lines[2].starts_with("2,520 combinations: ")) << lines[2];
  EXPECT_TRUE(
      lines[2].ends_with(", " + std::to_string(count["front"].get<int>()) + " on the front."))
      << lines[2];
}

TEST(SearchText, ShowsAtMostTwentyFourDesignsWithBothEndsAndTheBestOfEachAim) {
  const Workplace place;
  const auto front = json_of({"search", place.bike(), "--format", "json"})["front"];
  const Outcome outcome = run({"search", place.bike()});
  const auto numbers = numbers_shown(outcome.out);
  ASSERT_GT(front.size(), 24U);
  EXPECT_EQ(numbers.size(), 24U);
  EXPECT_TRUE(std::ranges::is_sorted(numbers));
  EXPECT_EQ(numbers.front(), 1U);
  EXPECT_EQ(numbers.back(), front.size());
  double longest = 0;
  double cheapest = 1e300;
  double longest_shown = 0;
  double cheapest_shown = 1e300;
  for (std::size_t i = 0; i < front.size(); ++i) {
    const double range = front[i]["metrics"]["range_km"];
    const double price = front[i]["metrics"]["price"];
    longest = std::max(longest, range);
    cheapest = std::min(cheapest, price);
    if (std::ranges::find(numbers, i + 1) == numbers.end()) continue;
    longest_shown = std::max(longest_shown, range);
    cheapest_shown = std::min(cheapest_shown, price);
  }
  EXPECT_EQ(longest_shown, longest);
  EXPECT_EQ(cheapest_shown, cheapest);
  EXPECT_TRUE(
      contains(outcome.out, "24 of " + std::to_string(front.size()) + " shown; --all shows all."));
}

TEST(SearchText, ShowsTheWholeFrontOnDemand) {
  const Workplace place;
  const auto front = json_of({"search", place.bike(), "--format", "json"})["front"];
  const Outcome outcome = run({"search", place.bike(), "--all"});
  EXPECT_EQ(numbers_shown(outcome.out).size(), front.size());
  EXPECT_FALSE(contains(outcome.out, "--all shows all"));
}

TEST(SearchText, UsesTheWordsOfRiders) {
  const Workplace place;
  const Outcome outcome = run({"search", place.bike()});
  for (const char* words :
       {"0-50 km/h", "top speed", "sustained", "gearing", "full-charge voltage", "A balanced one",
        "low-voltage cut-off", "Assumed, since not stated: ", "bike.wheelbase 1.35 m",
        "Before you build", "10 to 20 %", "All with charger well-15, chain pull-420"}) {
    EXPECT_TRUE(contains(outcome.out, words)) << words << '\n' << outcome.out;
  }
}

TEST(SearchText, NamesADesignThatEvaluateTakes) {
  const Workplace place;
  const std::string text = run({"search", place.bike()}).out;
  const std::string before = "evaluate, with --pick ";
  const std::size_t at = text.find(before);
  ASSERT_NE(at, std::string::npos);
  const std::size_t begin = at + before.size();
  const std::string id = text.substr(begin, text.find('\n', at) - begin);
  EXPECT_EQ(run({"evaluate", place.bike(), "--pick", id}).code, 0);
}

TEST(SearchText, SpeaksMilesAndPoundsToWhoWritesThem) {
  const Workplace place;
  place.edit("bike.yaml", "top_speed: {min: 60 km/h}", "top_speed: {min: 38 mph}");
  place.edit("bike.yaml", "cruise: [40 km/h, 65 km/h]", "cruise: [25 mph]");
  place.edit("bike.yaml", "range: {min: 20 km}", "range: {min: 12 mi}");
  place.edit("bike.yaml", "mass: 90 kg", "mass: 200 lb");
  place.edit("bike.yaml", "title:", "objectives: [pull_away, range, mass]\ntitle:");
  place.edit("bike.yaml", "accelerations: [{from: 30 km/h, to: 65 km/h}]",
             "accelerations: [{from: 20 mph, to: 40 mph}]");
  const Outcome outcome = run({"search", place.bike()});
  ASSERT_EQ(outcome.code, 0) << outcome.err;
  const Words lines = lines_of(outcome.out);
  const auto units = std::ranges::find_if(
      lines, [](const std::string& line) { return contains(line, "mph") && contains(line, "lb"); });
  ASSERT_NE(units, lines.end()) << outcome.out;
  EXPECT_TRUE(contains(*units, "mi"));
  const auto design = json_of({"search", place.bike(), "--format", "json"})["front"][0];
  const auto id = design["id"].get<std::string>();
  const std::string whole = run({"evaluate", place.bike(), "--pick", id}).out;
  for (const char* words : {"Wh/mi", "25 mph", "acceleration from 20 mph to 40 mph", " lb"}) {
    EXPECT_TRUE(contains(whole, words)) << words << '\n' << whole;
  }
  EXPECT_FALSE(contains(whole, " kg")) << whole;
  EXPECT_TRUE(design["metrics"].contains("range_km"));
}

TEST(SearchText, SaysPlainlyThatNothingIsFeasibleAndWhy) {
  const Workplace place;
  const Outcome outcome = run({"search", place.bike(), "--set", "must.top_speed.min=150 km/h"});
  EXPECT_EQ(outcome.code, 1);
  EXPECT_EQ(outcome.err, "");
  EXPECT_TRUE(contains(outcome.out, "No combination meets every rule and demand."));
  EXPECT_TRUE(contains(outcome.out, "must top_speed"));
  EXPECT_TRUE(contains(outcome.out, "it is fast enough"));
}

TEST(Colour, IsOnlyForATerminal) {
  const Workplace place;
  EXPECT_FALSE(contains(run({"search", place.bike()}).out, "\x1b"));
  EXPECT_TRUE(contains(run_on_terminal({"search", place.bike()}).out, "\x1b[1m"));
}

TEST(Colour, IsNeverUsedAgainstNoColor) {
  const Workplace place;
  const Words words = {"search", place.bike()};
  EXPECT_FALSE(contains(run_on_terminal(words, {"NO_COLOR=1"}).out, "\x1b"));
  EXPECT_TRUE(contains(run_on_terminal(words, {"NO_COLOR="}).out, "\x1b[1m"));
}

}  // namespace
}  // namespace sprocketry::test::tiny
