#include <gtest/gtest.h>

#include <algorithm>
#include <csignal>
#include <sstream>

#include "cli/launch.hpp"
#include "cli/schema.hpp"

namespace sprocketry::test::tiny {
namespace {

using Json = nlohmann::ordered_json;

const std::string kDemo = SPROCKETRY_SOURCE_DIR "/specs/demo.yaml";
Words with(Words words, const Words& more) {
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

void expect_best_so_far(const Json& answer) {
  EXPECT_EQ(Schema("search").problems(answer), "");
  EXPECT_FALSE(answer["exact"].get<bool>());
  const Json& count = answer["count"];
  double sum = count["pruned"].get<double>() + count["evaluated"].get<double>() +
               count["unsettled"].get<double>();
  for (const Json& rejected : count["rejected"]) sum += rejected.get<double>();
  EXPECT_EQ(sum, count["combinations"].get<double>());
  EXPECT_EQ(count["front"].get<std::size_t>(), answer["front"].size());
  EXPECT_LT(count["settled_percent"].get<double>(), 100);
}

TEST(TimeLimit, EndsWithTheBestSoFar) {
  const Outcome outcome = run(long_search({"--time-limit", "0.5 s", "--format", "json"}));
  EXPECT_EQ(outcome.code, 3);
  expect_best_so_far(Json::parse(outcome.out));
  const Outcome text = run(long_search({"--time-limit", "0.3 s"}));
  EXPECT_EQ(text.code, 3);
  EXPECT_TRUE(contains(text.out, "Stopped before the end"));
  EXPECT_TRUE(contains(text.out, "% are settled"));
}

TEST(TimeLimit, ThatIsNotReachedChangesNothing) {
  const Words tiny = {"search", SPROCKETRY_SOURCE_DIR "/specs/tiny.yaml", "--format", "json"};
  const Outcome plain = run(tiny);
  const Outcome limited = run(with(tiny, {"--time-limit", "1 h"}));
  EXPECT_EQ(limited.code, 0);
  EXPECT_EQ(limited.out, plain.out);
}

TEST(TimeLimit, RefusesWhatIsNoTime) {
  for (const char* wrong : {"0 s", "5", "-3 s", "3 km", "", "soon"}) {
    const Outcome outcome = run(long_search({"--time-limit", wrong}));
    EXPECT_EQ(outcome.code, 2) << wrong;
    EXPECT_TRUE(contains(outcome.err, "--time-limit")) << outcome.err;
    EXPECT_TRUE(outcome.out.empty());
  }
}

TEST(Interrupt, EndsWithTheBestSoFar) {
  const Workplace place;
  for (const int signal : {SIGINT, SIGTERM}) {
    const Outcome outcome = run_interrupted(long_search({"--format", "json"}), {signal});
    EXPECT_EQ(outcome.code, 3);
    expect_best_so_far(Json::parse(outcome.out));
    EXPECT_TRUE(contains(outcome.err, "searching ")) << outcome.err;
    EXPECT_TRUE(contains(outcome.err, " a second, 1 s")) << outcome.err;
    const std::string file = place.file(std::to_string(signal) + ".json");
    EXPECT_EQ(run_interrupted(long_search({"--format", "json", "--output", file}), {signal}).code,
              3);
    expect_best_so_far(Json::parse(read_file(file)));
  }
}

TEST(Interrupt, EndsAListWithWholeLines) {
  for (const int signal : {SIGINT, SIGTERM}) {
    const Outcome outcome = run_interrupted({"enumerate", kDemo, "--threads", "1"}, {signal});
    EXPECT_EQ(outcome.code, 3);
    EXPECT_TRUE(contains(outcome.err, " listed, 1 s")) << outcome.err;
    ASSERT_FALSE(outcome.out.empty());
    EXPECT_EQ(outcome.out.back(), '\n');
    std::istringstream lines(outcome.out);
    std::string line;
    std::getline(lines, line);
    const auto commas = std::ranges::count(line, ',');
    bool any = false;
    for (; std::getline(lines, line); any = true) {
      ASSERT_EQ(std::ranges::count(line, ','), commas) << line;
    }
    EXPECT_TRUE(any);
  }
}

TEST(Interrupt, OnceMoreEndsAtOnceWhatCannotStop) {
  const Outcome outcome = run_interrupted({"enumerate", kDemo}, {SIGINT, true});
  EXPECT_EQ(outcome.code, 128 + SIGINT);
}

}  // namespace
}  // namespace sprocketry::test::tiny
