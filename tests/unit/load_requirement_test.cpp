#include <cmath>

#include "load_support.hpp"
#include "model/constants.hpp"
#include "spec/cycles.hpp"

namespace sprocketry::test {
namespace {

using model::kZeroCelsius;
using spec::Requirement;

// Every key of a requirement at a value that is not its default.
constexpr std::string_view kFullRequirement = R"(sprocketry: 1
title: Harbour runabout
currency: CHF
parts: [parts.yaml]
owned: [hollin-48, "crown-420:45", slate-100]
bike:
  mass: 96 kg
  max_gross_mass: 330 kg
  wheelbase: 1.33 m
  centre_of_gravity: {height: 0.62 m, behind_front_axle: 0.70 m}
  drag_area: 0.62 m2
  posture: upright
  rolling_resistance: 0.014
  accessories: 60 W
  wheel_inertia: 0.9 kg m2
  tyre: {rollout: 1.94 m}
  centre_distance: {min: 560 mm, max: 590 mm}
  rear_sprocket: {bolt_circle: 104 mm, bolts: 4, max_diameter: 300 mm}
rider: {mass: 80 kg}
load: {mass: 10 kg}
conditions: {air: 10 degC, altitude: 500 m, headwind: 18 km/h, grip: 0.8, state_of_charge: 90 %, low_state_of_charge: 25 %, winding: 90 degC}
ride: {steady: 36 km/h}
cruise: [40 km/h, 72 km/h]
accelerations: [{from: 36 km/h, to: 72 km/h}]
must:
  top_speed: {min: 72 km/h}
  sustained_speed: {min: 54 km/h}
  pull_away: {to: 45 km/h, max: 8 s}
  range: {min: 45 km}
  cruise_range: [{speed: 54 km/h, min: 30 km}]
  climbs: [{grade: 12 %, speed: 36 km/h, for: 3 min}]
  hill_start: {grade: 20 %}
  battery_current: {max: 150 A}
  cruise_current: [{speed: 36 km/h, max: 40 A}]
  price: {max: 3500}
  mass: {max: 170 kg}
  charge_time: {max: 8 h}
  keeps_up: {min: 98 %}
choose:
  motor: [hollin-48]
  controller: [vane-200]
  pack: {cells: [slate-100], series: [16, 15], parallel: [1, 2], voltage: [60 V, 48 V]}
  chain: ["420"]
  front_sprocket: [pinion-420]
  front_teeth: [14, 12]
  rear_sprocket: [crown-420]
  rear_teeth: {from: 45, to: 47}
  half_links: yes
objectives: [top_speed, cruise_current, climb_winding, price]
)";

TEST(LoadRequirement, TakesEveryKeyInSi) {
  Loaded loaded;
  load_into(loaded, kFullRequirement, kTinyParts);
  EXPECT_LOADS(loaded);
  const Requirement& r = loaded.requirement();
  EXPECT_TRUE(r.defaults.empty()) << r.defaults.front().key;
  EXPECT_EQ(r.title, "Harbour runabout");
  EXPECT_EQ(r.currency, "CHF");
  EXPECT_EQ(r.owned, (std::vector<std::string>{"hollin-48", "crown-420:45", "slate-100"}));
  EXPECT_EQ(r.bike.mass, 96);
  EXPECT_EQ(r.bike.max_gross_mass, 330);
  EXPECT_EQ(r.bike.wheelbase, 1.33);
  EXPECT_EQ(r.bike.centre_of_gravity_height, 0.62);
  EXPECT_EQ(r.bike.centre_of_gravity_behind, 0.70);
  const auto& road = std::get<model::RoadLoad>(r.bike.road);
  EXPECT_EQ(road.drag_area, 0.62);
  EXPECT_EQ(road.rolling_resistance, 0.014);
  EXPECT_EQ(road.linear, 0);
  EXPECT_EQ(r.bike.accessories, 60);
  EXPECT_EQ(r.bike.wheel_inertia, 0.9);
  EXPECT_EQ(r.bike.rolling_circumference, 1.94);
  EXPECT_DOUBLE_EQ(r.bike.min_centre_distance, 0.56);
  EXPECT_DOUBLE_EQ(r.bike.max_centre_distance, 0.59);
  EXPECT_DOUBLE_EQ(r.bike.rear.bolt_circle.value(), 0.104);
  EXPECT_EQ(r.bike.rear.bolts, 4);
  EXPECT_DOUBLE_EQ(r.bike.rear.max_diameter.value(), 0.3);
  EXPECT_EQ(r.rider_mass, 80);
  EXPECT_EQ(r.load_mass, 10);
  EXPECT_DOUBLE_EQ(r.conditions.air_temperature, kZeroCelsius + 10);
  EXPECT_EQ(r.conditions.altitude, 500);
  EXPECT_EQ(r.conditions.headwind, 5);
  EXPECT_EQ(r.conditions.grip, 0.8);
  EXPECT_EQ(r.conditions.state_of_charge, 0.9);
  EXPECT_EQ(r.conditions.low_state_of_charge, 0.25);
  EXPECT_DOUBLE_EQ(r.conditions.winding_temperature, kZeroCelsius + 90);
  EXPECT_EQ(r.ride_name, "steady 36 km/h");
  ASSERT_EQ(r.ride.size(), 2U);
  EXPECT_EQ(r.ride[0].speed, 10);
  EXPECT_EQ(r.ride[1].speed, 10);
  EXPECT_EQ(r.cruise.back(), 20);
  ASSERT_EQ(r.accelerations.size(), 1U);
  EXPECT_EQ(r.accelerations[0].from, 10);
  EXPECT_EQ(r.accelerations[0].to, 20);
}

TEST(LoadRequirement, TakesEveryDemandInSi) {
  Loaded loaded;
  load_into(loaded, kFullRequirement, kTinyParts);
  EXPECT_LOADS(loaded);
  const spec::Demands& must = loaded.requirement().must;
  EXPECT_EQ(must.top_speed, 20);
  EXPECT_EQ(must.sustained_speed, 15);
  EXPECT_EQ(loaded.requirement().pull_away_to, 12.5);
  EXPECT_EQ(must.pull_away_time, 8);
  EXPECT_EQ(must.range, 45000);
  ASSERT_EQ(must.cruise_range.size(), 1U);
  EXPECT_EQ(must.cruise_range[0].speed, 15);
  EXPECT_EQ(must.cruise_range[0].limit, 30000);
  ASSERT_EQ(must.climbs.size(), 1U);
  EXPECT_EQ(must.climbs[0].grade, 0.12);
  EXPECT_EQ(must.climbs[0].speed, 10);
  EXPECT_EQ(must.climbs[0].duration, 180);
  EXPECT_EQ(must.hill_start_grade, 0.2);
  EXPECT_EQ(must.battery_current, 150);
  ASSERT_EQ(must.cruise_current.size(), 1U);
  EXPECT_EQ(must.cruise_current[0].speed, 10);
  EXPECT_EQ(must.cruise_current[0].limit, 40);
  EXPECT_EQ(must.price, 3500 * parts::kMoneyUnit);
  EXPECT_EQ(must.mass, 170);
  EXPECT_EQ(must.charge_time, 8 * 3600);
  EXPECT_EQ(must.keeps_up, 0.98);
}

TEST(LoadRequirement, TakesEveryChoice) {
  Loaded loaded;
  load_into(loaded, kFullRequirement, kTinyParts);
  EXPECT_LOADS(loaded);
  using Ids = std::vector<std::string>;
  const spec::Choice& choice = loaded.requirement().choose;
  EXPECT_EQ(choice.motors, Ids{"hollin-48"});
  EXPECT_EQ(choice.controllers, Ids{"vane-200"});
  EXPECT_EQ(choice.pack.ids, std::nullopt);
  EXPECT_EQ(choice.pack.cells, Ids{"slate-100"});
  EXPECT_EQ(choice.pack.series, (std::vector<int>{15, 16}));
  EXPECT_EQ(choice.pack.parallel, (std::vector<int>{1, 2}));
  EXPECT_EQ(choice.pack.voltage_classes, (std::vector<double>{48, 60}));
  EXPECT_EQ(choice.chargers, std::nullopt);
  EXPECT_EQ(choice.chain.sizes_or_ids, Ids{"420"});
  EXPECT_EQ(choice.front_sprockets, Ids{"pinion-420"});
  EXPECT_EQ(choice.front_teeth, (std::vector<int>{12, 14}));
  EXPECT_EQ(choice.rear_sprockets, Ids{"crown-420"});
  EXPECT_EQ(choice.rear_teeth, (std::vector<int>{45, 46, 47}));
  EXPECT_TRUE(choice.half_links);
  EXPECT_EQ(loaded.requirement().objectives,
            (Ids{"top_speed", "cruise_current", "climb_winding", "price"}));
}

TEST(LoadRequirement, EveryDefaultIsTakenAndRecordedWithItsSource) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement, kTinyParts);
  EXPECT_LOADS(loaded);
  const Requirement& r = loaded.requirement();
  EXPECT_EQ(r.title, "");
  EXPECT_EQ(r.currency, "EUR");
  EXPECT_EQ(r.bike.wheelbase, 1.35);
  EXPECT_EQ(r.bike.centre_of_gravity_height, 0.60);
  EXPECT_EQ(r.bike.centre_of_gravity_behind, 0.675);
  const auto& road = std::get<model::RoadLoad>(r.bike.road);
  EXPECT_EQ(road.drag_area, 0.60);
  EXPECT_EQ(road.rolling_resistance, 0.018);
  EXPECT_EQ(r.bike.accessories, 50);
  EXPECT_EQ(r.bike.wheel_inertia, 1.2);
  EXPECT_EQ(r.bike.max_gross_mass, std::nullopt);
  EXPECT_EQ(r.bike.rear.bolt_circle, std::nullopt);
  EXPECT_EQ(r.load_mass, 0);
  EXPECT_DOUBLE_EQ(r.conditions.air_temperature, kZeroCelsius + 20);
  EXPECT_EQ(r.conditions.altitude, 0);
  EXPECT_EQ(r.conditions.headwind, 0);
  EXPECT_EQ(r.conditions.grip, 0.9);
  EXPECT_EQ(r.conditions.state_of_charge, 0.8);
  EXPECT_EQ(r.conditions.low_state_of_charge, 0.2);
  EXPECT_DOUBLE_EQ(r.conditions.winding_temperature, kZeroCelsius + 75);
  EXPECT_EQ(r.ride_name, "r40-urban");
  EXPECT_EQ(r.ride.size(), spec::find_cycle("r40-urban")->time.size());
  EXPECT_EQ(r.pull_away_to, 50 / 3.6);
  EXPECT_EQ(r.must.pull_away_time, std::nullopt);
  EXPECT_FALSE(r.choose.half_links);
  EXPECT_EQ(r.objectives, (std::vector<std::string>{"pull_away", "range", "price"}));

  const std::pair<const char*, const char*> defaults[] = {
      {"currency", "EUR"},
      {"bike.wheelbase", "1.35 m"},
      {"bike.centre_of_gravity.height", "0.60 m"},
      {"bike.centre_of_gravity.behind_front_axle", "0.675 m (half the wheelbase)"},
      {"bike.posture", "upright"},
      {"bike.drag_area", "0.60 m2"},
      {"bike.rolling_resistance", "0.018"},
      {"bike.accessories", "50 W"},
      {"bike.wheel_inertia", "1.2 kg m2"},
      {"load.mass", "0 kg"},
      {"conditions.air", "20 degC"},
      {"conditions.altitude", "0 m"},
      {"conditions.headwind", "0 km/h"},
      {"conditions.grip", "0.9"},
      {"conditions.state_of_charge", "80 %"},
      {"conditions.low_state_of_charge", "20 %"},
      {"conditions.winding", "75 degC"},
      {"ride.cycle", "r40-urban"},
      {"must.pull_away.to", "50 km/h"},
      {"choose.half_links", "no"},
      {"objectives", "pull_away, range, price"}};
  for (const auto& [key, value] : defaults) {
    const parts::Default* found = find_default(r.defaults, key);
    ASSERT_NE(found, nullptr) << key;
    EXPECT_EQ(found->value, value) << key;
    EXPECT_FALSE(found->source.empty()) << key;
  }
  EXPECT_EQ(r.defaults.size(), std::size(defaults));
}

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

