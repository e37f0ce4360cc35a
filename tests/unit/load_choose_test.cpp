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

TEST(LoadChoose, AnIdOfAnotherKindIsToldWhereItBelongs) {
  const std::pair<const char*, const char*> choices[] = {
      {"motor: [vane-200]", "is a controller: write it under `controller`"},
      {"controller: [hollin-48]", "is a motor: write it under `motor`"},
      {"front_sprocket: [crown-420]", "is a rear sprocket"},
      {"rear_sprocket: [pinion-420]", "is a front sprocket"},
      {"chain: [hollin-48]", "is a motor"},
      {"pack: [slate-100]", "is a cell: write it under `pack: {cells"},
      {"pack: {cells: [slate-block], series: [16], parallel: 1}", "is a pack"},
      {"motor: [linkage-420]", "is a chain"},
      {"motor: [well-58]", "is a charger"},
      {"motor: [fuse]", "is an extra: leave it out"}};
  const std::string parts = std::string(kTinyParts) +
                            "chargers:\n  - {id: well-58, chemistries: [lfp], full_voltage: {min: "
                            "56 V, max: 60 V}, current: 20 A, mass: 3 kg, price: 150}\n"
                            "extras:\n  - {id: fuse, mass: 0.1 kg, price: 9}\n";
  for (const auto& [choice, fragment] : choices) {
    Loaded loaded;
    load_into(loaded, std::string(kTinyRequirement) + "choose: {" + choice + "}\n", parts);
    EXPECT_TRUE(one_error(loaded, "bike.yaml", 10, fragment)) << choice;
  }
}

TEST(LoadChoose, APackIdAloneIsToldToBecomeAList) {
  Loaded loaded;
  load_into(loaded, std::string(kTinyRequirement) + "choose: {pack: slate-block}\n", kTinyParts);
  EXPECT_TRUE(one_error(loaded, "bike.yaml", 10, "write [slate-block], or {cells"));
}

// 15 cells of 3.2 V make 48 V, 16 make 51.2 V; 18 make 57.6 V, 20 % above 48 V.
TEST(LoadChoose, AVoltageClassWithoutAnyPackIsAWarning) {
  const std::pair<const char*, const char*> packs[] = {
      {"{series: [16], parallel: 1, voltage: [48 V, 144 V]}", "the nearest has 51.2 V nominal"},
      {"{series: [15, 18], parallel: 1, voltage: [48 V, 96 V]}", "the nearest has 57.6 V nominal"},
      {"{cells: [slate-100], parallel: 1, voltage: [48 V, 2 V]}", "the nearest has 3.2 V nominal"},
      {"{voltage: [48 V, 72 V]}", "the nearest has 51.2 V nominal"}};
  for (const auto& [pack, fragment] : packs) {
    Loaded loaded;
    load_into(loaded, std::string(kTinyRequirement) + "choose: {pack: " + pack + "}\n", kTinyParts);
    EXPECT_LOADS(loaded);
    ASSERT_EQ(loaded.diagnostics.all().size(), 1U) << pack << "\n" << loaded.text();
    const document::Diagnostic& finding = loaded.diagnostics.all().front();
    EXPECT_EQ(finding.severity, document::Severity::kWarning);
    EXPECT_EQ(finding.mark.line, 10U);
    EXPECT_NE(finding.hint.find(fragment), std::string::npos) << finding.hint;
  }
}

TEST(LoadChoose, AVoltageClassHoldsPacksWithin15PercentOfIt) {
  for (const auto* pack : {"{series: [15], parallel: 1, voltage: [48 V]}",
                           "{series: [14], parallel: 1, voltage: [48 V]}",
                           "{series: [17], parallel: 1, voltage: [48 V]}",
                           "{parallel: 1, voltage: [48 V, 72 V, 400 V]}", "{voltage: [48 V]}"}) {
    Loaded loaded;
    load_into(loaded, std::string(kTinyRequirement) + "choose: {pack: " + pack + "}\n", kTinyParts);
    EXPECT_LOADS(loaded);
    EXPECT_TRUE(loaded.diagnostics.all().empty()) << pack << "\n" << loaded.text();
  }
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

TEST(LoadChoose, TakesAPackOfACellWithTheLongestId) {
  const std::string cell(64, 'c');
  std::string parts(kTinyParts);
  for (std::size_t at = 0; (at = parts.find("slate-100", at)) != std::string::npos;) {
    parts.replace(at, std::string_view("slate-100").size(), cell);
  }
  const std::string pack = cell + "x1000s1000p";
  Loaded loaded;
  load_into(loaded, std::string(kTinyRequirement) + "choose: {pack: [" + pack + "]}\n", parts);
  EXPECT_LOADS(loaded);
  EXPECT_EQ(loaded.requirement().choose.pack.ids, std::vector<std::string>{pack});
  Loaded longer;
  load_into(longer, std::string(kTinyRequirement) + "choose: {pack: [" + pack + "p]}\n", parts);
  EXPECT_TRUE(one_error(longer, "bike.yaml", 10, "is not an id"));
}

}  // namespace
}  // namespace sprocketry::test
