#include <gtest/gtest.h>

#include <filesystem>
#include <set>

#include "cli/launch.hpp"

namespace sprocketry::test::tiny {
namespace {

using Json = nlohmann::ordered_json;

const std::string kDesign =
    "alder-4/gate-x/flint-60x16s1p/well-15/pull-420/small-420:14/large-420:60";

Words words(Words first, const Words& more) {
  first.insert(first.end(), more.begin(), more.end());
  return first;
}

// Locks the design as bike.lock.yaml.
void lock(const Workplace& place, const Words& more = {}) {
  const Outcome outcome = run(
      words({"lock", place.bike(), "--pick", kDesign, "-o", place.file("bike.lock.yaml")}, more));
  ASSERT_EQ(outcome.code, 0) << outcome.err;
}

Json checked(const Workplace& place, int code, const Words& more = {}) {
  return json_of(words({"check", place.file("bike.lock.yaml"), "--format", "json"}, more), code);
}

// The one of a list whose member has this value.
Json one_of(const Json& list, const char* key, const std::string& value) {
  for (const Json& item : list) {
    if (item[key] == value) return item;
  }
  ADD_FAILURE() << "no " << key << ' ' << value << " in " << list.dump(1);
  return {};
}

TEST(Lock, HoldsWhatEvaluateSays) {
  const Workplace place;
  lock(place);
  const Json design =
      json_of({"evaluate", place.bike(), "--pick", kDesign, "--format", "json"})["design"];
  const Json answer = checked(place, 0);
  EXPECT_EQ(answer["design"], kDesign);
  EXPECT_TRUE(answer["holds"]);
  for (const auto& [key, value] : design["metrics"].items()) {
    if (value.is_array()) continue;
    const Json figure = one_of(answer["figures"], "key", key);
    EXPECT_EQ(figure["then"], value) << key;
    EXPECT_EQ(figure["now"], value) << key;
    EXPECT_EQ(figure["by_model"], value) << key;
  }
  ASSERT_EQ(answer["rules"].size(), design["rules"].size());
  for (std::size_t i = 0; i < answer["rules"].size(); ++i) {
    EXPECT_EQ(answer["rules"][i]["rule"], design["rules"][i]["rule"]);
    EXPECT_EQ(answer["rules"][i]["then"]["margin"], design["rules"][i]["margin"]);
    EXPECT_EQ(answer["rules"][i]["now"], answer["rules"][i]["then"]);
  }
  for (const Json& part : answer["parts"]) EXPECT_EQ(part["state"], "same") << part;
}

TEST(Lock, TakesOverridesWithIt) {
  const Workplace place;
  lock(place, {"--set", "must.top_speed.min=55 km/h", "--set", "rider.mass=95 kg"});
  const Json answer = checked(place, 0);
  EXPECT_NEAR(one_of(answer["rules"], "rule", "must top_speed")["now"]["limit"].get<double>(), 55,
              1e-9);
  const Json design = json_of({"evaluate", place.bike(), "--pick", kDesign, "--set",
                               "rider.mass=95 kg", "--format", "json"})["design"];
  EXPECT_EQ(one_of(answer["figures"], "key", "range_km")["now"], design["metrics"]["range_km"]);
}

TEST(Lock, HoldsTheRideOfAFile) {
  const Workplace place;
  place.write("ride.csv", "time_s,speed_km_h\n0,0\n10,40\n60,40\n70,0\n");
  lock(place, {"--set", "ride.trace=ride.csv"});
  const Json before = one_of(checked(place, 0)["figures"], "key", "range_km");
  place.write("ride.csv", "time_s,speed_km_h\n0,0\n10,20\n60,20\n70,0\n");
  const Json answer = checked(place, 0);
  EXPECT_EQ(one_of(answer["figures"], "key", "range_km"), before);
  EXPECT_EQ(one_of(answer["files"], "role", "ride")["state"], "changed");
  std::filesystem::remove(place.file("ride.csv"));
  EXPECT_EQ(one_of(checked(place, 0)["files"], "role", "ride")["state"], "missing");
}

TEST(Lock, FindsItsFilesFromAnyFolderAndInAnotherOne) {
  const Workplace place;
  std::filesystem::create_directory(place.file("locks"));
  Surroundings there;
  there.folder = place.path().string();
  EXPECT_EQ(run({"lock", "bike.yaml", "--pick", kDesign, "-o", "locks/a.yaml"}, there).code, 0);
  EXPECT_EQ(run({"check", "locks/a.yaml"}, there).code, 0);
  there.folder = place.file("locks");
  EXPECT_EQ(run({"check", "a.yaml"}, there).code, 0);
  EXPECT_EQ(run({"check", place.file("locks/a.yaml")}).code, 0);
}

TEST(Lock, SaysWhenARuleRejectsTheDesignAlready) {
  const Workplace place;
  const Outcome outcome =
      run({"lock", place.bike(), "--pick", kDesign, "-o", place.file("bike.lock.yaml"), "--set",
           "must.top_speed.min=140 km/h"});
  EXPECT_EQ(outcome.code, 1);
  EXPECT_TRUE(contains(outcome.out, "rejected by: must top_speed")) << outcome.out;
  EXPECT_FALSE(checked(place, 1)["holds"]);
}

TEST(Lock, AnswersInJsonToo) {
  const Workplace place;
  const Json answer = json_of({"lock", place.bike(), "--pick", kDesign, "-o",
                               place.file("bike.lock.yaml"), "--format", "json"});
  EXPECT_EQ(answer["design"], kDesign);
  EXPECT_EQ(answer["lock"], place.file("bike.lock.yaml"));
  EXPECT_TRUE(answer["rejected_by"].empty());
  EXPECT_EQ(one_of(answer["files"], "role", "parts")["sha256"].get<std::string>().size(), 64U);
  EXPECT_TRUE(answer["metrics"].contains("range_km"));
}

TEST(Lock, RefusesWhatMakesNoSense) {
  const Workplace place;
  const std::vector<std::pair<Words, std::string>> cases = {
      {{"-o", place.bike()}, "which would be lost; name another"},
      {{"-o", place.file("parts.yaml")}, "which would be lost; name another"},
      {{"-o", place.file("no/where.yaml")}, "there is no folder"},
      {{"-o", place.file("l.yaml"), "--tolerance", "much"}, "write a share"},
      {{"-o", place.file("l.yaml"), "--tolerance", "range=5 %"}, "did you mean 'range_km'?"},
      {{}, "--output"},
  };
  for (const auto& [more, message] : cases) {
    const Outcome outcome = run(words({"lock", place.bike(), "--pick", kDesign}, more));
    EXPECT_EQ(outcome.code, 2) << message;
    EXPECT_TRUE(contains(outcome.err, message)) << outcome.err;
  }
  EXPECT_TRUE(contains(read_file(place.bike()), "Tiny town bike"));
}

TEST(Check, FindsNoChangeInAnotherUnitOrOrder) {
  const Workplace place;
  lock(place);
  place.edit("parts.yaml", "mass: 10 kg", "mass: 10000 g");
  place.edit("parts.yaml", "max_voltage: 80 V", "max_voltage: 80.0 V");
  place.edit("parts.yaml", "price: 390", "price: 390.00");
  place.edit("parts.yaml", "hub_diameter: 32 mm", "hub_diameter: 3.2 cm");
  place.edit("parts.yaml", "drives: [brushed, brushless]", "drives: [brushless, brushed]");
  place.edit("parts.yaml", "teeth: {from: 12, to: 16}", "teeth: [12, 13, 14, 15, 16]");
  place.edit("parts.yaml", "current: {battery: 200 A, motor: 320 A}",
             "current: {battery: 200 A, motor: 320 A, for: 1 min}");
  const Json answer = checked(place, 0);
  for (const Json& part : answer["parts"]) EXPECT_EQ(part["state"], "same") << part;
  EXPECT_EQ(one_of(answer["files"], "role", "parts")["state"], "changed");
}

TEST(Check, NamesTheFieldAndWhatItDoes) {
  const Workplace place;
  lock(place);
  place.edit("parts.yaml", "price: 520", "price: 500");
  place.edit("parts.yaml", "price: 160", "price: 175.5");
  const Json answer = checked(place, 0);
  const Json motor = one_of(answer["parts"], "name", "alder-4");
  EXPECT_EQ(motor["state"], "changed");
  EXPECT_EQ(motor["changes"], Json::parse(R"([{"field": "price", "from": "520", "to": "500"}])"));
  const Json price = one_of(answer["figures"], "key", "price");
  EXPECT_NEAR(price["now"].get<double>() - price["then"].get<double>(), -20 + 15.5, 1e-9);
  EXPECT_EQ(price["by_model"], price["then"]);
  EXPECT_FALSE(price["beyond"]);
}

TEST(Check, AnswersNoWhenAFigureMovesBeyondItsTolerance) {
  const Workplace place;
  lock(place);
  place.edit("parts.yaml", "price: 520", "price: 600");
  EXPECT_TRUE(one_of(checked(place, 1)["figures"], "key", "price")["beyond"]);
  lock(place, {"--tolerance", "price=81"});
  place.edit("parts.yaml", "price: 600", "price: 680");
  EXPECT_FALSE(one_of(checked(place, 0)["figures"], "key", "price")["beyond"]);
  place.edit("parts.yaml", "price: 680", "price: 682");
  EXPECT_TRUE(one_of(checked(place, 1)["figures"], "key", "price")["beyond"]);
  place.edit("bike.lock.yaml", "all: 2 %, price: 81", "all: 10 %");
  EXPECT_FALSE(one_of(checked(place, 0)["figures"], "key", "price")["beyond"]);
}

TEST(Check, AnswersNoWhenARuleBreaks) {
  const Workplace place;
  lock(place, {"--tolerance", "1000 %"});
  place.edit("parts.yaml", "max_voltage: 80 V", "max_voltage: 58 V");
  const Json answer = checked(place, 1);
  const Json rule = one_of(answer["rules"], "rule", "motor voltage");
  EXPECT_EQ(rule["then"]["outcome"], "holds");
  EXPECT_EQ(rule["now"]["outcome"], "broken");
  EXPECT_NEAR(rule["now"]["margin"].get<double>(), -0.4, 1e-9);
  EXPECT_NEAR(rule["then"]["margin"].get<double>(), 21.6, 1e-9);
  EXPECT_TRUE(contains(run({"check", place.file("bike.lock.yaml")}).out, "BROKEN"));
}

TEST(Check, NamesARenamedPartAndComputesItAsItWas) {
  const Workplace place;
  lock(place);
  place.edit("parts.yaml", "id: gate-x", "id: barrier-9");
  const Json answer = checked(place, 1);
  const Json part = one_of(answer["parts"], "name", "gate-x");
  EXPECT_EQ(part["state"], "gone");
  EXPECT_EQ(part["nearest"], "barrier-9");
  EXPECT_TRUE(part["renamed"]);
  EXPECT_EQ(part["stand_ins"][0]["part"], "barrier-9");
  EXPECT_EQ(part["stand_ins"][0]["movement_percent"], 0);
  for (const Json& figure : answer["figures"]) EXPECT_EQ(figure["then"], figure["now"]);
}

TEST(Check, RanksStandInsByHowLittleTheFiguresMove) {
  const Workplace place;
  lock(place);
  place.edit("parts.yaml", "id: flint-60,", "id: flint-66,");
  place.edit("parts.yaml", "capacity: 60 Ah, resistance: 1 mohm",
             "capacity: 62 Ah, resistance: 1 mohm");
  const Json part = one_of(checked(place, 1)["parts"], "name", "flint-60");
  EXPECT_EQ(part["nearest"], "flint-66");
  EXPECT_FALSE(part["renamed"]);
  ASSERT_GE(part["stand_ins"].size(), 2U);
  EXPECT_EQ(part["stand_ins"][0]["part"], "flint-66x16s1p");
  double last = 0;
  bool broken = false;
  for (const Json& stand_in : part["stand_ins"]) {
    if (!broken && !stand_in["rejected_by"].empty()) {
      broken = true;
      last = 0;
    }
    EXPECT_EQ(broken, !stand_in["rejected_by"].empty());
    EXPECT_GE(stand_in["movement_percent"].get<double>(), last);
    last = stand_in["movement_percent"].get<double>();
    // Each is what `evaluate` makes of it.
    const Json other = json_of({"evaluate", place.bike(), "--pick", stand_in["design"], "--format",
                                "json", "--set", "choose.pack.cells=[flint-66]"},
                               stand_in["rejected_by"].empty() ? 0 : 1);
    EXPECT_EQ(other["design"]["rejected_by"], stand_in["rejected_by"]);
  }
}

TEST(Check, LeavesAPartThatIsOwnedInPeace) {
  const Workplace place;
  lock(place, {"--set", "owned=[alder-4]"});
  place.edit("parts.yaml", "id: alder-4", "id: elm-4");
  const Json answer = checked(place, 0);
  EXPECT_EQ(one_of(answer["parts"], "name", "alder-4")["state"], "gone");
  EXPECT_TRUE(one_of(answer["parts"], "name", "alder-4")["owned"]);
}

TEST(Check, NoticesATeethCountThatIsNoLongerSold) {
  const Workplace place;
  lock(place);
  place.edit("parts.yaml", "teeth: {from: 48, to: 68}", "teeth: {from: 48, to: 59}");
  const Json part = one_of(checked(place, 1)["parts"], "name", "large-420");
  EXPECT_EQ(part["state"], "gone");
  EXPECT_EQ(part["missing"], "60 teeth");
  EXPECT_EQ(part["stand_ins"][0]["part"], "large-420:59");
}

// Accepting keeps the sprocket as it was locked, so the lock can still be read and tells it again.
TEST(Check, OutlivesAcceptingAToothCountThatIsNoLongerSold) {
  const Workplace place;
  lock(place);
  place.edit("parts.yaml", "teeth: {from: 48, to: 68}", "teeth: [58, 59, 61, 62]");
  EXPECT_EQ(run({"check", place.file("bike.lock.yaml"), "--accept"}).code, 1);
  const Json part = one_of(checked(place, 1)["parts"], "name", "large-420");
  EXPECT_EQ(part["missing"], "60 teeth");
  // One tooth fewer and one more are as near.
  std::set<std::string> offered;
  for (const Json& stand_in : part["stand_ins"]) offered.insert(stand_in["part"]);
  EXPECT_TRUE(offered.contains("large-420:59"));
  EXPECT_TRUE(offered.contains("large-420:61"));
}

TEST(Check, CountsARenamedExtraOnce) {
  const Workplace place;
  place.edit("parts.yaml", "full_voltage: {min: 60 V}}, mass: 0.4 kg",
             "full_voltage: {min: 50 V}}, mass: 0.4 kg");
  lock(place);
  place.edit("parts.yaml", "id: breaker-70", "id: breaker-seventy");
  const Json answer = checked(place, 1);
  EXPECT_EQ(one_of(answer["parts"], "name", "breaker-70")["state"], "gone");
  EXPECT_EQ(answer["extras_added"], Json::parse(R"(["breaker-seventy"])"));
  const Json price = one_of(answer["figures"], "key", "price");
  EXPECT_EQ(price["then"], price["now"]);
  EXPECT_EQ(run({"check", place.file("bike.lock.yaml"), "--accept"}).code, 0);
  checked(place, 0);
}

TEST(Check, NoticesExtrasThatComeAndGo) {
  const Workplace place;
  lock(place);
  place.edit("parts.yaml", "full_voltage: {min: 60 V}}, mass: 0.4 kg",
             "full_voltage: {min: 50 V}}, mass: 0.4 kg");
  EXPECT_EQ(checked(place, 1)["extras_added"], Json::parse(R"(["breaker-70"])"));
  EXPECT_EQ(run({"check", place.file("bike.lock.yaml"), "--accept"}).code, 0);
  EXPECT_EQ(checked(place, 0)["extras_added"], Json::array());
  place.edit("parts.yaml", "full_voltage: {min: 50 V}}", "full_voltage: {min: 60 V}}");
  EXPECT_EQ(checked(place, 1)["extras_dropped"], Json::parse(R"(["breaker-70"])"));
}

TEST(Check, SeesPartsThatMovedToACsvFile) {
  const Workplace place;
  lock(place);
  place.edit(
      "parts.yaml",
      "chargers:\n  - {id: well-15, chemistries: [lfp], full_voltage: {min: 48 V, max: 74 V}, "
      "current: 15 A, mass: 3 kg, price: 160}\n",
      "chargers: chargers.csv\n");
  place.write("chargers.csv",
              "id,chemistries,full_voltage.min,full_voltage.max,current,mass,price\n"
              "well-15,[lfp],48 V,74 V,15 A,3 kg,160\n");
  EXPECT_EQ(one_of(checked(place, 0)["parts"], "name", "well-15")["state"], "same");
}

// Accepting cannot bring a part back: the command that takes up its stand-in is what helps.
TEST(Check, NamesTheCommandThatPutsAStandInInThePlaceOfWhatIsGone) {
  const Workplace place;
  lock(place);
  place.edit("parts.yaml", "id: gate-x", "id: gate-y");
  const Outcome outcome = run({"check", place.file("bike.lock.yaml")});
  EXPECT_EQ(outcome.code, 1);
  EXPECT_FALSE(contains(outcome.out, "--accept")) << outcome.out;
  const std::string other =
      "alder-4/gate-y/flint-60x16s1p/well-15/pull-420/small-420:14/large-420:60";
  EXPECT_TRUE(contains(outcome.out, "To go on with gate-y in its place:")) << outcome.out;
  EXPECT_TRUE(contains(outcome.out, "--pick " + other)) << outcome.out;
  const Outcome accepted = run({"check", place.file("bike.lock.yaml"), "--accept"});
  EXPECT_TRUE(contains(accepted.err, "is told again")) << accepted.err;
  EXPECT_EQ(run({"check", place.file("bike.lock.yaml")}).code, 1);
  EXPECT_EQ(run({"lock", place.bike(), "--pick", other, "-o", place.file("bike.lock.yaml")}).code,
            0);
  EXPECT_EQ(run({"check", place.file("bike.lock.yaml")}).code, 0);
}

// The requirement's file is compared by what it asks.
TEST(Check, TellsWhatTheRequirementAsksDifferently) {
  const Workplace place;
  lock(place, {"--set", "rider.mass=90 kg"});
  const auto requirement = [&] {
    return one_of(checked(place, 0)["files"], "role", "requirement");
  };
  EXPECT_FALSE(requirement().contains("changes"));
  place.edit("bike.yaml", "mass: 90 kg", "mass: 90000 g  # the same");
  EXPECT_EQ(requirement()["state"], "changed");
  EXPECT_EQ(requirement()["changes"], Json::array());
  EXPECT_TRUE(contains(run({"check", place.file("bike.lock.yaml")}).out, "but asks the same"));
  place.edit("bike.yaml", "mass: 90000 g", "mass: 93 kg");
  EXPECT_EQ(requirement()["changes"],
            Json::parse(R"([{"field": "bike.mass", "from": "90 kg", "to": "93 kg"}])"));
  const Outcome text = run({"check", place.file("bike.lock.yaml")});
  EXPECT_EQ(text.code, 0);
  EXPECT_TRUE(contains(text.out, "    bike.mass was 90 kg, is 93 kg\n")) << text.out;
  EXPECT_TRUE(contains(text.out, "--set 'rider.mass=90 kg' --pick ")) << text.out;
  place.write("bike.yaml", "bike: [");
  EXPECT_FALSE(requirement().contains("changes"));
}

// The lock keeps its own requirement, so accepting must not hide that the file asks something else.
TEST(Check, GoesOnTellingAChangedRequirementAfterAccepting) {
  const Workplace place;
  lock(place);
  const Words accept = {"check", place.file("bike.lock.yaml"), "--accept"};
  place.edit("bike.yaml", "mass: 90 kg", "mass: 93 kg");
  EXPECT_EQ(run(accept).code, 0);
  const Outcome text = run({"check", place.file("bike.lock.yaml")});
  EXPECT_TRUE(contains(text.out, "    bike.mass was 90 kg, is 93 kg\n")) << text.out;
  EXPECT_TRUE(
      contains(text.out, "check " + place.file("bike.lock.yaml") + " --set 'bike.mass=93 kg'\n"))
      << text.out;
  // Another writing of the same is taken over.
  place.edit("bike.yaml", "mass: 93 kg", "mass: 90.0 kg");
  EXPECT_EQ(run(accept).code, 0);
  EXPECT_EQ(one_of(checked(place, 0)["files"], "role", "requirement")["state"], "same");
}

// What another part breaks is not held against the part that takes the place of a gone one.
TEST(Check, HoldsAgainstAStandInOnlyWhatItBreaksItself) {
  const Workplace place;
  lock(place, {"--tolerance", "1000 %"});
  place.edit("parts.yaml", "id: gate-x", "id: gate-y");
  place.edit("parts.yaml", "max_voltage: 80 V", "max_voltage: 58 V");
  const Json stand_in = one_of(checked(place, 1)["parts"], "name", "gate-x")["stand_ins"][0];
  EXPECT_EQ(stand_in["part"], "gate-y");
  EXPECT_EQ(stand_in["rejected_by"], Json::parse(R"(["motor voltage"])"));
  EXPECT_EQ(stand_in["breaks"], Json::array());
  const Outcome text = run({"check", place.file("bike.lock.yaml")});
  EXPECT_FALSE(contains(text.out, "but it breaks")) << text.out;
  EXPECT_TRUE(contains(text.out,
                       "To go on with gate-y in its place, though it does not mend what is BROKEN"))
      << text.out;
}

TEST(Check, OffersOnlyWhatHelps) {
  const Workplace place;
  lock(place);
  const Words check = {"check", place.file("bike.lock.yaml")};
  const std::string offer = "--accept\n";
  place.edit("parts.yaml", "price: 520", "price: 700");
  EXPECT_TRUE(contains(run(check).out, offer));
  // Asked otherwise, it is locking that takes it up.
  const Outcome asked = run(words(check, {"--set", "rider.mass=85 kg"}));
  EXPECT_FALSE(contains(asked.out, offer)) << asked.out;
  EXPECT_TRUE(contains(
      asked.out, "sprocketry lock " + place.bike() + " --set 'rider.mass=85 kg' --pick " + kDesign))
      << asked.out;
  // Broken it stays.
  place.edit("parts.yaml", "max_voltage: 80 V", "max_voltage: 58 V");
  EXPECT_FALSE(contains(run(check).out, offer));
  const Outcome accepted = run(words(check, {"--accept"}));
  EXPECT_FALSE(contains(accepted.out, offer)) << accepted.out;
  EXPECT_TRUE(contains(accepted.err, "a rule that is broken stays broken")) << accepted.err;
}

TEST(Check, BlamesTheLockOnlyForWhatIsWrongWithIt) {
  const Workplace place;
  lock(place);
  place.edit("parts.yaml", "max_voltage: 80 V", "max_voltage: 80 kg");
  const Outcome outcome = run({"check", place.file("bike.lock.yaml")});
  EXPECT_EQ(outcome.code, 2);
  EXPECT_TRUE(contains(outcome.err, "the lock is sound")) << outcome.err;
  EXPECT_FALSE(contains(outcome.err, "anew")) << outcome.err;
}

TEST(Check, CountsMoneyInCents) {
  const Workplace place;
  lock(place);
  place.edit("parts.yaml", "price: 520", "price: 520.37");
  const Outcome outcome = run({"check", place.file("bike.lock.yaml")});
  EXPECT_TRUE(contains(outcome.out, "1969.60  1969.97  EUR")) << outcome.out;
}

TEST(Check, AcceptsWhatIs) {
  const Workplace place;
  lock(place, {"--tolerance", "1 %", "--tolerance", "range_km=3 %"});
  place.edit("parts.yaml", "price: 520", "price: 700");
  const std::string before = read_file(place.file("bike.lock.yaml"));
  EXPECT_EQ(run({"check", place.file("bike.lock.yaml")}).code, 1);
  EXPECT_EQ(read_file(place.file("bike.lock.yaml")), before);
  const Json answer = checked(place, 0, {"--accept"});
  EXPECT_FALSE(answer["holds"]);
  const Json after = checked(place, 0);
  EXPECT_TRUE(after["holds"]);
  EXPECT_EQ(one_of(after["files"], "role", "parts")["state"], "same");
  EXPECT_TRUE(contains(read_file(place.file("bike.lock.yaml")), "{all: 1 %, range_km: 3 %}"));
  // Accepting again changes nothing.
  const std::string accepted = read_file(place.file("bike.lock.yaml"));
  EXPECT_EQ(run({"check", place.file("bike.lock.yaml"), "--accept"}).code, 0);
  EXPECT_EQ(read_file(place.file("bike.lock.yaml")), accepted);
}

TEST(Check, LoadsALockOfAnOlderProgram) {
  const Workplace place;
  lock(place);
  std::string text = read_file(place.file("bike.lock.yaml"));
  const auto replace = [&](const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    ASSERT_NE(at, std::string::npos) << from;
    text.replace(at, from.size(), to);
  };
  replace("model: ", "model: 0.0.7 #");
  replace("  keeps_up_percent:", "  spirit_level_mm: 3\n  keeps_upright_percent:");
  replace("rule: charger chemistry", "rule: charger mood");
  place.write("bike.lock.yaml", text);
  const Json answer = checked(place, 0);
  EXPECT_EQ(answer["locked_by"], "0.0.7");
  EXPECT_EQ(one_of(answer["figures"], "key", "spirit_level_mm")["now"], nullptr);
  EXPECT_EQ(one_of(answer["figures"], "key", "keeps_up_percent")["then"], nullptr);
  EXPECT_EQ(one_of(answer["rules"], "rule", "charger mood")["now"], nullptr);
  EXPECT_EQ(one_of(answer["rules"], "rule", "charger chemistry")["then"], nullptr);
  const Outcome words = run({"check", place.file("bike.lock.yaml")});
  EXPECT_TRUE(contains(words.out, "no longer computed")) << words.out;
}

TEST(Check, TellsThePartsDoingFromThePrograms) {
  const Workplace place;
  lock(place);
  std::string text = read_file(place.file("bike.lock.yaml"));
  const std::size_t at = text.find("range_km: ");
  text.replace(at, text.find('\n', at) - at, "range_km: 50");
  place.write("bike.lock.yaml", text);
  const Json figure = one_of(checked(place, 1)["figures"], "key", "range_km");
  EXPECT_EQ(figure["then"], 50);
  EXPECT_EQ(figure["by_model"], figure["now"]);
  EXPECT_TRUE(contains(run({"check", place.file("bike.lock.yaml")}).out, "the program's doing"));
}

TEST(Check, SaysExactlyWhatToDoAboutALockItCannotRead) {
  const Workplace place;
  lock(place, {"--set", "rider.mass=90 kg"});
  const std::string text = read_file(place.file("bike.lock.yaml"));
  const auto refused = [&](const std::string& from, const std::string& to) {
    std::string other = text;
    const std::size_t at = other.find(from);
    EXPECT_NE(at, std::string::npos) << from;
    other.replace(at, from.size(), to);
    place.write("other.lock.yaml", other);
    const Outcome outcome = run({"check", place.file("other.lock.yaml")});
    EXPECT_EQ(outcome.code, 2) << from;
    EXPECT_EQ(outcome.out, "") << from;
    return outcome.err;
  };
  const std::string command = "sprocketry lock " + place.bike() +
                              " --set 'rider.mass=90 kg' --pick " + kDesign + " -o " +
                              place.file("other.lock.yaml");
  EXPECT_TRUE(contains(refused("sprocketry_lock: 2", "sprocketry_lock: 3"), command));
  EXPECT_TRUE(contains(refused("sprocketry_lock: 2", "sprocketry_lock: 0"), command));
  EXPECT_TRUE(contains(refused("  rider: {mass: 90 kg}", "  driver: {mass: 90 kg}"), command));
  EXPECT_TRUE(contains(refused("outcome: holds", "outcome: fine"), "no outcome is called `fine`"));
  EXPECT_TRUE(contains(refused("all: 2 %", "all: some"), "is no tolerance"));
  EXPECT_TRUE(contains(refused("\ntolerances:", "\ntolerance:"), "unknown key `tolerance`"));
  EXPECT_TRUE(contains(refused("parts: [parts.yaml]", "parts: [gone.yaml]"), "gone.yaml"));
  EXPECT_TRUE(contains(run({"check", place.bike()}).err, "this is not a lock"));
  EXPECT_EQ(run({"check", place.file("nothing.yaml")}).code, 2);
}

TEST(Check, TellsALockThatIsNoLongerYaml) {
  const Workplace place;
  lock(place);
  const std::string text = read_file(place.file("bike.lock.yaml"));
  const std::size_t inside = text.find("{rule: ") + 5;
  for (const std::string& damaged : {std::string(), text.substr(0, inside)}) {
    place.write("cut.lock.yaml", damaged);
    const Outcome outcome = run({"check", place.file("cut.lock.yaml")});
    EXPECT_EQ(outcome.code, 2);
    EXPECT_TRUE(contains(outcome.err, "cut.lock.yaml is damaged, or is no lock")) << outcome.err;
    EXPECT_TRUE(
        contains(outcome.err, "or write it anew: sprocketry lock REQUIREMENT --pick DESIGN"))
        << outcome.err;
  }
}

// Cut off between two lines a lock is still YAML.
TEST(Check, TellsALockThatWasCutOff) {
  const Workplace place;
  lock(place);
  const std::string text = read_file(place.file("bike.lock.yaml"));
  int told = 0;
  for (std::size_t end = text.rfind('\n', text.size() - 2); told < 3;
       end = text.rfind('\n', end - 1)) {
    place.write("cut.lock.yaml", text.substr(0, end + 1));
    const Outcome outcome = run({"check", place.file("cut.lock.yaml")});
    EXPECT_EQ(outcome.code, 2) << end;
    EXPECT_TRUE(contains(outcome.err, "the lock is damaged: its last line")) << outcome.err;
    ++told;
  }
}

TEST(Check, ReadsALockWithoutTheLastLineOfTheFormatBefore) {
  const Workplace place;
  lock(place);
  std::string text = read_file(place.file("bike.lock.yaml"));
  const auto replace = [&](const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    ASSERT_NE(at, std::string::npos) << from;
    text.replace(at, from.size(), to);
  };
  replace("sprocketry_lock: 2", "sprocketry_lock: 1");
  replace("\nend: whole", "");
  place.write("bike.lock.yaml", text);
  EXPECT_EQ(run({"check", place.file("bike.lock.yaml")}).code, 0);
}

// What comes from the wall is locked too.
TEST(Check, TellsWhatAWorseChargerCosts) {
  const Workplace place;
  lock(place);
  place.edit("parts.yaml", "current: 15 A,", "current: 15 A, efficiency: 60 %,");
  const Json answer = checked(place, 1);
  const Json figure = one_of(answer["figures"], "key", "wall_consumption_wh_km");
  EXPECT_EQ(figure["beyond"], true) << figure;
  EXPECT_NEAR(figure["now"].get<double>() / figure["then"].get<double>(), 0.9 / 0.6, 1e-9);
}

TEST(Check, AsksWhatWouldBeWithAnotherRequirement) {
  const Workplace place;
  lock(place);
  const Json same = checked(place, 0);
  const Json farther = checked(place, 1, {"--set", "must.range.min=900 km"});
  EXPECT_FALSE(farther["holds"]);
  const Json range = one_of(farther["rules"], "rule", "must range");
  EXPECT_EQ(range["now"]["limit"], 900);
  EXPECT_LT(range["now"]["margin"], 0);
  // Colder cells move figures, against the lock as it stands.
  const Json cold = checked(place, 1, {"--set", "conditions.pack.temperature=0 degC"});
  EXPECT_LT(one_of(cold["figures"], "key", "range_km")["now"],
            one_of(same["figures"], "key", "range_km")["now"]);
  EXPECT_EQ(checked(place, 0), same);
  const Words file = {"check", place.file("bike.lock.yaml")};
  const Outcome wrong = run(words(file, {"--set", "must.range.min=900 kg"}));
  EXPECT_EQ(wrong.code, 2);
  EXPECT_TRUE(contains(wrong.err, "--set")) << wrong.err;
  const Outcome both = run(words(file, {"--set", "rider.mass=90 kg", "--accept"}));
  EXPECT_EQ(both.code, 2);
  EXPECT_TRUE(contains(both.err, "--accept")) << both.err;
}

}  // namespace
}  // namespace sprocketry::test::tiny
