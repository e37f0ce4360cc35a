#include "load_support.hpp"

namespace sprocketry::test {
namespace {

TEST(LoadChoose, PacksMayBeNamedOrGeneratedIds) {
  Loaded loaded;
  load_into(loaded,
            std::string(kTinyRequirement) + "choose: {pack: [slate-block, slate-100x20s2p]}\n",
            kTinyParts);
  EXPECT_LOADS(loaded);
  EXPECT_EQ(loaded.requirement().choose.pack.ids,
            (std::vector<std::string>{"slate-block", "slate-100x20s2p"}));
}

TEST(LoadChoose, ParallelDefaultsToOne) {
  Loaded loaded;
  load_into(loaded, std::string(kTinyRequirement) + "choose: {pack: {series: [16]}}\n", kTinyParts);
  EXPECT_LOADS(loaded);
  EXPECT_EQ(loaded.requirement().choose.pack.parallel, std::vector<int>{1});
  EXPECT_EQ(find_default(loaded.requirement().defaults, "choose.pack.parallel")->value, "1");
}

TEST(LoadChoose, ChainsAreChosenBySizeCodeIdOrPitch) {
  Loaded by_size;
  load_into(by_size, std::string(kTinyRequirement) + "choose: {chain: [420]}\n", kTinyParts);
  EXPECT_LOADS(by_size);
  EXPECT_EQ(by_size.requirement().choose.chain.sizes_or_ids, std::vector<std::string>{"420"});
  Loaded by_id;
  load_into(by_id, std::string(kTinyRequirement) + "choose: {chain: [linkage-420]}\n", kTinyParts);
  EXPECT_LOADS(by_id);
  EXPECT_EQ(by_id.requirement().choose.chain.sizes_or_ids, std::vector<std::string>{"linkage-420"});
  Loaded by_pitch;
  load_into(by_pitch, std::string(kTinyRequirement) + "choose: {chain: {pitch: [12.7 mm]}}\n",
            kTinyParts);
  EXPECT_LOADS(by_pitch);
  EXPECT_EQ(by_pitch.requirement().choose.chain.pitches.value().front(),
            by_pitch.catalogue().chains.front().model.pitch);
}

TEST(LoadOwned, TakesCellsPacksGeneratedPacksAndSingleSprockets) {
  Loaded loaded;
  load_into(loaded,
            std::string(kTinyRequirement) +
                "owned: [slate-block, slate-100x20s2p, \"pinion-420:12\", pinion-420]\n",
            kTinyParts);
  EXPECT_LOADS(loaded);
}

TEST(LoadOwned, RefusesWhatDoesNotExist) {
  const std::pair<const char*, const char*> ids[] = {
      {"holin-48", "did you mean `hollin-48`"},   {"\"pinion-420:9\"", "from 12 to 17 teeth"},
      {"\"pinion-420:012\"", "no tooth count"},   {"\"pinion-420:\"", "no tooth count"},
      {"\"hollin-48:12\"", "no sprocket family"}, {"whatever", "no part has the id"}};
  for (const auto& [id, fragment] : ids) {
    Loaded loaded;
    load_into(loaded, std::string(kTinyRequirement) + "owned: [" + id + "]\n", kTinyParts);
    EXPECT_TRUE(one_error(loaded, "bike.yaml", 10, fragment)) << id;
  }
}

TEST(LoadObjectives, NeedTheListsThatTheyAreTakenFrom) {
  const std::pair<const char*, const char*> names[] = {{"cruise_current", "needs `cruise`"},
                                                       {"climb_margin", "needs `must.climbs`"},
                                                       {"climb_winding", "needs `must.climbs`"}};
  for (const auto& [name, fragment] : names) {
    Loaded loaded;
    load_into(loaded, std::string(kTinyRequirement) + "objectives: [price, " + name + "]\n",
              kTinyParts);
    EXPECT_TRUE(one_error(loaded, "bike.yaml", 10, fragment)) << name;
  }
}

TEST(LoadOverrides, ReplaceAndAddKeys) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement, kTinyParts,
            {"must.top_speed.min=90 km/h", "cruise=[36 km/h]", "rider.mass=100 kg"});
  EXPECT_LOADS(loaded);
  EXPECT_EQ(loaded.requirement().must.top_speed, 25);
  EXPECT_EQ(loaded.requirement().cruise, std::vector<double>{10});
  EXPECT_EQ(loaded.requirement().rider_mass, 100);
}

TEST(LoadOverrides, ErrorsPointIntoTheOverride) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement, kTinyParts, {"must.top_speed.min=90"});
  ASSERT_EQ(loaded.diagnostics.all().size(), 1U) << loaded.text();
  EXPECT_TRUE(loaded.diagnostics.all().front().mark.source->name.starts_with("--set"));
}

TEST(LoadOverrides, MayChooseThePartsFiles) {
  const Folder folder;
  folder.write("bike.yaml", kTinyRequirement);
  folder.write("other.yaml", kTinyParts);
  Loaded loaded;
  load_into(loaded, folder, {"parts=[other.yaml]"});
  EXPECT_LOADS(loaded);
}

TEST(LoadUnits, AreThoseInWhichThePersonWrote) {
  Loaded metric;
  load_into(metric, kTinyRequirement, kTinyParts);
  EXPECT_LOADS(metric);
  EXPECT_EQ(metric.requirement().units.speed, "km/h");
  EXPECT_EQ(metric.requirement().units.distance, "km");
  EXPECT_EQ(metric.requirement().units.mass, "kg");
  Loaded imperial;
  load_into(imperial, edited(edited(kTinyRequirement, "96 kg", "210 lb"), "70 km/h}", "45 mph}"),
            kTinyParts);
  EXPECT_LOADS(imperial);
  EXPECT_EQ(imperial.requirement().units.speed, "mph");
  EXPECT_EQ(imperial.requirement().units.distance, "mi");
  EXPECT_EQ(imperial.requirement().units.mass, "lb");
}

TEST(LoadUnits, AreThoseOfTheFirstUseInTheFileNotOfTheReader) {
  Loaded loaded;
  // `must` is read after `cruise`, but stands before it here.
  load_into(
      loaded,
      edited(kTinyRequirement, "70 km/h}\n", "70 km/h}\n  range: {min: 30 mi}\ncruise: [40 mph]\n"),
      kTinyParts);
  EXPECT_LOADS(loaded);
  EXPECT_EQ(loaded.requirement().units.speed, "km/h");
  EXPECT_EQ(loaded.requirement().units.distance, "mi");
}

}  // namespace
}  // namespace sprocketry::test
