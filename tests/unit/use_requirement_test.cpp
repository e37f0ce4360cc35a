#include <gtest/gtest.h>

#include "evaluate_support.hpp"
#include "load_support.hpp"

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

// The demand counts the charger's current alone; a weak outlet takes longer, and that is said.
TEST(Charging, SlowedByTheOutletBeyondTheDemandIsACaution) {
  const auto row = [](const std::string& outlet) {
    const Evaluated design(edited(with("charging: {outlet: " + outlet + "}\n"), "must:\n",
                                  "must:\n  charge_time: {max: 6 h}\n"),
                           with_charger(kTinyParts));
    EXPECT_EQ(outcome(design.row("must charge_time")), "holds");
    return design.row("charge time from the wall");
  };
  EXPECT_EQ(outcome(row("3 kW")), "holds");
  EXPECT_EQ(outcome(row("0.3 kW")), "fails");
  EXPECT_EQ(row("0.3 kW").kind, rules::Kind::kCaution);
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
  const double speed = d.metrics.performance.top_speed * 3.6;
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

TEST(Magnet, ThatWeakensTurnsFasterAndDrawsMore) {
  const Evaluated same(with("cruise: [40 km/h]\n"), kTinyParts);
  const Evaluated warm(
      with("cruise: [40 km/h]\n"),
      edited(kTinyParts, "    kind: brushed\n", "    kind: brushed\n    magnet: ferrite\n"));
  EXPECT_GT(warm.design().metrics.performance.cruise[0].motor_current,
            same.design().metrics.performance.cruise[0].motor_current);
  EXPECT_LT(warm.design().torque.peak, same.design().torque.peak);
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
