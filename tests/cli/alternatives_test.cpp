#include <gtest/gtest.h>

#include "cli/launch.hpp"
#include "cli/schema.hpp"

namespace sprocketry::test::tiny {
namespace {

using Json = nlohmann::ordered_json;

const std::string kDemo = SPROCKETRY_SOURCE_DIR "/specs/demo.yaml";
const std::string kDesign =
    "hollin-72/keld-300/slate-100x24s1p/drip-lfp-72/linkage-420/hub-420-78:12/ring-420:60";

TEST(StandIns, AvoidEachPartAndKeepTheSchema) {
  const Json answer = json_of({"search", kDemo, "--stand-ins", kDesign, "--format", "json"});
  EXPECT_EQ(Schema("stand_ins").problems(answer), "");
  EXPECT_EQ(answer["design"]["id"], kDesign);
  ASSERT_EQ(answer["without"].size(), 7U);
  for (const Json& without : answer["without"]) {
    EXPECT_LE(without["nearest"].size(), 3U);
    const std::string slot = without["slot"];
    for (const Json& near : without["nearest"]) {
      const Json& parts = near["design"]["parts"];
      const std::string there =
          slot == "cell" ? parts["pack"].get<std::string>() : parts[slot].get<std::string>();
      EXPECT_FALSE(there.starts_with(without["id"].get<std::string>())) << there;
    }
  }
  Json broken = answer;
  broken["without"][0].erase("front");
  EXPECT_NE(Schema("stand_ins").problems(broken), "");
}

TEST(StandIns, AreSaidInWords) {
  const Outcome outcome = run({"search", kDemo, "--stand-ins", kDesign});
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_TRUE(contains(outcome.out, "without the motor hollin-72"));
  EXPECT_TRUE(contains(outcome.out, "without the cell slate-100"));
  EXPECT_TRUE(contains(outcome.out, "gives away"));
}

TEST(StandIns, RefuseWhatIsNoDesignAndOtherAnswers) {
  EXPECT_EQ(run({"search", kDemo, "--stand-ins", "hollin-73/keld-300"}).code, 2);
  EXPECT_EQ(run({"search", kDemo, "--stand-ins", kDesign, "--time-limit", "5 s"}).code, 2);
  const Outcome csv = run({"search", kDemo, "--stand-ins", kDesign, "--format", "csv"});
  EXPECT_EQ(csv.code, 2);
  EXPECT_TRUE(contains(csv.err, "leave out --format csv"));
}

}  // namespace
}  // namespace sprocketry::test::tiny
