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

TEST(LoadBike, RegulationsAreNamed) {
  const std::pair<const char*, model::RegulationLoad> names[] = {
      {"cfr-86.529-98", model::RegulationLoad::kCfr86_529},
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

TEST(LoadTyre, AnUnreadableSizeIsAnErrorAtTheSize) {
  Loaded loaded;
  load_into(loaded, edited(kTinyRequirement, "{rollout: 1.94 m}", "{size: big}"), kTinyParts);
  EXPECT_TRUE(one_error(loaded, "bike.yaml", 5, "rollout"));
}

}  // namespace
}  // namespace sprocketry::test
