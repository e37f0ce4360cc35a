#include <algorithm>

#include "load_support.hpp"

namespace sprocketry::test {
namespace {

// A list that stands in for one of the tiny parts' lists.
std::string with(std::string_view list, std::string_view text) {
  const std::string key = "\n" + std::string(list) + ":\n";
  std::string parts(kTinyParts);
  const std::size_t begin = parts.find(key) + 1;
  std::size_t end = parts.find('\n', begin) + 1;
  while (end < parts.size() && parts[end] == ' ') end = parts.find('\n', end) + 1;
  return parts.replace(begin, end - begin, text);
}

TEST(LoadController, TakesEveryKeyInSi) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement,
            with("controllers",
                 "controllers:\n  - {id: vane-200, drives: [brushed, brushless], voltage: {min: 36 "
                 "V, max: 90 V}, current: {battery: 200 A, motor: 300 A_rms, motor_continuous: 150 "
                 "A, for: 2 min}, settable: no, efficiency: 97 %, mass: 1900 g, price: 260.5}\n"));
  EXPECT_LOADS(loaded);
  const parts::ControllerPart& part = loaded.catalogue().controllers.front();
  EXPECT_TRUE(part.model.drives_brushed);
  EXPECT_TRUE(part.model.drives_brushless);
  EXPECT_EQ(part.model.min_voltage, 36);
  EXPECT_EQ(part.model.max_voltage, 90);
  EXPECT_EQ(part.model.battery_current, 200);
  EXPECT_NEAR(part.model.motor_current, 300 * 1.224744871391589, 1e-10);
  EXPECT_EQ(part.model.motor_continuous, 150);
  EXPECT_EQ(part.model.peak_duration, 120);
  EXPECT_FALSE(part.model.settable);
  EXPECT_EQ(part.model.efficiency, 0.97);
  EXPECT_EQ(part.mass, 1.9);
  EXPECT_EQ(part.price, 2605000);
}

TEST(LoadParts, DefaultsAreInTheOrderOfTheirKeys) {
  Loaded loaded;
  // "b.x" sorts behind "b-1.x": '-' comes before '.', so order of ids is not enough.
  load_into(loaded, kTinyRequirement,
            with("motors",
                 "motors:\n"
                 "  - {id: b, kind: brushed, speed_constant: 62 rpm/V, resistance: 14 mohm, "
                 "no_load: [{voltage: 48 V, current: 5 A}], max_voltage: 90 V, max_speed: 6000 "
                 "rpm, current: {continuous: 110 A, peak: 280 A}, mass: 11 kg, price: 640}\n"
                 "  - {id: b-1, kind: brushed, speed_constant: 62 rpm/V, resistance: 14 mohm, "
                 "no_load: [{voltage: 48 V, current: 5 A}], max_voltage: 90 V, max_speed: 6000 "
                 "rpm, current: {continuous: 110 A, peak: 280 A}, mass: 11 kg, price: 640}\n"));
  EXPECT_LOADS(loaded);
  const auto& defaults = loaded.catalogue().defaults;
  EXPECT_GE(defaults.size(), 6U);
  EXPECT_TRUE(std::ranges::is_sorted(defaults, {}, &parts::Default::key));
}

TEST(LoadController, DefaultsAreRecorded) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement, kTinyParts);
  EXPECT_LOADS(loaded);
  const parts::ControllerPart& part = loaded.catalogue().controllers.front();
  EXPECT_EQ(part.model.motor_continuous, 300);
  EXPECT_EQ(part.model.peak_duration, 60);
  EXPECT_TRUE(part.model.settable);
  EXPECT_EQ(part.model.efficiency, 0.96);
  EXPECT_FALSE(part.model.drives_brushless);
  for (const auto* key : {"current.motor_continuous", "current.for", "settable", "efficiency"}) {
    const auto* found =
        find_default(loaded.catalogue().defaults, std::string("controllers.vane-200.") + key);
    EXPECT_NE(found, nullptr) << key;
  }
}