TEST(LoadMust, PullAwayToAloneIsATargetAndNoDemand) {
  Loaded target;
  load_into(target,
            edited(kTinyRequirement, "  top_speed: {min: 70 km/h}\n",
                   "  top_speed: {min: 70 km/h}\n  pull_away: {to: 36 km/h}\n"),
            kTinyParts);
  EXPECT_LOADS(target);
  EXPECT_EQ(target.requirement().pull_away_to, 10);
  EXPECT_EQ(target.requirement().must.pull_away_time, std::nullopt);
  Loaded alone;
  load_into(alone,
            edited(kTinyRequirement, "top_speed: {min: 70 km/h}", "pull_away: {to: 36 km/h}"),
            kTinyParts);
  EXPECT_TRUE(one_error(alone, "bike.yaml", 8, "`must` demands nothing"));
}

TEST(LoadMust, PullAwayTimeAloneIsTo50KmH) {
  Loaded loaded;
  load_into(loaded, edited(kTinyRequirement, "top_speed: {min: 70 km/h}", "pull_away: {max: 8 s}"),
            kTinyParts);
  EXPECT_LOADS(loaded);
  EXPECT_EQ(loaded.requirement().pull_away_to, 50 / 3.6);
  EXPECT_EQ(find_default(loaded.requirement().defaults, "must.pull_away.to")->value, "50 km/h");
}

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

