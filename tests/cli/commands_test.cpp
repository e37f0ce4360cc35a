#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/program.hpp"
#include "spec/metrics.hpp"

namespace sprocketry::test {
namespace {

using nlohmann::json;

constexpr const char* kTiny = "specs/tiny.yaml";

TEST(Search, PrintsJsonWithEveryMetricAndAnAccountThatAddsUp) {
  const Outcome outcome = run_program(std::string("search --format json ") + kTiny);
  ASSERT_EQ(outcome.code, 0) << outcome.errors;
  const json document = json::parse(outcome.output);
  EXPECT_TRUE(document.at("exact").get<bool>());
  const json& count = document.at("count");
  std::uint64_t sum =
      count.at("evaluated").get<std::uint64_t>() + count.at("pruned").get<std::uint64_t>();
  for (const auto& [rule, rejected] : count.at("rejected").items())
    sum += rejected.get<std::uint64_t>();
  EXPECT_EQ(sum, count.at("combinations").get<std::uint64_t>());
  EXPECT_EQ(document.at("front").size(), count.at("front").get<std::size_t>());
  ASSERT_FALSE(document.at("front").empty());
  for (const json& design : document.at("front")) {
    for (const spec::MetricInfo& info : spec::metric_table()) {
      if (info.json_key.empty()) continue;
      EXPECT_TRUE(design.at("metrics").contains(std::string(info.json_key))) << info.json_key;
    }
  }
}

TEST(Search, PrintsTheSameBytesForAnyNumberOfThreads) {
  for (const char* format : {"json", "csv", "text"}) {
    const std::string common = std::string("search --format ") + format + ' ' + kTiny;
    EXPECT_EQ(run_program(common + " --threads 1").output,
              run_program(common + " --threads 5").output);
  }
}

TEST(Search, SaysNoWithExitCodeOneAndAWholeDocument) {
  const std::string set = " --set 'must.top_speed.min=300 km/h'";
  const Outcome text = run_program(std::string("search ") + kTiny + set);
  EXPECT_EQ(text.code, 1);
  EXPECT_NE(text.output.find("No combination meets every rule"), std::string::npos);
  const Outcome document = run_program(std::string("search --format json ") + kTiny + set);
  EXPECT_EQ(document.code, 1);
  EXPECT_TRUE(json::parse(document.output).at("front").empty());
}

TEST(Evaluate, AgreesWithTheFrontOnEveryMember) {
  const json front = json::parse(run_program(std::string("search --format json ") + kTiny).output);
  const json& member = front.at("front").at(3);
  const Outcome outcome = run_program(std::string("evaluate --format json ") + kTiny + " --pick " +
                                      member.at("id").get<std::string>());
  ASSERT_EQ(outcome.code, 0) << outcome.errors;
  const json design = json::parse(outcome.output).at("design");
  EXPECT_EQ(design.at("metrics"), member.at("metrics"));
  EXPECT_TRUE(design.at("rejected_by").empty());
}

TEST(Evaluate, ListsTheOptionsOfOpenSlots) {
  const Outcome outcome = run_program(std::string("evaluate ") + kTiny + " --pick motor=quill-3");
  EXPECT_EQ(outcome.code, 2);
  EXPECT_EQ(outcome.output, "");
  EXPECT_NE(outcome.errors.find("rear_sprocket:"), std::string::npos) << outcome.errors;
}

TEST(Evaluate, SuggestsTheNearestId) {
  const Outcome outcome = run_program(std::string("evaluate ") + kTiny + " --pick motor=quil-3");
  EXPECT_EQ(outcome.code, 2);
  EXPECT_NE(outcome.errors.find("quill-3"), std::string::npos) << outcome.errors;
}

TEST(Evaluate, RejectsWithExitCodeOneAndNamesTheRules) {
  const Outcome outcome = run_program(
      "evaluate --format json specs/tiny.yaml --pick "
      "quill-3/keld-200/slate-60x16s1p/drip-lfp-48/linkage-420/hub-420-78:12/ring-420:60");
  EXPECT_EQ(outcome.code, 1);
  const json design = json::parse(outcome.output).at("design");
  EXPECT_EQ(design.at("rejected_by").at(0), "front bore");
}

TEST(Enumerate, HasAColumnPerFieldAndALinePerCombinationThatFits) {
  const std::string set = " --set choose.motor=[quill-3]";
  const Outcome csv = run_program(std::string("enumerate ") + kTiny + set);
  const Outcome lines = run_program(std::string("enumerate --format jsonl ") + kTiny + set);
  ASSERT_EQ(csv.code, 0);
  std::istringstream table(csv.output);
  std::string line;
  std::getline(table, line);
  const auto columns = std::ranges::count(line, ',');
  EXPECT_TRUE(line.ends_with(",rejected_by"));
  std::size_t rows = 0;
  while (std::getline(table, line)) {
    ++rows;
    EXPECT_EQ(std::ranges::count(line, ','), columns);
  }
  std::istringstream documents(lines.output);
  std::size_t designs = 0;
  while (std::getline(documents, line)) {
    ++designs;
    EXPECT_TRUE(json::parse(line).contains("rejected_by"));
  }
  EXPECT_EQ(rows, designs);
  EXPECT_GT(rows, 10u);
}

TEST(Parts, ListsTheCatalogue) {
  const Outcome outcome = run_program("parts specs/parts/harbour.yaml");
  EXPECT_EQ(outcome.code, 0) << outcome.errors;
  EXPECT_NE(outcome.output.find("hollin-48"), std::string::npos);
  EXPECT_EQ(run_program(std::string("parts ") + kTiny).output, outcome.output);
}

TEST(Program, RefusesWrongInputOnStandardErrorOnly) {
  for (const char* arguments : {"search /nowhere.yaml", "search specs", "search", "serch x", "",
                                "search specs/tiny.yaml --format yaml",
                                "search specs/tiny.yaml --set must.top_sped.min=1"}) {
    const Outcome outcome = run_program(arguments);
    EXPECT_EQ(outcome.code, 2) << arguments;
    EXPECT_EQ(outcome.output, "") << arguments;
    EXPECT_NE(outcome.errors, "") << arguments;
  }
}

TEST(Program, HasNoColourInAFile) {
  EXPECT_EQ(run_program(std::string("search ") + kTiny).output.find('\x1b'), std::string::npos);
}

TEST(Program, SaysSoWhenTheDiskIsFull) {
  const Outcome outcome =
      run_program(std::string("search --format json ") + kTiny + " --html /dev/full/page.html");
  EXPECT_NE(outcome.code, 0);
  EXPECT_NE(outcome.errors, "");
}

}  // namespace
}  // namespace sprocketry::test