TEST(LoadCharger, TakesEveryKeyInSi) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement,
            std::string(kTinyParts) +
                "chargers:\n  - {id: well-58, chemistries: [nmc, lfp], full_voltage: {min: 56 V, "
                "max: 60 V}, current: 20 A, carried: yes, mass: 3 kg, price: 150}\n");
  EXPECT_LOADS(loaded);
  const parts::ChargerPart& part = loaded.catalogue().chargers.front();
  EXPECT_EQ(part.chemistries, (std::vector<std::string>{"lfp", "nmc"}));
  EXPECT_EQ(part.min_full_voltage, 56);
  EXPECT_EQ(part.max_full_voltage, 60);
  EXPECT_EQ(part.current, 20);
  EXPECT_TRUE(part.carried);
  EXPECT_EQ(part.mass, 3);
  EXPECT_EQ(part.price, 150 * parts::kMoneyUnit);
}

TEST(LoadCharger, NeedsItsMassOnlyWhenItRidesAlong) {
  const std::string charger =
      "chargers:\n  - {id: well-58, chemistries: [lfp], full_voltage: {min: 56 V, max: 60 V}, "
      "current: 20 A, price: 150";
  Loaded left_at_home;
  load_into(left_at_home, kTinyRequirement, std::string(kTinyParts) + charger + "}\n");
  EXPECT_LOADS(left_at_home);
  EXPECT_FALSE(left_at_home.catalogue().chargers.front().carried);
  Loaded carried;
  load_into(carried, kTinyRequirement, std::string(kTinyParts) + charger + ", carried: yes}\n");
  EXPECT_TRUE(one_error(carried, "parts.yaml", 36, "lacks `mass`"));
}

TEST(LoadChain, AKnownSizeFillsInItsDimensions) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement, kTinyParts);
  EXPECT_LOADS(loaded);
  const parts::ChainPart& part = loaded.catalogue().chains.front();
  EXPECT_EQ(part.size, "420");
  EXPECT_DOUBLE_EQ(part.model.pitch, 0.0127);
  EXPECT_DOUBLE_EQ(part.model.pin_diameter, 0.00358);
  EXPECT_DOUBLE_EQ(part.roller_diameter, 0.00777);
  EXPECT_DOUBLE_EQ(part.inner_width, 0.00635);
  EXPECT_EQ(part.model.tensile_strength, 15600);
  EXPECT_EQ(part.model.mass_per_length, 0.60);
  EXPECT_EQ(part.model.fixed_loss, 0.01);
  EXPECT_EQ(part.model.friction, 0.12);
  EXPECT_EQ(part.max_speed, std::nullopt);
  EXPECT_EQ(part.box_links, 130);
  EXPECT_EQ(part.price, 26 * parts::kMoneyUnit);
  for (const auto* key : {"pitch", "pin", "roller", "width", "tensile_strength", "mass_per_length",
                          "loss", "friction"}) {
    const auto* found =
        find_default(loaded.catalogue().defaults, std::string("chains.linkage-420.") + key);
    EXPECT_NE(found, nullptr) << key;
  }
}

TEST(LoadChain, StatedDimensionsWin) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement,
            with("chains",
                 "chains:\n  - {id: linkage-420, size: 420, tensile_strength: 18 kN, "
                 "mass_per_length: 0.56 kg/m, pin: 3.6 mm, roller: 7.8 mm, width: 6.4 mm, pitch: "
                 "1/2 in, loss: 2 %, friction: 0.1, max_speed: 20 m/s, price_per_link: 0.25}\n"));
  EXPECT_LOADS(loaded);
  const parts::ChainPart& part = loaded.catalogue().chains.front();
  EXPECT_EQ(part.size, "420");
  EXPECT_EQ(part.model.tensile_strength, 18000);
  EXPECT_EQ(part.model.mass_per_length, 0.56);
  EXPECT_DOUBLE_EQ(part.model.pin_diameter, 0.0036);
  EXPECT_DOUBLE_EQ(part.roller_diameter, 0.0078);
  EXPECT_DOUBLE_EQ(part.inner_width, 0.0064);
  EXPECT_EQ(part.model.fixed_loss, 0.02);
  EXPECT_EQ(part.model.friction, 0.1);
  EXPECT_EQ(part.max_speed, 20);
  EXPECT_EQ(part.box_links, 0);
  EXPECT_EQ(part.price, 2500);
}