TEST(LoadRide, BuiltInCyclesAreNamed) {
  for (const spec::Cycle& cycle : spec::cycles()) {
    Loaded loaded;
    load_into(loaded,
              std::string(kTinyRequirement) + "ride: {cycle: " + std::string(cycle.id) + "}\n",
              kTinyParts);
    EXPECT_LOADS(loaded);
    EXPECT_EQ(loaded.requirement().ride_name, cycle.id);
    ASSERT_EQ(loaded.requirement().ride.size(), cycle.speed.size());
    EXPECT_EQ(loaded.requirement().ride[40].speed, cycle.speed[40]);
  }
}

void load_trace(Loaded& loaded, std::string_view csv) {
  const Folder folder;
  folder.write("bike.yaml", std::string(kTinyRequirement) + "ride: {trace: rides/a.csv}\n");
  folder.write("parts.yaml", kTinyParts);
  folder.write("rides/a.csv", csv);
  load_into(loaded, folder);
}

TEST(LoadRide, ATraceIsReadFromCsvBesideTheRequirement) {
  Loaded loaded;
  load_trace(loaded, "time_s,speed_km_h,grade_percent\n0,0,0\n10,72,5\n20.5,36,-5\n");
  EXPECT_LOADS(loaded);
  EXPECT_EQ(loaded.requirement().ride_name, "rides/a.csv");
  const model::Profile& ride = loaded.requirement().ride;
  ASSERT_EQ(ride.size(), 3U);
  EXPECT_EQ(ride[1].speed, 20);
  EXPECT_EQ(ride[1].grade, 0.05);
  EXPECT_EQ(ride[2].time, 20.5);
  EXPECT_EQ(ride[2].speed, 10);
  EXPECT_EQ(ride[2].grade, -0.05);
}

