#include <gtest/gtest.h>

#include "evaluate_support.hpp"
#include "load_support.hpp"
#include "model/heat.hpp"

// What a requirement says of the pack's day, of charging and of the legal class.
namespace sprocketry::test {
namespace {

std::string with(std::string_view lines) {
  return std::string(kTinyRequirement) + std::string(lines);
}

std::string with_class(std::string_view text) {
  return edited(kTinyRequirement, "must:\n", "must:\n  vehicle_class: " + std::string(text) + "\n");
}

TEST(PackDay, IsReadInSi) {
  Loaded loaded;
  load_into(loaded, with("conditions: {pack: {temperature: -5 degC, health: 85 %}}\n"), kTinyParts);
  EXPECT_LOADS(loaded);
  EXPECT_DOUBLE_EQ(loaded.requirement().conditions.pack.temperature, 268.15);
  EXPECT_EQ(loaded.requirement().conditions.pack.health, 0.85);
}

TEST(PackDay, RefusesWhatNoPackIs) {
  for (const char* wrong : {"{temperature: -60 degC}", "{temperature: 300}", "{health: 120 %}",
                            "{health: 20 %}", "{helth: 90 %}", "cold"}) {
    Loaded loaded;
    load_into(loaded, with("conditions: {pack: " + std::string(wrong) + "}\n"), kTinyParts);
    EXPECT_FALSE(loaded.job) << wrong;
    EXPECT_NE(loaded.text().find("bike.yaml:10:"), std::string::npos) << loaded.text();
  }
}

TEST(PackDay, ChangesTheRangeOfEveryDesign) {
  const Evaluated fresh(kTinyRequirement, kTinyParts);
  const Evaluated cold(with("conditions: {pack: {temperature: 0 degC}}\n"), kTinyParts);
  // lfp at 0 degC: 85 % of the capacity (the chemistry's default); more is lost to resistance.
  const double share =
      cold.design().metrics.performance.range / fresh.design().metrics.performance.range;
  EXPECT_LT(share, 0.85);
  EXPECT_GT(share, 0.80);
  EXPECT_LE(cold.design().metrics.performance.top_speed,
            fresh.design().metrics.performance.top_speed);
  // The same day, asked for as one of the four.
  EXPECT_EQ(fresh.days()[1].design.metrics.performance.range,
            cold.design().metrics.performance.range);
  EXPECT_EQ(cold.days()[0].design.metrics.performance.range,
            fresh.design().metrics.performance.range);
}

TEST(PackDay, BelowFreezingLithiumIsNotToBeCharged) {
  const Evaluated frost(with("conditions: {pack: {temperature: -1 degC}}\n"), kTinyParts);
  EXPECT_EQ(outcome(frost.row("cold charging")), "fails");
  EXPECT_EQ(frost.row("cold charging").kind, rules::Kind::kCaution);
  const Evaluated mild(with("conditions: {pack: {temperature: 0 degC}}\n"), kTinyParts);
  for (const rules::Row& row : mild.design().rows) EXPECT_NE(row.rule, "cold charging");
}

TEST(Charging, OutletAndPriceAreReadInSi) {
  Loaded loaded;
  load_into(loaded, with("charging: {outlet: 2.3 kW, price_per_kwh: 0.32}\n"), kTinyParts);
  EXPECT_LOADS(loaded);
  EXPECT_EQ(loaded.requirement().charging.outlet_power, 2300);
  EXPECT_EQ(loaded.requirement().charging.energy_price, parts::kMoneyUnit * 32 / 100);
}

std::string with_charger(std::string_view parts) {
  return std::string(parts) +
         "chargers:\n  - {id: well-58, chemistries: [lfp], full_voltage: {min: 50 V, max: 60 V}, "
         "current: 20 A, price: 150}\n";
}

TEST(Charging, OfTheDesignCostsWhatTheWallGives) {
  const Evaluated design(with("charging: {price_per_kwh: 0.5}\n"), with_charger(kTinyParts));
  ASSERT_TRUE(design.design().charging);
  const search::Charging& c = *design.design().charging;
  const double range = design.design().metrics.performance.range;
  // The tail's last current leaves less than a thousandth of the window empty.
  EXPECT_NEAR(c.wall_consumption * range, c.charge.wall_energy, 2e-3 * c.charge.wall_energy);
  EXPECT_NEAR(c.cost_per_distance, c.wall_consumption / 3.6e6 * 0.5, 1e-15);
  // What the wall gives is more than what the pack gives on the ride.
  EXPECT_GT(c.wall_consumption, design.design().metrics.performance.consumption);
  EXPECT_EQ(outcome(design.row("charge reaches the top")), "holds");
}

// A cell charged to less than its curve's top is filled in part: what is ridden on that is what a
// pack with so much less of a window goes.
TEST(Charging, ToLessThanFullIsPaidForTheDistanceThatItGives) {
  const std::string gentle = with_charger(edited(
      kTinyParts, "    capacity: 100 Ah\n", "    capacity: 100 Ah\n    full_voltage: 3.33 V\n"));
  const Evaluated partly(kTinyRequirement, gentle);
  ASSERT_TRUE(partly.design().charging);
  const search::Charging& c = *partly.design().charging;
  ASSERT_GT(c.charge.state_of_charge, 0.3);
  ASSERT_LT(c.charge.state_of_charge, 0.95);
  EXPECT_EQ(outcome(partly.row("charge reaches the top")), "fails");
  EXPECT_EQ(partly.row("charge reaches the top").kind, rules::Kind::kCaution);
  const std::string usable =
      "    usable: {from: " + std::to_string(100 * c.charge.state_of_charge) + " %, to: 15 %}\n";
  const Evaluated narrow(kTinyRequirement, edited(gentle, "    full_voltage: 3.33 V\n",
                                                  "    full_voltage: 3.33 V\n" + usable));
  const double range = narrow.design().metrics.performance.range;
  EXPECT_NEAR(c.wall_consumption * range, c.charge.wall_energy, 1e-5 * c.charge.wall_energy);
}

Evaluated charged_within(const std::string& hours, const std::string& outlet) {
  return {edited(with("charging: {outlet: " + outlet + "}\n"), "must:\n",
                 "must:\n  charge_time: {max: " + hours + " h}\n"),
          with_charger(kTinyParts)};
}

// 85 Ah of 16 cells of 3.2 V; the charger gives 20 A, or what 90 % of the outlet's power is at the
// nominal voltage.
TEST(Charging, TakesAsLongAsTheOutletLets) {
  const Evaluated strong = charged_within("6", "3 kW");
  EXPECT_NEAR(strong.design().metrics.charge_time, 85.0 / 20.0 * 3600, 1e-6);
  EXPECT_EQ(outcome(strong.row("must charge_time")), "holds");
  const Evaluated weak = charged_within("6", "0.3 kW");
  EXPECT_NEAR(weak.design().metrics.charge_time, 85.0 / (300 * 0.9 / 51.2) * 3600, 1e-6);
  EXPECT_EQ(outcome(weak.row("must charge_time")), "fails");
}

// The demand leaves out the tail; who asks for hardly more than the bulk takes is told.
TEST(Charging, WithATailBeyondTheDemandIsACaution) {
  EXPECT_EQ(outcome(charged_within("5", "3 kW").row("charge time from the wall")), "holds");
  const Evaluated tight = charged_within("4.251", "3 kW");
  EXPECT_EQ(outcome(tight.row("must charge_time")), "holds");
  EXPECT_EQ(outcome(tight.row("charge time from the wall")), "fails");
  EXPECT_EQ(tight.row("charge time from the wall").kind, rules::Kind::kCaution);
}

// Regulation (EU) 168/2013, Annex I, from memory: L1e-B 45 km/h and 4 kW; L3e-A1 11 kW and 0.1
// kW/kg.
TEST(VehicleClass, NamesTheLimitsOfTheRegulation) {
  Loaded moped;
  load_into(moped, with_class("L1e-B"), kTinyParts);
  EXPECT_LOADS(moped);
  EXPECT_EQ(moped.requirement().must.vehicle_class->top_speed, 12.5);
  EXPECT_EQ(moped.requirement().must.vehicle_class->power, 4000);
  Loaded light;
  load_into(light, with_class("L3e-A1"), kTinyParts);
  EXPECT_LOADS(light);
  EXPECT_EQ(light.requirement().must.vehicle_class->top_speed, std::nullopt);
  EXPECT_EQ(light.requirement().must.vehicle_class->power, 11000);
  EXPECT_EQ(light.requirement().must.vehicle_class->power_per_mass, 100);
}

TEST(VehicleClass, RefusesWhatIsNone) {
  for (const char* wrong : {"L9e", "{name: own}", "{name: own, power: 4}", "{power: 4 kW}",
                            "{name: own, power: 4 kW, mass: 90 kg}", "[L1e-B]",
                            "{name: own, power_per_mass: 0.1 kW}"}) {
    Loaded loaded;
    load_into(loaded, with_class(wrong), kTinyParts);
    EXPECT_FALSE(loaded.job) << wrong;
    EXPECT_NE(loaded.text().find("bike.yaml:9:"), std::string::npos) << loaded.text();
  }
}

// Each limit just inside and just outside what the design does.
TEST(VehicleClass, IsKeptToTheLimit) {
  const Evaluated plain(kTinyRequirement, kTinyParts);
  const search::Design& d = plain.design();
  const double speed = d.metrics.performance.top_speed_full * 3.6;
  const double power = d.torque.continuous_power;
  const double per_mass = power / (d.metrics.mass - d.parts.pack->mass);
  struct Case {
    const char* rule;
    std::string key;
    double value;
    const char* unit;
  };
  for (const Case& c : {Case{"must class speed", "top_speed", speed, "km/h"},
                        Case{"must class power", "power", power, "W"},
                        Case{"must class power per mass", "power_per_mass", per_mass, "W/kg"}}) {
    for (const double side : {-1e-6, 1e-6}) {
      const std::string limit = std::to_string(c.value * (1 + side) + (side > 0 ? 1e-5 : -1e-5));
      const Evaluated limited(
          with_class("{name: own, " + c.key + ": " + limit + ' ' + c.unit + "}"), kTinyParts);
      EXPECT_EQ(outcome(limited.row(c.rule)), side > 0 ? "holds" : "fails") << c.rule;
    }
  }
}

// A law knows no cold, old or half empty pack, and no headwind.
TEST(VehicleClass, IsJudgedWithThePackAtItsBest) {
  const std::string limits =
      "{name: own, top_speed: 40 km/h, power: 2 kW, power_per_mass: 20 W/kg}";
  const Evaluated best(with_class(limits), kTinyParts);
  const Evaluated poor(with_class(limits) +
                           "conditions: {pack: {temperature: -10 degC, health: 70 %}, "
                           "state_of_charge: 40 %, headwind: 8 m/s}\n",
                       kTinyParts);
  EXPECT_LT(poor.design().metrics.performance.top_speed,
            0.9 * best.design().metrics.performance.top_speed);
  for (const char* rule : {"must class speed", "must class power", "must class power per mass"}) {
    EXPECT_EQ(outcome(best.row(rule)), "fails");
    EXPECT_DOUBLE_EQ(poor.row(rule).value, best.row(rule).value) << rule;
  }
  EXPECT_LT(poor.design().peak_power, best.design().peak_power);
}

// A speed that the class forbids has no time to reach it.
TEST(VehicleClass, EndsTheTimeFromRestBelowItsSpeed) {
  const auto to = [](const std::string& vehicle_class) {
    Loaded loaded;
    load_into(loaded, with_class(vehicle_class), kTinyParts);
    EXPECT_EQ(loaded.text(), "");
    return loaded.requirement().pull_away_to * 3.6;
  };
  EXPECT_NEAR(to("L1e-B"), 40, 1e-9);
  EXPECT_NEAR(to("L3e-A1"), 50, 1e-9);
  EXPECT_NEAR(to("{name: own, top_speed: 25 km/h}"), 20, 1e-9);
  EXPECT_NEAR(to("{name: own, top_speed: 90 km/h}"), 50, 1e-9);
}

// At its best the motor makes what the data sheet's constant says, whatever it does when warm.
TEST(Magnet, ThatWeakensLeavesThePeakTorqueAndRaisesTheFreeSpeed) {
  const Evaluated same(with("conditions: {winding: 100 degC, air: 25 degC}\n"), kTinyParts);
  const Evaluated ferrite(
      with("conditions: {winding: 100 degC, air: 25 degC}\n"),
      edited(kTinyParts, "    kind: brushed\n", "    kind: brushed\n    magnet: ferrite\n"));
  EXPECT_DOUBLE_EQ(ferrite.design().torque.peak, same.design().torque.peak);
  EXPECT_LT(ferrite.design().torque.continuous, same.design().torque.continuous);
  // 62 rpm/V at 58.4 V, and more by what the magnets have lost.
  const auto rpm = [](const Evaluated& e) { return e.row("unloaded motor speed").value; };
  const double full = same.design().parts.pack->model.full_voltage;
  EXPECT_NEAR(rpm(same), 62 * full, 1e-6);
  const model::Motor& motor = ferrite.design().parts.motor->model;
  const double magnets = model::settled_at(motor, 373.15, 298.15).body;
  EXPECT_NEAR(rpm(ferrite), 62 * full / (1 - 0.002 * (magnets - 298.15)), 1e-6);
}

// What the motor does with the pack full and new shows as a caution where the day hides it.
TEST(TopSpeed, WithAFullPackIsACautionOfItsOwn) {
  const std::string day = "conditions: {state_of_charge: 30 %, pack: {health: 80 %}}\n";
  const Evaluated e(with(day), kTinyParts);
  const rules::Row on_day = e.row("motor speed");
  const rules::Row full = e.row("motor speed, full pack");
  EXPECT_EQ(full.kind, rules::Kind::kCaution);
  EXPECT_GT(full.value, on_day.value);
  const Evaluated filled(with("conditions: {state_of_charge: 100 %}\n"), kTinyParts);
  EXPECT_NEAR(full.value, filled.row("motor speed").value, 1e-6 * full.value);
}

TEST(Magnet, ThatWeakensTurnsFasterAndDrawsMore) {
  const Evaluated same(with("cruise: [40 km/h]\n"), kTinyParts);
  const Evaluated warm(
      with("cruise: [40 km/h]\n"),
      edited(kTinyParts, "    kind: brushed\n", "    kind: brushed\n    magnet: ferrite\n"));
  EXPECT_GT(warm.design().metrics.performance.cruise[0].motor_current,
            same.design().metrics.performance.cruise[0].motor_current);
  Loaded wrong;
  load_into(wrong, kTinyRequirement,
            edited(kTinyParts, "    kind: brushed\n", "    kind: brushed\n    magnet: iron\n"));
  EXPECT_FALSE(wrong.job);
}

TEST(Cell, TakesWhatColdDoesToIt) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement,
            edited(kTinyParts, "    chemistry: lfp\n",
                   "    chemistry: lfp\n    cold: {at: -10 degC, resistance: 3, capacity: 70 %}\n"
                   "    charge_efficiency: 97 %\n"));
  EXPECT_LOADS(loaded);
  const model::Cell& cell = loaded.job->catalogue.cells[0].model;
  EXPECT_DOUBLE_EQ(cell.cold.temperature, 263.15);
  EXPECT_EQ(cell.cold.resistance, 3);
  EXPECT_EQ(cell.cold.capacity, 0.7);
  EXPECT_EQ(cell.charge_efficiency, 0.97);
  for (const char* wrong : {"{at: 20 degC, resistance: 2, capacity: 80 %}",
                            "{at: 0 degC, resistance: 0.5, capacity: 80 %}",
                            "{at: 0 degC, resistance: 2, capacity: 120 %}", "{at: 0 degC}"}) {
    Loaded bad;
    load_into(bad, kTinyRequirement,
              edited(kTinyParts, "    chemistry: lfp\n",
                     "    chemistry: lfp\n    cold: " + std::string(wrong) + "\n"));
    EXPECT_FALSE(bad.job) << wrong;
  }
}

}  // namespace
}  // namespace sprocketry::test