TEST(LoadChain, AnIso606CodeIsTheSizeThatTheSprocketsName) {
  Loaded loaded;
  std::string parts =
      edited(kTinyParts, "id: linkage-420, size: \"420\"", "id: linkage-40, size: 08A");
  load_into(loaded, kTinyRequirement, parts);
  EXPECT_LOADS(loaded);
  EXPECT_EQ(loaded.catalogue().chains.front().size, "40");
}

TEST(LoadChain, AnUnknownSizeMustStateItsDimensions) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement,
            edited(kTinyParts, "id: linkage-420, size: \"420\"", "id: linkage-x, size: own"));
  for (const auto* key : {"pitch", "pin", "mass_per_length", "tensile_strength"}) {
    EXPECT_NE(loaded.text().find("lacks `" + std::string(key) + "`"), std::string::npos) << key;
  }
  EXPECT_EQ(loaded.diagnostics.all().size(), 4U) << loaded.text();
}

TEST(LoadChain, OneSizeHasOnePitch) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement,
            edited(kTinyParts, "links: 130", "pitch: 5/8 in, links: 130"));
  EXPECT_TRUE(one_error(loaded, "parts.yaml", 30, "pitch of 12.7 mm"));
}

TEST(LoadChain, IsPricedByTheBoxOrByTheLinkNotBoth) {
  Loaded both;
  load_into(both, kTinyRequirement,
            edited(kTinyParts, "130, price: 26", "130, price_per_link: 0.3"));
  EXPECT_TRUE(one_error(both, "parts.yaml", 30, "beside `price_per_link`"));
  Loaded no_links;
  load_into(no_links, kTinyRequirement, edited(kTinyParts, "links: 130, ", ""));
  EXPECT_TRUE(one_error(no_links, "parts.yaml", 30, "lacks `links`"));
  Loaded neither;
  load_into(neither, kTinyRequirement, edited(kTinyParts, ", links: 130, price: 26", ""));
  EXPECT_EQ(neither.diagnostics.all().size(), 2U) << neither.text();
}

TEST(LoadSprockets, TakeEveryKeyInSi) {
  Loaded loaded;
  std::string parts = with("front_sprockets",
                           "front_sprockets:\n  - {id: pinion-420, size: \"420\", teeth: [13, 11, "
                           "13], bore: 7/8 in, key: 3/16 in, hub_diameter: 32 mm, hub_length: 25 "
                           "mm, price: {base: 10, per_tooth: 0.4}, fabrication: 20, mass: 0.5 "
                           "kg}\n");
  parts = edited(parts, "price: 30, mass: 0.8 kg}",
                 "bolt_circle: 104 mm, bolts: 4, price: {base: 30, per_tooth: 0.8}, mass: {base: "
                 "0.3 kg, per_tooth: 0.012 kg}}");
  load_into(loaded, kTinyRequirement, parts);
  EXPECT_LOADS(loaded);
  const parts::FrontSprocketFamily& front = loaded.catalogue().front_sprockets.front();
  EXPECT_EQ(front.size, "420");
  EXPECT_EQ(front.teeth, (std::vector<int>{11, 13}));
  EXPECT_NEAR(front.bore.value(), 0.022225, 1e-15);
  EXPECT_NEAR(front.key.value(), 0.0047625, 1e-15);
  EXPECT_EQ(front.hub_diameter, 0.032);
  EXPECT_EQ(front.hub_length, 0.025);
  EXPECT_EQ(front.price.at(11), 144000);
  EXPECT_EQ(front.fabrication, 200000);
  EXPECT_EQ(front.mass.at(11), 0.5);
  const parts::RearSprocketFamily& rear = loaded.catalogue().rear_sprockets.front();
  EXPECT_EQ(rear.teeth.size(), 33U);
  EXPECT_EQ(rear.teeth.front(), 40);
  EXPECT_EQ(rear.teeth.back(), 72);
  EXPECT_EQ(rear.bolt_circle, 0.104);
  EXPECT_EQ(rear.bolts, 4);
  EXPECT_EQ(rear.price.at(50), 700000);
  EXPECT_NEAR(rear.mass.at(50), 0.9, 1e-15);
}

