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
conditions: {air: 10 degC, altitude: 500 m, headwind: 18 km/h, grip: 0.8, state_of_charge: 90 %, low_state_of_charge: 25 %, winding: 90 degC, pack: {temperature: 15 degC, health: 90 %}}
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
      {"conditions.pack.temperature", "25 degC"},
      {"conditions.pack.health", "100 %"},
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