TEST(LoadRide, ATraceMayBeInMilesPerHourOrMetresPerSecond) {
  Loaded mph;
  load_trace(mph, "time_s,speed_mph\n0,0\n10,10\n");
  EXPECT_LOADS(mph);
  EXPECT_DOUBLE_EQ(mph.requirement().ride[1].speed, 4.4704);
  Loaded si;
  load_trace(si, "speed_m_s,time_s\n0,0\n12.5,10\n");
  EXPECT_LOADS(si);
  EXPECT_EQ(si.requirement().ride[1].speed, 12.5);
}

TEST(LoadRide, BrokenTracesAreReportedAtTheirCell) {
  const std::tuple<const char*, std::size_t, const char*> traces[] = {
      {"time_s,speed_km_h\n0,0\n", 1, "fewer than 2 rows"},
      {"time_s,speed_km_h\n0,0\n1,5\n1,6\n", 4, "time does not rise"},
      {"time_s,speed_km_h\n0,0\n1,0\n", 2, "no distance"},
      {"time_s,speed_km_h\n0,0\n1,-5\n", 3, "from 0 km/h"},
      {"time_s,speed_km_h\n0,0\n1,fast\n", 3, "plain number"},
      {"time_s,speed_km_h\n0,0\n1,72 km/h\n", 3, "plain number"},
      {"time_s,speed_km_h\n0,0\nnan,5\n", 3, "plain number"},
      {"time_s,speed_km_h\n0,0\n1,1e9\n", 3, "to 540 km/h"},
      {"time_s,speed_kmh\n0,0\n1,5\n", 1, "did you mean `speed_km_h`"},
      {"time_s,grade_percent\n0,0\n1,5\n", 1, "lacks the column `speed_km_h`"},
      {"speed_km_h\n0\n1\n", 1, "lacks the column `time_s`"},
      {"time_s,speed_km_h,speed_mph\n0,0,0\n1,5,3\n", 1, "second column of speeds"},
      {"time_s,speed_km_h,grade_percent\n0,0,0\n1,5,90\n", 3, "from -50 to 60"},
      {"time_s,speed_km_h\n0,0\n1\n", 3, ""},
      {"", 0, ""},
  };
  for (const auto& [csv, line, fragment] : traces) {
    Loaded loaded;
    load_trace(loaded, csv);
    EXPECT_FALSE(loaded.job.has_value()) << csv;
    ASSERT_EQ(loaded.diagnostics.all().size(), 1U) << csv << "\n" << loaded.text();
    const document::Diagnostic& finding = loaded.diagnostics.all().front();
    EXPECT_TRUE(finding.mark.source->name.ends_with("rides/a.csv") || line == 0);
    if (line > 0) {
      EXPECT_EQ(finding.mark.line, line) << csv;
    }
    EXPECT_NE((finding.message + finding.hint).find(fragment), std::string::npos) << csv << "\n"
                                                                                  << loaded.text();
  }
}

