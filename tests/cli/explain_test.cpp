#include <gtest/gtest.h>

#include "cli/launch.hpp"
#include "cli/schema.hpp"

namespace sprocketry::test::tiny {
namespace {

using Json = nlohmann::ordered_json;

const std::string kTiny = SPROCKETRY_SOURCE_DIR "/specs/tiny.yaml";
const std::string kTooFast = "must.top_speed.min=400km/h";

TEST(ExplainCommand, NamesAValueThatLetsItsDesignThroughAndNoSmallerOneDoes) {
  const Json answer = json_of({"explain", kTiny, "--format", "json", "--set", kTooFast}, 1);
  EXPECT_EQ(answer["feasible"], 0);
  const auto& relaxation = answer["relaxations"][0];
  ASSERT_EQ(relaxation["demand"], "must top_speed");
  ASSERT_TRUE(relaxation["value"].is_number());
  const double reached = relaxation["value"].get<double>();
  const auto asked = [](double speed) {
    return "must.top_speed.min=" + std::to_string(speed) + "km/h";
  };
  const Outcome less = run({"evaluate", kTiny, "--pick", relaxation["design"].get<std::string>(),
                            "--set", asked(reached - 1e-4)});
  EXPECT_EQ(less.code, 0) << less.out << less.err;
  EXPECT_EQ(run({"search", kTiny, "--set", asked(reached - 1e-4)}).code, 0);
  EXPECT_EQ(run({"search", kTiny, "--set", asked(reached + 1e-4)}).code, 1);
}

TEST(ExplainCommand, CountsTheSameAsASearch) {
  const Json searched = json_of({"search", kTiny, "--format", "json"});
  const Json answer = json_of({"explain", kTiny, "--format", "json"});
  EXPECT_EQ(answer["combinations"], searched["count"]["combinations"]);
  EXPECT_EQ(answer["feasible"], searched["count"]["evaluated"]);
  EXPECT_TRUE(answer["conflict"].is_null());
}

TEST(ExplainCommand, IsSaidInWordsAndAlikeForAnyThreads) {
  const Outcome one = run({"explain", kTiny, "--threads", "1", "--set", kTooFast});
  EXPECT_EQ(one.code, 1) << one.err;
  EXPECT_TRUE(contains(one.out, "no combination meets every demand"));
  EXPECT_TRUE(contains(one.out, "limit 400 km/h")) << one.out;
  EXPECT_TRUE(contains(one.out, "no smaller set conflicts"));
  EXPECT_EQ(run({"explain", kTiny, "--set", kTooFast}).out, one.out);
}

TEST(ExplainCommand, RefusesMoreThanItCanJudgeAndSaysHowMany) {
  const Outcome outcome = run({"explain", SPROCKETRY_SOURCE_DIR "/specs/demo.yaml", "--set",
                               "choose.pack.series=[12,13,14,15,16,17,18,19,20,21,22,23,24]",
                               "--set", "choose.pack.parallel=[1,2,3,4,5,6,7,8]"});
  EXPECT_EQ(outcome.code, 2);
  EXPECT_EQ(outcome.out, "");
  EXPECT_TRUE(contains(outcome.err, "at most 3,000,000")) << outcome.err;
  EXPECT_TRUE(contains(outcome.err, "choose"));
}

TEST(ExplainCommand, SaysWhatIsWrong) {
  const Outcome form = run({"explain", kTiny, "--format", "csv"});
  EXPECT_EQ(form.code, 2);
  EXPECT_TRUE(contains(form.err, "not one of text, json"));
  EXPECT_EQ(run({"explain", "nowhere.yaml"}).code, 2);
}

}  // namespace
}  // namespace sprocketry::test::tiny
