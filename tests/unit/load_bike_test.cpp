#include "load_support.hpp"
#include "model/constants.hpp"

namespace sprocketry::test {
namespace {

using model::kZeroCelsius;

TEST(LoadBike, PostureDecidesTheDefaultDragArea) {
  Loaded loaded;
  load_into(loaded,
            edited(kTinyRequirement, "  mass: 96 kg\n", "  mass: 96 kg\n  posture: crouched\n"),
            kTinyParts);
  EXPECT_LOADS(loaded);
  EXPECT_EQ(std::get<model::RoadLoad>(loaded.requirement().bike.road).drag_area, 0.45);
  EXPECT_EQ(find_default(loaded.requirement().defaults, "bike.drag_area")->value, "0.45 m2");
}

TEST(LoadBike, CoastDownReplacesDragAndRolling) {
  Loaded loaded;
  load_into(loaded,
            edited(kTinyRequirement, "  mass: 96 kg\n",
                   "  mass: 96 kg\n  road_load: {f0: 24 N, f1: 0.1 N s/m, f2: 0.39 N s2/m2, mass: "
                   "200 kg, air: 20 degC, altitude: 500 m}\n"),
            kTinyParts);
  EXPECT_LOADS(loaded);
  const auto& law = std::get<model::CoastDown>(loaded.requirement().bike.road);
  EXPECT_EQ(law.f0, 24);
  EXPECT_EQ(law.f1, 0.1);
  EXPECT_EQ(law.f2, 0.39);
  EXPECT_EQ(law.mass, 200);
  EXPECT_DOUBLE_EQ(law.air_density, model::air_density(500, kZeroCelsius + 20));
  EXPECT_EQ(find_default(loaded.requirement().defaults, "bike.drag_area"), nullptr);
}

TEST(LoadBike, CoastDownWithoutMassAndAirLeavesBothToTheDesign) {
  Loaded loaded;
  load_into(loaded,
            edited(kTinyRequirement, "  mass: 96 kg\n",
                   "  mass: 96 kg\n  road_load: {f0: 24 N, f2: 0.03 N/(km/h)2}\n"),
            kTinyParts);
  EXPECT_LOADS(loaded);
  const auto& law = std::get<model::CoastDown>(loaded.requirement().bike.road);
  EXPECT_EQ(law.f1, 0);
  EXPECT_NEAR(law.f2, 0.03 * 12.96, 1e-15);
  EXPECT_EQ(law.mass, 0);
  EXPECT_EQ(law.air_density, 0);
}

TEST(LoadBike, WhatACoastDownLeavesOutIsRecorded) {
  const std::string before = "  mass: 96 kg\n";
  Loaded bare;
  load_into(bare,
            edited(kTinyRequirement, before, before + "  road_load: {f0: 24 N, f2: 0.4 N s2/m2}\n"),
            kTinyParts);
  EXPECT_LOADS(bare);
  const auto& bare_defaults = bare.requirement().defaults;
  for (const auto& [key, value] : {std::pair{"bike.road_load.f1", "0 N s/m"},
                                   std::pair{"bike.road_load.mass", "that of each design"},
                                   std::pair{"bike.road_load.air", "that of `conditions`"}}) {
    const parts::Default* found = find_default(bare_defaults, key);
    ASSERT_NE(found, nullptr) << key;
    EXPECT_EQ(found->value, value) << key;
    EXPECT_FALSE(found->source.empty()) << key;
  }
  Loaded high;
  load_into(high,
            edited(kTinyRequirement, before,
                   before + "  road_load: {f0: 24 N, f1: 0 N s/m, f2: 0.4 N s2/m2, mass: 200 kg, "
                            "altitude: 500 m}\n"),
            kTinyParts);
  EXPECT_LOADS(high);
  const auto& high_defaults = high.requirement().defaults;
  EXPECT_EQ(std::get<model::CoastDown>(high.requirement().bike.road).air_density,
            model::air_density(500, 293.15));
  ASSERT_NE(find_default(high_defaults, "bike.road_load.air"), nullptr);
  EXPECT_EQ(find_default(high_defaults, "bike.road_load.air")->value, "20 degC");
  for (const auto* key : {"f1", "mass", "altitude"}) {
    EXPECT_EQ(find_default(high_defaults, std::string("bike.road_load.") + key), nullptr) << key;
  }
}

TEST(LoadBike, ACentreOfGravityBeyondTheAxlesPointsAtTheWheelbaseToo) {
  const std::string before = "  mass: 96 kg\n";
  const std::string centre = "  centre_of_gravity: {behind_front_axle: 1.4 m}\n";
  Loaded stated;
  load_into(stated, edited(kTinyRequirement, before, before + "  wheelbase: 1.3 m\n" + centre),
            kTinyParts);
  ASSERT_TRUE(one_error(stated, "bike.yaml", 6, "between the axles"));
  EXPECT_EQ(stated.diagnostics.all().front().second_mark.value().line, 5U);
  Loaded usual;
  load_into(usual, edited(kTinyRequirement, before, before + centre), kTinyParts);
  ASSERT_TRUE(one_error(usual, "bike.yaml", 5, "wheelbase of 1.35 m"));
  EXPECT_FALSE(usual.diagnostics.all().front().second_mark.has_value());
}

TEST(LoadBike, RegulationsAreNamed) {
  const std::pair<const char*, model::RegulationLoad> names[] = {
      {"cfr-86.529-98", model::RegulationLoad::kCfr40Part86},
      {"un-gtr-2", model::RegulationLoad::kUnGtr2}};
  for (const auto& [name, law] : names) {
    Loaded loaded;
    load_into(loaded,
              edited(kTinyRequirement, "  mass: 96 kg\n",
                     std::string("  mass: 96 kg\n  road_load: ") + name + "\n"),
              kTinyParts);
    EXPECT_LOADS(loaded);
    EXPECT_EQ(std::get<model::RegulationLoad>(loaded.requirement().bike.road), law);
  }
}

TEST(LoadBike, NothingThatARoadLoadContainsStandsBesideIt) {
  for (const auto* line : {"drag_area: 0.6 m2", "posture: upright", "rolling_resistance: 0.02"}) {
    Loaded loaded;
    load_into(loaded,
              edited(kTinyRequirement, "  mass: 96 kg\n",
                     std::string("  mass: 96 kg\n  road_load: un-gtr-2\n  ") + line + "\n"),
              kTinyParts);
    ASSERT_TRUE(one_error(loaded, "bike.yaml", 6, "beside `road_load`")) << line;
    EXPECT_EQ(loaded.diagnostics.all().front().second_mark.value().line, 5U);
  }
}

TEST(LoadTyre, ASizeIsRolledOutByItsMarking) {
  Loaded loaded;
  load_into(loaded, edited(kTinyRequirement, "{rollout: 1.94 m}", "{size: 3.00-18}"), kTinyParts);
  EXPECT_LOADS(loaded);
  EXPECT_NEAR(loaded.requirement().bike.rolling_circumference, model::kPi * 0.6096, 1e-12);
  EXPECT_NE(find_default(loaded.requirement().defaults, "bike.tyre.rollout"), nullptr);
}

TEST(LoadTyre, ARollOutInThePartsFilesWinsOverTheMarking) {
  Loaded loaded;
  load_into(loaded, edited(kTinyRequirement, "{rollout: 1.94 m}", "{size: 3.00-18}"),
            std::string(kTinyParts) + "tyres: [{size: 3.00-18, rollout: 1.93 m}]\n");
  EXPECT_LOADS(loaded);
  EXPECT_EQ(loaded.requirement().bike.rolling_circumference, 1.93);
  EXPECT_EQ(find_default(loaded.requirement().defaults, "bike.tyre.rollout"), nullptr);
}

TEST(LoadTyre, ASizeBesideARollOutIsAnErrorThatShowsBoth) {
  Loaded loaded;
  load_into(loaded, edited(kTinyRequirement, "{rollout", "{size: 3.00-18, rollout"), kTinyParts);
  EXPECT_TRUE(one_error(loaded, "bike.yaml", 5, "has both `size` and `rollout`"));
  EXPECT_TRUE(loaded.diagnostics.all().front().second_mark.has_value());
}

TEST(LoadTyre, AnUnreadableSizeIsAnErrorAtTheSize) {
  Loaded loaded;
  load_into(loaded, edited(kTinyRequirement, "{rollout: 1.94 m}", "{size: big}"), kTinyParts);
  EXPECT_TRUE(one_error(loaded, "bike.yaml", 5, "rollout"));
}

}  // namespace
}  // namespace sprocketry::test
