#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/launch.hpp"
#include "spec/metrics.hpp"

namespace sprocketry::test::tiny {
namespace {

using nlohmann::json;

constexpr const char* kTiny = "specs/tiny.yaml";
constexpr const char* kDesign =
    "quill-3/keld-200/slate-60x16s1p/drip-lfp-48/linkage-420/hub-420-34:11/ring-420:60";

// Runs from the checkout; arguments are separated by single blanks.
Outcome run_program(const std::string& arguments) {
  Surroundings root;
  root.folder = SPROCKETRY_SOURCE_DIR;
  return run(arguments.empty() ? Words{} : split(arguments, ' '), root);
}

json evaluated(const std::string& options) {
  return json::parse(run_program(std::string("evaluate --format json ") + kTiny + " --pick " +
                                 kDesign + options)
                         .out)
      .at("design");
}

TEST(Search, PrintsJsonWithEveryMetricAndAnAccountThatAddsUp) {
  const Outcome outcome = run_program(std::string("search --format json ") + kTiny);
  ASSERT_EQ(outcome.code, 0) << outcome.err;
  const json document = json::parse(outcome.out);
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
    EXPECT_EQ(run_program(common + " --threads 1").out, run_program(common + " --threads 5").out);
  }
}

TEST(Search, SaysNoWithExitCodeOneAndAWholeDocument) {
  const std::string set = " --set must.top_speed.min=300km/h";
  const Outcome text = run_program(std::string("search ") + kTiny + set);
  EXPECT_EQ(text.code, 1);
  EXPECT_NE(text.out.find("No combination meets every rule"), std::string::npos);
  const Outcome document = run_program(std::string("search --format json ") + kTiny + set);
  EXPECT_EQ(document.code, 1);
  EXPECT_TRUE(json::parse(document.out).at("front").empty());
}

TEST(Evaluate, AgreesWithTheFrontOnEveryMember) {
  const json front = json::parse(run_program(std::string("search --format json ") + kTiny).out);
  const json& member = front.at("front").at(3);
  const Outcome outcome = run_program(std::string("evaluate --format json ") + kTiny + " --pick " +
                                      member.at("id").get<std::string>());
  ASSERT_EQ(outcome.code, 0) << outcome.err;
  const json design = json::parse(outcome.out).at("design");
  EXPECT_EQ(design.at("metrics"), member.at("metrics"));
  EXPECT_TRUE(design.at("rejected_by").empty());
}

TEST(Evaluate, ListsTheOptionsOfOpenSlots) {
  const Outcome outcome = run_program(std::string("evaluate ") + kTiny + " --pick motor=quill-3");
  EXPECT_EQ(outcome.code, 2);
  EXPECT_EQ(outcome.out, "");
  EXPECT_NE(outcome.err.find("rear_sprocket:"), std::string::npos) << outcome.err;
}

TEST(Evaluate, SuggestsTheNearestId) {
  const Outcome outcome = run_program(std::string("evaluate ") + kTiny + " --pick motor=quil-3");
  EXPECT_EQ(outcome.code, 2);
  EXPECT_NE(outcome.err.find("quill-3"), std::string::npos) << outcome.err;
}

TEST(Evaluate, RejectsWithExitCodeOneAndNamesTheRules) {
  const Outcome outcome = run_program(
      "evaluate --format json specs/tiny.yaml --pick "
      "quill-3/keld-200/slate-60x16s1p/drip-lfp-48/linkage-420/hub-420-78:12/ring-420:60");
  EXPECT_EQ(outcome.code, 1);
  const json design = json::parse(outcome.out).at("design");
  EXPECT_EQ(design.at("rejected_by").at(0), "front bore");
}

TEST(Evaluate, WeighsAndPricesAChainThatDoesNotFitTheAdjuster) {
  const json fits = evaluated("");
  const json stuck = evaluated(" --set bike.centre_distance.max=560.5mm");
  EXPECT_TRUE(fits.at("rejected_by").empty());
  EXPECT_EQ(stuck.at("rejected_by"), json::array({"chain length"}));
  EXPECT_TRUE(stuck.at("chain").at("links").is_null());
  // The same box of chain is opened, and two links at most are the difference.
  EXPECT_EQ(stuck.at("metrics").at("price"), fits.at("metrics").at("price"));
  EXPECT_NEAR(stuck.at("metrics").at("mass_kg").get<double>(),
              fits.at("metrics").at("mass_kg").get<double>(), 0.03);
}

TEST(Evaluate, SaysThatACruiseSpeedIsNeverReached) {
  const Outcome outcome = run_program(std::string("evaluate ") + kTiny + " --pick " + kDesign +
                                      " --set cruise=[150km/h]");
  EXPECT_NE(outcome.out.find("cruise motor current (150 km/h): the cruise speed is never reached"),
            std::string::npos)
      << outcome.out;
}

TEST(Enumerate, HasAColumnPerFieldAndALinePerCombinationThatFits) {
  const std::string set = " --set choose.motor=[quill-3]";
  const Outcome csv = run_program(std::string("enumerate ") + kTiny + set);
  const Outcome lines = run_program(std::string("enumerate --format jsonl ") + kTiny + set);
  ASSERT_EQ(csv.code, 0);
  std::istringstream table(csv.out);
  std::string line;
  std::getline(table, line);
  const auto columns = std::ranges::count(line, ',');
  EXPECT_TRUE(line.ends_with(",rejected_by"));
  std::size_t rows = 0;
  while (std::getline(table, line)) {
    ++rows;
    EXPECT_EQ(std::ranges::count(line, ','), columns);
  }
  std::istringstream documents(lines.out);
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
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_NE(outcome.out.find("hollin-48"), std::string::npos);
  EXPECT_EQ(run_program(std::string("parts ") + kTiny).out, outcome.out);
}

TEST(Program, RefusesWrongInputOnStandardErrorOnly) {
  for (const char* arguments : {"search /nowhere.yaml", "search specs", "search", "serch x", "",
                                "search specs/tiny.yaml --format yaml",
                                "search specs/tiny.yaml --set must.top_sped.min=1"}) {
    const Outcome outcome = run_program(arguments);
    EXPECT_EQ(outcome.code, 2) << arguments;
    EXPECT_EQ(outcome.out, "") << arguments;
    EXPECT_NE(outcome.err, "") << arguments;
  }
}

TEST(Program, HasNoColourInAFile) {
  EXPECT_EQ(run_program(std::string("search ") + kTiny).out.find('\x1b'), std::string::npos);
}

TEST(Program, SaysSoWhenAPageCannotBeWritten) {
  const Outcome outcome =
      run_program(std::string("search --format json ") + kTiny + " --html /dev/full/page.html");
  EXPECT_NE(outcome.code, 0);
  EXPECT_NE(outcome.err, "");
}

}  // namespace
}  // namespace sprocketry::test::tiny
