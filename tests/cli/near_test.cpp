#include <gtest/gtest.h>

#include "cli/launch.hpp"
#include "cli/schema.hpp"

namespace sprocketry::test::tiny {
namespace {

using Json = nlohmann::ordered_json;

const std::string kTiny = SPROCKETRY_SOURCE_DIR "/specs/tiny.yaml";

TEST(NearOption, AddsDesignsAndMarksThem) {
  const Json plain = json_of({"search", kTiny, "--format", "json"});
  const Json near = json_of({"search", kTiny, "--format", "json", "--near", "2 %"});
  EXPECT_EQ(Schema("search").problems(near), "");
  EXPECT_EQ(near["count"]["front"], plain["front"].size());
  EXPECT_GT(near["count"]["near"].get<int>(), 0);
  EXPECT_EQ(near["front"].size(),
            near["count"]["front"].get<std::size_t>() + near["count"]["near"].get<std::size_t>());
  Json on_front = Json::array();
  for (Json member : near["front"]) {
    const bool is = member["on_front"].get<bool>();
    member.erase("on_front");
    if (is) on_front.push_back(member);
  }
  EXPECT_EQ(on_front, plain["front"]);
}

TEST(NearOption, IsSaidInWordsAndAlikeForAnyThreads) {
  const Outcome one = run({"search", kTiny, "--near", "3%", "--threads", "1"});
  EXPECT_EQ(one.code, 0) << one.err;
  EXPECT_TRUE(contains(one.out, "more within 3 % of it"));
  EXPECT_TRUE(contains(one.out, "near the front"));
  EXPECT_EQ(run({"search", kTiny, "--near", "3%"}).out, one.out);
  // More threads than cores, without a word of the library's.
  const Outcome many = run({"search", kTiny, "--near", "3%", "--threads", "16"});
  EXPECT_EQ(many.out, one.out);
  EXPECT_EQ(many.err, "");
}

TEST(NearOption, RefusesWhatIsNoShare) {
  for (const char* wrong : {"0 %", "60 %", "2", "-1 %", "2 km", ""}) {
    const Outcome outcome = run({"search", kTiny, "--near", wrong});
    EXPECT_EQ(outcome.code, 2) << wrong;
    EXPECT_TRUE(contains(outcome.err, "--near"));
  }
  EXPECT_EQ(run({"search", kTiny, "--near", "2 %", "--resolution", "price=10"}).code, 2);
}

}  // namespace
}  // namespace sprocketry::test::tiny
