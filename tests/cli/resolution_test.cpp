#include <gtest/gtest.h>

#include <algorithm>

#include "cli/launch.hpp"
#include "cli/schema.hpp"

namespace sprocketry::test::tiny {
namespace {

using Json = nlohmann::ordered_json;

const std::string kDemo = SPROCKETRY_SOURCE_DIR "/specs/demo.yaml";

TEST(ResolutionOption, KeepsAFewThatStandForAll) {
  const Json whole = json_of({"search", kDemo, "--format", "json"});
  const Json few = json_of({"search", kDemo, "--format", "json", "--resolution",
                            "pull_away=0.2 s, range=5 km,price=100"});
  EXPECT_EQ(Schema("search").problems(few), "");
  EXPECT_EQ(few["count"]["front"], whole["front"].size());
  EXPECT_EQ(few["count"]["kept"], few["front"].size());
  EXPECT_LT(few["front"].size(), whole["front"].size() / 4);
  EXPECT_EQ(few["resolution"]["pull_away"], 0.2);
  EXPECT_EQ(few["resolution"]["range"], 5);
  EXPECT_EQ(few["resolution"]["price"], 100);
  for (const Json& member : whole["front"]) {
    const auto figure = [](const Json& of, const char* key) {
      return of["metrics"][key].get<double>();
    };
    const bool stands = std::any_of(few["front"].begin(), few["front"].end(), [&](const Json& one) {
      return figure(one, "pull_away_s") <= figure(member, "pull_away_s") + 0.2 &&
             figure(one, "range_km") >= figure(member, "range_km") - 5 &&
             figure(one, "price") <= figure(member, "price") + 100;
    });
    EXPECT_TRUE(stands) << member["id"];
  }
}

TEST(ResolutionOption, DoesNotDependOnThreads) {
  const Words words = {"search", kDemo, "--resolution", "range=10 km,price=50", "--format", "csv"};
  Words one = words;
  one.insert(one.end(), {"--threads", "1"});
  EXPECT_EQ(run(words).out, run(one).out);
}

TEST(ResolutionOption, SaysWhatIsWrong) {
  const std::vector<std::pair<std::string, std::string>> wrong = {
      {"pull_away=0.1", "unit"},
      {"rang=1 km", "did you mean 'range'"},
      {"range=1 s", "range"},
      {"range=-1 km", "negative"},
      {"range", "OBJECTIVE=VALUE"},
      {"range=1 km,range=2 km", "twice"},
      {"price=ten", "plain number"},
      {"", "OBJECTIVE=VALUE"},
      {"mass=1 kg", "they are pull_away, range, price"}};
  for (const auto& [text, word] : wrong) {
    const Outcome outcome = run({"search", kDemo, "--resolution", text});
    EXPECT_EQ(outcome.code, 2) << text;
    EXPECT_TRUE(contains(outcome.err, word)) << outcome.err;
    EXPECT_TRUE(outcome.out.empty());
  }
}

}  // namespace
}  // namespace sprocketry::test::tiny