TEST(LoadSprockets, HaveFrom5To200Teeth) {
  const std::pair<const char*, bool> teeth[] = {
      {"5", true},           {"200", true},
      {"4", false},          {"201", false},
      {"0", false},          {"-12", false},
      {"12.5", false},       {"12 teeth", false},
      {"[]", false},         {"{from: 17, to: 12}", false},
      {"{from: 12}", false}, {"{from: 12, to: 12}", true},
      {"99999999999", false}};
  for (const auto& [text, valid] : teeth) {
    Loaded loaded;
    load_into(loaded, kTinyRequirement, edited(kTinyParts, "{from: 12, to: 17}", text));
    EXPECT_EQ(loaded.job.has_value(), valid) << text << "\n" << loaded.text();
    if (!valid) {
      EXPECT_EQ(loaded.diagnostics.all().front().mark.line, 32U) << text;
    }
  }
}

TEST(LoadExtras, TakeTheirConditions) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement,
            std::string(kTinyParts) +
                "extras:\n"
                "  - {id: contactor, when: {full_voltage: {min: 60 V}, nominal_voltage: {max: 96 "
                "V}, battery_current: {min: 50 A, max: 400 A}}, mass: 0.4 kg, price: 85}\n"
                "  - {id: fuse, price: 12}\n");
  EXPECT_LOADS(loaded);
  const auto& extras = loaded.catalogue().extras;
  ASSERT_EQ(extras.size(), 2U);
  EXPECT_EQ(extras[0].full_voltage.min, 60);
  EXPECT_EQ(extras[0].full_voltage.max, std::nullopt);
  EXPECT_EQ(extras[0].nominal_voltage.max, 96);
  EXPECT_EQ(extras[0].battery_current.min, 50);
  EXPECT_EQ(extras[0].battery_current.max, 400);
  EXPECT_EQ(extras[0].mass, 0.4);
  EXPECT_EQ(extras[0].price, 85 * parts::kMoneyUnit);
  EXPECT_TRUE(extras[1].full_voltage.contains(1e9));
  EXPECT_NE(find_default(loaded.catalogue().defaults, "extras.fuse.mass"), nullptr);
}

TEST(LoadCatalogue, ListsAreSortedByIdWhateverTheOrderOfFilesAndEntries) {
  const std::string chains =
      "chains:\n"
      "  - {id: zeta, size: \"420\", links: 100, price: 20}\n"
      "  - {id: alpha, size: \"428\", links: 100, price: 20}\n";
  for (const auto* order : {"[parts.yaml, more.yaml]", "[more.yaml, parts.yaml]"}) {
    const Folder folder;
    folder.write("bike.yaml", edited(kTinyRequirement, "[parts.yaml]", order));
    folder.write("parts.yaml", kTinyParts);
    folder.write("more.yaml", chains);
    Loaded loaded;
    load_into(loaded, folder);
    EXPECT_LOADS(loaded);
    const auto& sorted = loaded.catalogue().chains;
    ASSERT_EQ(sorted.size(), 3U);
    EXPECT_EQ(sorted[0].id, "alpha");
    EXPECT_EQ(sorted[1].id, "linkage-420");
    EXPECT_EQ(sorted[2].id, "zeta");
  }
}

