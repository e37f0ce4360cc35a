// What a person does over some weeks: choose, freeze, wonder about more voltage, hear of a part
// that is no longer sold, take another, go on.

#include <gtest/gtest.h>

#include "cli/launch.hpp"

namespace sprocketry::test::tiny {
namespace {

using Json = nlohmann::ordered_json;

TEST(Scenario, SearchLockCompareChangeCheckAccept) {
  const Workplace place;
  Surroundings here;
  here.folder = place.path().string();
  const auto go = [&](const Words& words) { return run(words, here); };
  const auto json = [&](Words words, int code = 0) {
    words.insert(words.end(), {"--format", "json"});
    const Outcome outcome = go(words);
    EXPECT_EQ(outcome.code, code) << outcome.err;
    return Json::parse(outcome.out);
  };

  // The bike as it is to be built: the best on 16 cells in series.
  const Json front = json({"search", "bike.yaml", "--set", "choose.pack.series=16"})["front"];
  ASSERT_FALSE(front.empty());
  const std::string chosen = front[0]["id"];
  ASSERT_EQ(go({"lock", "bike.yaml", "--set", "choose.pack.series=16", "--pick", chosen, "-o",
                "bike.lock.yaml"})
                .code,
            0);
  EXPECT_EQ(go({"check", "bike.lock.yaml"}).code, 0);

  // Is more voltage worth it? Whatever it costs, each upgrade names its new pack.
  const Json more =
      json({"compare", "bike.yaml", "--today", chosen, "--b-set", "choose.pack.series=20"});
  ASSERT_FALSE(more["upgrades"].empty());
  for (const Json& upgrade : more["upgrades"]) {
    const auto& list = upgrade["exchanged"];
    EXPECT_TRUE(std::any_of(list.begin(), list.end(), [](const Json& one) {
      return one["slot"] == "pack" && contains(one["to"], "x20s1p");
    })) << upgrade;
    EXPECT_GT(upgrade["price"], 0);
  }
  EXPECT_FALSE(more["verdict"].get<std::string>().empty());

  // Not now. Prices move a little, in other units even; the lock holds.
  place.edit("parts.yaml", "price: 42", "price: 42.50");
  place.edit("parts.yaml", "resistance: 18 mohm", "resistance: 0.018 ohm");
  EXPECT_EQ(go({"check", "bike.lock.yaml"}).code, 0);

  // The controller is no longer sold.
  const std::string controller = front[0]["parts"]["controller"];
  place.edit("parts.yaml", "id: " + controller + ",", "id: " + controller + "-mk2,");
  place.edit("parts.yaml", "mass: 2.1 kg, price: 390", "mass: 2.3 kg, price: 410");
  const Outcome gone = go({"check", "bike.lock.yaml", "--junit", "report.xml"});
  EXPECT_EQ(gone.code, 1);
  EXPECT_TRUE(contains(gone.out, controller + ": GONE")) << gone.out;
  EXPECT_TRUE(contains(gone.out, "the nearest name is " + controller + "-mk2")) << gone.out;
  EXPECT_TRUE(contains(read_file(place.file("report.xml")), "<failure"));

  // Take the stand-in that the check ranks first, freeze it, and live with a dearer motor later.
  const Json parts = json({"check", "bike.lock.yaml"}, 1)["parts"];
  std::string stand_in;
  for (const Json& part : parts) {
    if (part["state"] == "gone") stand_in = part["stand_ins"][0]["design"];
  }
  ASSERT_FALSE(stand_in.empty());
  ASSERT_EQ(go({"lock", "bike.yaml", "--set", "choose.pack.series=16", "--pick", stand_in, "-o",
                "bike.lock.yaml"})
                .code,
            0);
  EXPECT_EQ(go({"check", "bike.lock.yaml"}).code, 0);
  const std::string motor = front[0]["parts"]["motor"];
  place.edit("parts.yaml", motor == "alder-4" ? "price: 520" : "price: 870.25", "price: 999");
  EXPECT_EQ(go({"check", "bike.lock.yaml"}).code, 1);
  EXPECT_EQ(go({"check", "bike.lock.yaml", "--accept"}).code, 0);
  EXPECT_EQ(go({"check", "bike.lock.yaml"}).code, 0);
}

}  // namespace
}  // namespace sprocketry::test::tiny