TEST(LoadRide, AMissingTraceIsReportedWhereItIsNamed) {
  Loaded loaded;
  load_into(loaded, std::string(kTinyRequirement) + "ride: {trace: none.csv}\n", kTinyParts);
  EXPECT_TRUE(one_error(loaded, "bike.yaml", 10, "none.csv"));
}

TEST(LoadRequirement, SlotsWithoutAnyPartAreReportedAtThePartsFiles) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement, "tyres: [{size: 3.00-18, rollout: 1.93 m}]\n");
  EXPECT_EQ(loaded.diagnostics.all().size(), 6U) << loaded.text();
  EXPECT_EQ(loaded.diagnostics.all().front().mark.line, 2U);
  EXPECT_NE(loaded.text().find("hold no motor"), std::string::npos);
}

TEST(LoadRequirement, UnknownIdsAreNotReportedWhenAPartsFileCouldNotBeRead) {
  const Folder folder;
  folder.write("bike.yaml", edited(kTinyRequirement, "[parts.yaml]", "[parts.yaml, gone.yaml]") +
                                "choose: {motor: [elsewhere]}\n");
  folder.write("parts.yaml", kTinyParts);
  Loaded loaded;
  load_into(loaded, folder);
  EXPECT_TRUE(one_error(loaded, "bike.yaml", 2, "gone.yaml"));
}

TEST(LoadRequirement, UnknownKeysNameTheNearestKnownKey) {
  Loaded loaded;
  load_into(loaded,
            edited(kTinyRequirement, "  mass: 96 kg\n", "  mass: 96 kg\n  wheelbse: 1.3 m\n"),
            kTinyParts);
  ASSERT_TRUE(one_error(loaded, "bike.yaml", 5, "did you mean `wheelbase`"));
  EXPECT_EQ(loaded.diagnostics.all().front().mark.column, 3U);
}

TEST(LoadRequirement, AMissingKeyPointsAtItsMapWithAnExampleLine) {
  Loaded loaded;
  load_into(loaded, edited(kTinyRequirement, "  mass: 96 kg\n", ""), kTinyParts);
  ASSERT_TRUE(one_error(loaded, "bike.yaml", 3, "lacks `mass`"));
  EXPECT_NE(loaded.diagnostics.all().front().hint.find("`mass: "), std::string::npos);
}

TEST(LoadRequirement, AWrongUnitPointsAtItsCharacter) {
  Loaded loaded;
  load_into(loaded, edited(kTinyRequirement, "96 kg", "96 kgs"), kTinyParts);
  ASSERT_TRUE(one_error(loaded, "bike.yaml", 4, "kg"));
  EXPECT_EQ(loaded.diagnostics.all().front().mark.column, 12U);
}

TEST(LoadRequirement, ARangeErrorStatesTheLimitsInTheWrittenUnit) {
  Loaded loaded;
  load_into(loaded, edited(kTinyRequirement, "96 kg", "9.6 lb"), kTinyParts);
  ASSERT_TRUE(one_error(loaded, "bike.yaml", 4, "9.6 lb"));
  EXPECT_NE(loaded.diagnostics.all().front().message.find("44.0925 lb to 2204.62 lb"),
            std::string::npos)
      << loaded.text();
}

}  // namespace
}  // namespace sprocketry::test
