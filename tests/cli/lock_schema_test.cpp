// The JSON of lock, check and compare against its published schemas.

#include <gtest/gtest.h>

#include <functional>

#include "cli/launch.hpp"
#include "cli/schema.hpp"

namespace sprocketry::test::tiny {
namespace {

using nlohmann::json;

const std::string kDesign =
    "alder-4/gate-x/flint-60x16s1p/well-15/pull-420/small-420:14/large-420:60";

json answer(Words words) {
  words.insert(words.end(), {"--format", "json"});
  const Outcome outcome = run(words);
  EXPECT_LE(outcome.code, 1) << outcome.err;
  return json::parse(outcome.out);
}

// Each breaks a valid document in one place; a schema that lets one pass says too little.
void expect_refused(const Schema& schema, const json& sound,
                    const std::vector<std::function<void(json&)>>& breaks) {
  ASSERT_EQ(schema.problems(sound), "");
  for (std::size_t i = 0; i < breaks.size(); ++i) {
    json broken = sound;
    breaks[i](broken);
    EXPECT_NE(schema.problems(broken), "") << i;
  }
}

TEST(LockSchema, HoldsForLocksAndChecks) {
  const Workplace place;
  const std::string file = place.file("bike.lock.yaml");
  const json locked = answer({"lock", place.bike(), "--pick", kDesign, "-o", file});
  expect_refused(
      Schema("lock"), locked,
      {[](json& d) { d.erase("files"); }, [](json& d) { d["files"][0]["sha256"] = "123"; },
       [](json& d) { d["metrics"]["range_km"] = "far"; }, [](json& d) { d["more"] = 1; }});
  const Schema check("check");
  EXPECT_EQ(check.problems(answer({"check", file})), "");
  place.edit("parts.yaml", "id: gate-x", "id: gate-y");
  place.edit("parts.yaml", "price: 520", "price: 820");
  place.edit("parts.yaml", "max_voltage: 80 V", "max_voltage: 58 V");
  expect_refused(
      check, answer({"check", file}),
      {[](json& d) { d.erase("holds"); }, [](json& d) { d["parts"][0]["state"] = "odd"; },
       [](json& d) { d["figures"][0].erase("beyond"); },
       [](json& d) { d["rules"][0]["now"]["outcome"] = "fine"; },
       [](json& d) { d["files"][0]["state"] = "old"; }, [](json& d) { d["more"] = 1; }});
}

TEST(LockSchema, HoldsForComparisons) {
  const Workplace place;
  const Schema schema("compare");
  const std::string other =
      "alder-4/gate-x/flint-60x20s1p/well-15/pull-420/small-420:12/large-420:60";
  EXPECT_EQ(
      schema.problems(answer({"compare", place.bike(), "--a-pick", kDesign, "--b-pick", other})),
      "");
  EXPECT_EQ(
      schema.problems(answer({"compare", place.bike(), "--b-set", "must.top_speed.min=200 km/h"})),
      "");
  const json today =
      answer({"compare", place.bike(), "--today", kDesign, "--b-set", "choose.pack.series=20"});
  expect_refused(
      schema, today,
      {[](json& d) { d.erase("verdict"); }, [](json& d) { d["budget"][0]["ahead"] = "c"; },
       [](json& d) { d["budget"][0]["range"].erase("a"); },
       [](json& d) { d["upgrades"][0]["exchanged"][0]["slot"] = "saddle"; },
       [](json& d) { d["upgrades"][0]["price"] = -1; }, [](json& d) { d["a"].erase("front"); },
       [](json& d) { d["differences"][0]["key"] = ""; }, [](json& d) { d["more"] = 1; }});
}

}  // namespace
}  // namespace sprocketry::test::tiny