TEST(LoadCatalogue, AnIdUsedTwiceInTwoFilesAndListsShowsBothPlaces) {
  const Folder folder;
  folder.write("bike.yaml",
               edited(kTinyRequirement, "[parts.yaml]", "[parts.yaml, more/chains.yaml]"));
  folder.write("parts.yaml", kTinyParts);
  folder.write("more/chains.yaml",
               "chains:\n  - {size: \"420\", id: hollin-48, links: 100, price: 20}\n");
  Loaded loaded;
  load_into(loaded, folder);
  ASSERT_TRUE(one_error(loaded, "more/chains.yaml", 2, "`hollin-48` is used twice"));
  const auto& second = loaded.diagnostics.all().front().second_mark.value();
  EXPECT_TRUE(second.source->name.ends_with("parts.yaml"));
  EXPECT_EQ(second.line, 2U);
}

TEST(LoadCatalogue, AListMayStandInACsvFileBesideThePartsFile) {
  const Folder folder;
  folder.write("bike.yaml", edited(kTinyRequirement, "parts.yaml", "stock/parts.yaml"));
  folder.write("stock/parts.yaml", edited(with("chains", "chains: chains.csv\n"), "motors:\n",
                                          "chargers: chargers.csv\nmotors:\n"));
  folder.write("stock/chains.csv",
               "id,size,links,price\r\nlinkage-420,420,130,26\r\nlinkage-428,428,120,31.50\r\n");
  folder.write("stock/chargers.csv",
               "id,chemistries,full_voltage.min,full_voltage.max,current,price\n"
               "well-58,[lfp],56 V,60 V,20 A,150\n");
  Loaded loaded;
  load_into(loaded, folder);
  EXPECT_LOADS(loaded);
  ASSERT_EQ(loaded.catalogue().chains.size(), 2U);
  EXPECT_EQ(loaded.catalogue().chains[1].price, 315000);
  EXPECT_EQ(loaded.catalogue().chargers.front().max_full_voltage, 60);
}

TEST(LoadCatalogue, NestedKeysAndCurvesFitIntoCsvCells) {
  const Folder folder;
  folder.write("bike.yaml", kTinyRequirement);
  folder.write("parts.yaml", with("motors", "motors: motors.csv\n") +
                                 "tyres: [{size: 3.00-18, rollout: 1.9 m}]\n");
  folder.write(
      "motors.csv",
      "id,kind,speed_constant,resistance,no_load.0.voltage,no_load.0.current,max_voltage,"
      "max_speed,current.continuous,current.peak,shaft.diameter,mass,price\n"
      "hollin-48,brushed,62 rpm/V,14 mohm,48 V,5 A,90 V,6000 rpm,110 A,280 A,7/8 in,11.5 "
      "kg,640\n"
      "hollin-72,brushed,40 rpm/V,20 mohm,72 V,4 A,110 V,6000 rpm,90 A,240 A,,14 kg,720\n");
  Loaded loaded;
  load_into(loaded, folder);
  EXPECT_LOADS(loaded);
  ASSERT_EQ(loaded.catalogue().motors.size(), 2U);
  const parts::MotorPart& motor = loaded.catalogue().motors.front();
  EXPECT_NEAR(motor.model.loss.constant, motor.model.torque_constant * 5, 1e-15);
  EXPECT_TRUE(motor.shaft.has_value());
  // An empty cell is a key that was left out.
  EXPECT_FALSE(loaded.catalogue().motors.back().shaft.has_value());
}

TEST(LoadCatalogue, AnErrorInACsvFileHasItsLine) {
  const Folder folder;
  folder.write("bike.yaml", kTinyRequirement);
  folder.write("parts.yaml", with("chains", "chains: chains.csv\n"));
  folder.write("chains.csv", "id,size,links,price\nlinkage-420,420,130,26 EUR\n");
  Loaded loaded;
  load_into(loaded, folder);
  EXPECT_TRUE(one_error(loaded, "chains.csv", 2, "plain number"));
}

