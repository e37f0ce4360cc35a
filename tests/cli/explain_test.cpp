#include <gtest/gtest.h>

#include <algorithm>
#include <csignal>
#include <limits>

#include "cli/launch.hpp"
#include "cli/schema.hpp"

namespace sprocketry::test::tiny {
namespace {

using Json = nlohmann::ordered_json;

const std::string kTiny = SPROCKETRY_SOURCE_DIR "/specs/tiny.yaml";
const std::string kDemo = SPROCKETRY_SOURCE_DIR "/specs/demo.yaml";
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
  EXPECT_TRUE(contains(one.out, "instead of 400 km/h")) << one.out;
  EXPECT_TRUE(contains(one.out, "no smaller set conflicts"));
  EXPECT_EQ(run({"explain", kTiny, "--set", kTooFast}).out, one.out);
}

TEST(ExplainCommand, RefusesMoreThanItCanJudgeAndSaysHowMany) {
  const Outcome outcome = run({"explain", kDemo, "--set", many_packs(200)});
  EXPECT_EQ(outcome.code, 2);
  EXPECT_EQ(outcome.out, "");
  EXPECT_TRUE(contains(outcome.err, "at most 100,000,000")) << outcome.err;
  EXPECT_TRUE(contains(outcome.err, "choose"));
}

TEST(ExplainCommand, IsStoppedWithoutAnAnswer) {
  const Outcome outcome = run_interrupted({"explain", kDemo, "--set", many_packs(20)}, {SIGINT});
  EXPECT_EQ(outcome.code, 3);
  EXPECT_EQ(outcome.out, "");
  EXPECT_TRUE(contains(outcome.err, "% judged")) << outcome.err;
  EXPECT_TRUE(contains(outcome.err, "there is no answer")) << outcome.err;
}

// Relaxed by what it says and by a little less, searched again.
TEST(ExplainCommand, NamesTheLeastThatBuysAnythingAtEachEnd) {
  const Json answer = json_of({"explain", kDemo, "--format", "json"});
  const auto best_price = [](const std::string& least_speed) {
    const Json found = json_of({"search", kDemo, "--format", "json", "--set",
                                "must.top_speed.min=" + least_speed + "km/h"});
    double best = std::numeric_limits<double>::infinity();
    for (const Json& member : found["front"]) {
      best = std::min(best, member["metrics"]["price"].get<double>());
    }
    return best;
  };
  bool found = false;
  for (const Json& end : answer["ends"]) {
    if (end["objective"] != "price") continue;
    for (const Json& held : end["held_by"]) {
      if (held["demand"] != "must top_speed") continue;
      found = true;
      const double demanded = held["first"]["demanded"].get<double>();
      EXPECT_EQ(best_price(std::to_string(demanded + 1e-4)), end["value"].get<double>());
      EXPECT_EQ(best_price(std::to_string(demanded - 1e-4)),
                held["first"]["reached"].get<double>());
      EXPECT_EQ(best_price("1"), held["dropped"]["reached"].get<double>());
    }
  }
  EXPECT_TRUE(found) << answer["ends"].dump(1);
}

// The demo's 48 V packs are of 48, 50.4 and 51.2 V nominal; what one of them reaches, "48 V packs"
// reach.
TEST(ExplainCommand, SaysWhatAVoltageCannotReach) {
  const Outcome outcome = run({"explain", kDemo});
  EXPECT_EQ(outcome.code, 0);
  EXPECT_TRUE(contains(outcome.out,
                       "no pack of 48 V nominal reaches 80 km/h (must top_speed): the best is "))
      << outcome.out;
  EXPECT_TRUE(contains(outcome.out, "no pack of 60 V nominal keeps to 190 kg (must mass)"))
      << outcome.out;
  EXPECT_FALSE(contains(outcome.out, "no 48 V pack")) << outcome.out;
  EXPECT_EQ(run({"search", kDemo, "--set", "choose.pack.voltage=[48 V]"}).code, 0);

  const std::string faster = "must.top_speed.min=110km/h";
  const Outcome more = run({"explain", kDemo, "--set", faster});
  EXPECT_TRUE(contains(more.out, "no 48 V pack reaches 110 km/h (must top_speed): the best is "))
      << more.out;
  const Outcome none =
      run({"search", kDemo, "--set", "choose.pack.voltage=[48 V]", "--set", faster});
  EXPECT_EQ(none.code, 1) << none.out;
}

// The number behind `before` up to the next blank.
std::string number_after(const std::string& text, const std::string& before) {
  const std::size_t at = text.find(before);
  if (at == std::string::npos) return "";
  const std::size_t begin = at + before.size();
  return text.substr(begin, text.find(' ', begin) - begin);
}

TEST(ExplainCommand, PrintsRelaxationsThatLetADesignThroughWhenTheyAreTyped) {
  const Outcome fast = run({"explain", kTiny, "--set", kTooFast});
  const std::string speed = number_after(fast.out, "must top_speed: ");
  ASSERT_NE(speed, "") << fast.out;
  EXPECT_EQ(run({"search", kTiny, "--set", "must.top_speed.min=" + speed + "km/h"}).code, 0);
  const Outcome cheap = run({"explain", kTiny, "--set", "must.price.max=100"});
  const std::string price = number_after(cheap.out, "must price: ");
  ASSERT_NE(price, "") << cheap.out;
  EXPECT_EQ(run({"search", kTiny, "--set", "must.price.max=" + price}).code, 0);
}

TEST(ExplainCommand, SaysHowSteepAClimbMayBeAndTellsClimbsAtOneSpeedApart) {
  const auto climbs = [](const std::string& steep) {
    return "must.climbs=[{grade: 2 %, speed: 20 km/h, for: 60 s}, {grade: " + steep +
           " %, speed: 20 km/h, for: 60 s}]";
  };
  const Outcome outcome = run({"explain", kTiny, "--set", climbs("40")});
  const std::string grade = number_after(outcome.out, "must climbs (20 km/h, 40 %, 60 s): ");
  ASSERT_NE(grade, "") << outcome.out;
  EXPECT_EQ(run({"search", kTiny, "--set", climbs(grade)}).code, 0);
  EXPECT_EQ(run({"search", kTiny, "--set", climbs(std::to_string(std::stod(grade) + 0.2))}).code,
            1);
}

const std::string kPicked =
    "hollin-72/keld-300/slate-60x24s2p/drip-lfp-72/linkage-420/hub-420-78:13/ring-420:65";

TEST(ExplainPick, CutsFullThrottleWhereTheLimitChangesUpToTheTopSpeed) {
  const Json answer = json_of({"explain", kDemo, "--pick", kPicked, "--format", "json"});
  const Json& bands = answer["full_throttle"];
  ASSERT_GT(bands.size(), 1U);
  double end = 0;
  std::string before;
  for (const Json& band : bands) {
    EXPECT_EQ(band["from"]["speed_km_h"].get<double>(), end);
    EXPECT_NE(band["limited_by"], before);
    end = band["to"]["speed_km_h"].get<double>();
    before = band["limited_by"].get<std::string>();
  }
  EXPECT_NEAR(end, answer["design"]["metrics"]["top_speed_km_h"].get<double>(), 1e-9);
}

TEST(ExplainPick, NamesChangesThatEvaluateConfirms) {
  const Json answer = json_of({"explain", kDemo, "--pick", kPicked, "--format", "json"});
  const Json& now = answer["design"]["metrics"];
  int confirmed = 0;
  for (const Json& mover : answer["single_changes"]) {
    const std::string name = mover["figure"].get<std::string>();
    if (mover["cheapest"].is_null() || (name != "top_speed" && name != "price")) continue;
    const Json other = json_of({"evaluate", kDemo, "--format", "json", "--pick",
                                mover["cheapest"]["design"].get<std::string>()});
    const std::string key = name == "price" ? name : "top_speed_km_h";
    const Json& then = other["design"]["metrics"];
    EXPECT_EQ(then[key], mover["cheapest"]["value"]);
    EXPECT_EQ(now[key], mover["now"]);
    EXPECT_NEAR(then["price"].get<double>() - now["price"].get<double>(),
                mover["cheapest"]["price_change"].get<double>(), 1e-9);
    ++confirmed;
  }
  EXPECT_EQ(confirmed, 2);
}

// A pack of two cells fewer lifts the grade of a hill start by 1 % of it: decimals are added until
// that shows.
TEST(ExplainPick, ShowsEveryChangeThatItNames) {
  int rows = 0;
  for (const char* pick :
       {"hollin-48/keld-200/slate-60x16s1p/drip-lfp-48/linkage-420/hub-420-78:12/ring-420:54",
        "hollin-48/keld-150/slate-60x14s1p/drip-lfp-48/linkage-420/hub-420-78:12/ring-420:54"}) {
    const Outcome outcome = run({"explain", kTiny, "--pick", pick});
    for (const std::string& line : lines_of(outcome.out)) {
      const std::size_t word = line.find("  cheapest ");
      if (word == std::string::npos) continue;
      const std::string before = line.substr(0, word);
      const std::string now = before.substr(before.rfind(' ') + 1);
      const std::size_t then = line.find_first_not_of(' ', word + 11);
      EXPECT_NE(line.substr(then, line.find(' ', then) - then), now) << line;
      ++rows;
    }
  }
  EXPECT_GT(rows, 10);
}

TEST(ExplainPick, NamesWhatMendsADesignOrThatNothingDoes) {
  const Words slow = {"explain", kDemo, "--pick", kPicked, "--set", "must.top_speed.min=85km/h"};
  const Outcome mended = run(slow);
  EXPECT_EQ(mended.code, 1) << mended.err;
  EXPECT_TRUE(contains(mended.out, "rejects  must top_speed")) << mended.out;
  EXPECT_TRUE(contains(mended.out, "A change of one part that makes it meet every rule"));
  Words as_json = slow;
  as_json.insert(as_json.end(), {"--format", "json"});
  const Json repairs = json_of(as_json, 1)["repairs"];
  ASSERT_FALSE(repairs.empty());
  double price = -std::numeric_limits<double>::infinity();
  for (const Json& repair : repairs) {
    EXPECT_GE(repair["price_change"].get<double>(), price);
    price = repair["price_change"].get<double>();
    EXPECT_EQ(run({"evaluate", kDemo, "--pick", repair["design"].get<std::string>(), "--set",
                   "must.top_speed.min=85km/h"})
                  .code,
              0);
  }
  const Outcome hopeless =
      run({"explain", kDemo, "--pick", kPicked, "--set", "must.top_speed.min=400km/h"});
  EXPECT_EQ(hopeless.code, 1);
  EXPECT_TRUE(contains(hopeless.out, "No change of a single part")) << hopeless.out;
}

TEST(ExplainCommand, SaysWhatIsWrong) {
  const Outcome form = run({"explain", kTiny, "--format", "csv"});
  EXPECT_EQ(form.code, 2);
  EXPECT_TRUE(contains(form.err, "not one of text, json"));
  EXPECT_EQ(run({"explain", "nowhere.yaml"}).code, 2);
}

}  // namespace
}  // namespace sprocketry::test::tiny