// A table of two motors, whose columns after the price are the test's.
void load_motors(Loaded& loaded, const std::string& columns, const std::string& first,
                 const std::string& second, const std::string& no_load = "no_load") {
  const Folder folder;
  folder.write("bike.yaml", kTinyRequirement);
  folder.write("parts.yaml", with("motors", "motors: motors.csv\n"));
  const std::string loss = no_load == "no_load" ? "\"[{voltage: 48 V, current: 5 A}]\"" : "48 V";
  const std::string motor = ",brushed,62 rpm/V,14 mohm," + loss + ",90 V,6000 rpm,280 A,12 kg,640,";
  folder.write("motors.csv", "id,kind,speed_constant,resistance," + no_load +
                                 ",max_voltage,max_speed,current.peak,mass,price,"
                                 "current.continuous" +
                                 columns + "\nhollin-48" + motor + first + "\nhollin-72" + motor +
                                 second + "\n");
  load_into(loaded, folder);
}

TEST(LoadCatalogue, WhatARowOfATableLacksIsSaidOfTheRowAndItsColumn) {
  Loaded loaded;
  load_motors(loaded, "", "110 A", "");
  EXPECT_TRUE(one_error(loaded, "motors.csv", 3, "`current` of `hollin-72` lacks `continuous`"));
  EXPECT_TRUE(one_error(loaded, "motors.csv", 3, "fill the column `current.continuous`"));
  Loaded half;
  load_motors(half, ",thermal.resistance,thermal.capacity,thermal.max_winding",
              "110 A,0.2 K/W,,150 degC", "110 A,,,");
  EXPECT_TRUE(one_error(half, "motors.csv", 2, "fill the column `thermal.capacity`"));
}

TEST(LoadCatalogue, AWindingLimitAloneIsOneErrorWithBothFormsOfThermalData) {
  Loaded table;
  load_motors(table, ",thermal.resistance,thermal.capacity,thermal.max_winding",
              "110 A,0.2 K/W,4900 J/K,150 degC", "110 A,,,150 degC");
  EXPECT_TRUE(one_error(table, "motors.csv", 3, "`thermal` of `hollin-72`"));
  EXPECT_TRUE(one_error(table, "motors.csv", 3, "`thermal.resistance` and `thermal.capacity`"));
  EXPECT_TRUE(one_error(table, "motors.csv", 3, "winding_to_body, body_to_air"));
  Loaded yaml;
  load_into(yaml, kTinyRequirement,
            edited(kTinyParts, "    max_speed: 6000 rpm\n",
                   "    max_speed: 6000 rpm\n    thermal: {max_winding: 150 degC}\n"));
  EXPECT_TRUE(one_error(yaml, "parts.yaml", 9, "add `resistance` and `capacity`"));
}

TEST(LoadCatalogue, ColumnsOfAListThatDoNotCountItsItemsAreOneErrorInTheFirstLine) {
  Loaded loaded;
  load_motors(loaded, "", "110 A", "110 A", "no_load.voltage");
  EXPECT_NE(loaded.text().find("motors.csv:1:"), std::string::npos) << loaded.text();
  EXPECT_NE(loaded.text().find("call them `no_load.0.voltage`"), std::string::npos);
  EXPECT_NE(loaded.text().find("one cell of a column `no_load`, in double quotes: "
                               "\"[{voltage: 48 V, current: 5 A}]\""),
            std::string::npos)
      << loaded.text();
  EXPECT_EQ(loaded.text().find("error"), loaded.text().rfind("error")) << loaded.text();
}

TEST(LoadCatalogue, ATableInPlaceOfAPartsFileSaysHowToNameIt) {
  const std::pair<const char*, const char*> tables[] = {{"chains.csv", "`chains: chains.csv`"},
                                                        {"stock/all.csv", "`motors: all.csv`"}};
  for (const auto& [name, line] : tables) {
    const Folder folder;
    folder.write("bike.yaml", edited(kTinyRequirement, "parts.yaml", name));
    folder.write(name, "id,size,links,price\nlinkage-420,\"420: narrow\",130,26\n");
    Loaded loaded;
    load_into(loaded, folder);
    EXPECT_TRUE(one_error(loaded, "bike.yaml", 2, line));
  }
}

TEST(LoadCatalogue, MissingFilesAreReportedWhereTheyAreNamed) {
  Loaded no_parts;
  const Folder folder;
  folder.write("bike.yaml", kTinyRequirement);
  load_into(no_parts, folder);
  EXPECT_TRUE(one_error(no_parts, "bike.yaml", 2, "parts.yaml"));
  Loaded no_csv;
  load_into(no_csv, kTinyRequirement, with("chains", "chains: chains.csv\n"));
  EXPECT_TRUE(one_error(no_csv, "parts.yaml", 29, "chains.csv"));
}

TEST(LoadCatalogue, AllErrorsOfAllFilesAreReportedInOneRun) {
  const Folder folder;
  folder.write(
      "bike.yaml",
      edited(edited(kTinyRequirement, "[parts.yaml]", "[parts.yaml, more.yaml]"), "80 kg", "80"));
  folder.write("parts.yaml", edited(edited(kTinyParts, "90 V\n    max_speed", "90\n    max_speed"),
                                    "mass: 1.9 kg", "mas: 1.9 kg"));
  folder.write("more.yaml", "chains:\n  - {id: x, size: \"420\", links: 1, price: 20}\n");
  Loaded loaded;
  load_into(loaded, folder);
  EXPECT_FALSE(loaded.job.has_value());
  // rider.mass, max_voltage, `mas` with its missing `mass`, links.
  EXPECT_EQ(loaded.diagnostics.all().size(), 5U) << loaded.text();
}

TEST(LoadMoney, IsRoundedToATenThousandth) {
  const std::pair<const char*, parts::Money> prices[] = {{"640", 6400000},
                                                         {"0.00004", 0},
                                                         {"0.00006", 1},
                                                         {"1e3", 10000000},
                                                         {"0", 0},
                                                         {"12.3456", 123456},
                                                         {"1000000000", 10000000000000}};
  for (const auto& [text, money] : prices) {
    Loaded loaded;
    load_into(loaded, kTinyRequirement,
              edited(kTinyParts, "price: 640", std::string("price: ") + text));
    EXPECT_LOADS(loaded);
    EXPECT_EQ(loaded.catalogue().motors.front().price, money) << text;
  }
}

TEST(LoadMoney, IsAPlainNumberFrom0ToABillion) {
  for (const auto* text : {"640 EUR", "-1", "1000000001", "nan", ".nan", "inf", "1e999", "0x10",
                           "1,000", "[640]", "yes", "\"\"", "1 000"}) {
    Loaded loaded;
    load_into(loaded, kTinyRequirement,
              edited(kTinyParts, "price: 640", std::string("price: ") + text));
    EXPECT_TRUE(one_error(loaded, "parts.yaml", 11, "`price`")) << text;
  }
}

TEST(LoadId, Is1To64PlainCharacters) {
  const std::string longest(64, 'a');
  const std::pair<std::string, bool> ids[] = {
      {"A.b_c-9", true},  {longest, true}, {longest + "a", false}, {"a/b", false},  {"a:b", false},
      {"\"a b\"", false}, {"\"\"", false}, {"\xC3\xA4", false},    {"none", false}, {"[a]", false}};
  for (const auto& [id, valid] : ids) {
    Loaded loaded;
    load_into(loaded, kTinyRequirement, edited(kTinyParts, "id: hollin-48", "id: " + id));
    EXPECT_EQ(loaded.job.has_value(), valid) << id << "\n" << loaded.text();
    if (!valid) {
      EXPECT_TRUE(one_error(loaded, "parts.yaml", 2, "id")) << id;
    }
  }
}

}  // namespace
}  // namespace sprocketry::test
