// The stage before the chain: its keys, what it changes, and that it changes nothing else.
#include <cmath>

#include "evaluate_support.hpp"
#include "model/chain_strength.hpp"
#include "model/constants.hpp"
#include "report/design_json.hpp"
#include "report/design_text.hpp"

namespace sprocketry::test {
namespace {

const std::string kMass = "  mass: 96 kg\n";
const std::string kPrimary =
    "  primary: {ratio: 1.8, efficiency: 97 %, output_bore: 20 mm, output_key: 6 mm, price: 85, "
    "mass: 2.4 kg}\n";

std::string with_primary(std::string_view requirement, const std::string& line) {
  return edited(requirement, kMass, kMass + line);
}

// One combination: 14 and 42 teeth.
const std::string kOne =
    std::string(kTinyRequirement) + "choose: {front_teeth: 14, rear_teeth: 42}\n";

// A sprocket with a bore and a key.
std::string bored(const std::string& bore, const std::string& key) {
  return edited(kTinyParts, "to: 17}", "to: 17}, bore: " + bore + ", key: " + key);
}

// A motor with a shaft.
std::string with_shaft(const std::string& parts) {
  return edited(parts, "    mass: 11.5 kg\n",
                "    mass: 11.5 kg\n    shaft: {diameter: 7/8 in, key: 3/16 in}\n");
}

TEST(LoadPrimary, EveryKeyIsRead) {
  Loaded loaded;
  load_into(loaded, with_primary(kTinyRequirement, kPrimary), kTinyParts);
  EXPECT_LOADS(loaded);
  const spec::Primary& primary = loaded.requirement().bike.primary.value();
  EXPECT_EQ(primary.ratio, 1.8);
  EXPECT_EQ(primary.efficiency, 0.97);
  EXPECT_NEAR(primary.output.value().diameter, 0.020, 1e-15);
  EXPECT_NEAR(primary.output.value().key.value(), 0.006, 1e-15);
  EXPECT_EQ(primary.price, 85 * parts::kMoneyUnit);
  EXPECT_EQ(primary.mass, 2.4);
  EXPECT_EQ(find_default(loaded.requirement().defaults, "bike.primary.efficiency"), nullptr);
}

TEST(LoadPrimary, WhatCannotBeAssumedMustBeGiven) {
  Loaded least;
  load_into(least, with_primary(kTinyRequirement, "  primary: {ratio: 2, price: 0, mass: 1 kg}\n"),
            kTinyParts);
  EXPECT_LOADS(least);
  EXPECT_EQ(least.requirement().bike.primary->efficiency, 0.97);
  EXPECT_NE(find_default(least.requirement().defaults, "bike.primary.efficiency"), nullptr);
  EXPECT_FALSE(least.requirement().bike.primary->output.has_value());
  const std::pair<const char*, const char*> lacking[] = {{"{price: 0, mass: 1 kg}", "ratio"},
                                                         {"{ratio: 2, mass: 1 kg}", "price"},
                                                         {"{ratio: 2, price: 0}", "mass"}};
  for (const auto& [text, key] : lacking) {
    Loaded loaded;
    load_into(loaded, with_primary(kTinyRequirement, std::string("  primary: ") + text + "\n"),
              kTinyParts);
    EXPECT_TRUE(one_error(loaded, "bike.yaml", 5, key));
  }
}

TEST(LoadPrimary, AKeyIsNoneOrStandsOnAShaft) {
  Loaded plain;
  load_into(plain,
            with_primary(kTinyRequirement,
                         "  primary: {ratio: 2, price: 0, mass: 1 kg, output_bore: 20 mm, "
                         "output_key: none}\n"),
            kTinyParts);
  EXPECT_LOADS(plain);
  EXPECT_EQ(plain.requirement().bike.primary->output->key.value(), 0);
  Loaded floating;
  load_into(floating,
            with_primary(kTinyRequirement,
                         "  primary: {ratio: 2, price: 0, mass: 1 kg, output_key: 6 mm}\n"),
            kTinyParts);
  EXPECT_TRUE(one_error(floating, "bike.yaml", 5, "without `output_bore`"));
}

TEST(LoadPrimary, WhatNobodyBuildsIsRefused) {
  const std::pair<const char*, const char*> bad[] = {{"ratio: 1.8", "ratio: 0.09"},
                                                     {"ratio: 1.8", "ratio: 20.1"},
                                                     {"efficiency: 97 %", "efficiency: 49 %"},
                                                     {"efficiency: 97 %", "efficiency: 101 %"},
                                                     {"output_bore: 20 mm", "output_bore: 20"},
                                                     {"mass: 2.4 kg", "mass: 600 kg"},
                                                     {"price: 85", "price: -1"},
                                                     {"ratio: 1.8", "ratio: 1.8, teeth: 20"}};
  for (const auto& [from, to] : bad) {
    Loaded loaded;
    load_into(loaded, with_primary(kTinyRequirement, edited(kPrimary, from, to)), kTinyParts);
    EXPECT_TRUE(one_error(loaded, "bike.yaml", 5, "")) << to;
  }
}

TEST(Primary, MultipliesReductionAndEfficiencyAndAddsPriceAndMass) {
  const Evaluated without(kOne, kTinyParts);
  const Evaluated with(with_primary(kOne, kPrimary), kTinyParts);
  const search::Design& a = without.design();
  const search::Design& b = with.design();
  EXPECT_EQ(a.chain.total_reduction, 3.0);
  EXPECT_EQ(a.chain.total_efficiency, a.chain.efficiency);
  EXPECT_EQ(b.chain.reduction, 3.0);
  EXPECT_EQ(b.chain.total_reduction, 1.8 * 3.0);
  EXPECT_EQ(b.chain.efficiency, a.chain.efficiency);
  EXPECT_EQ(b.chain.total_efficiency, 0.97 * a.chain.efficiency);
  EXPECT_EQ(b.metrics.price, a.metrics.price + 85 * parts::kMoneyUnit);
  EXPECT_NEAR(b.metrics.mass, a.metrics.mass + 2.4, 1e-9);
}

TEST(Primary, CarriesTheFrontSprocketInTheMotorsPlace) {
  // The motor's shaft is 7/8 in with a key of 3/16 in, the output shaft 20 mm with 6 mm.
  const std::string on_output = with_shaft(bored("20 mm", "6 mm"));
  const std::string on_motor = with_shaft(bored("7/8 in", "3/16 in"));
  const Evaluated fits(with_primary(kOne, kPrimary), on_output);
  EXPECT_EQ(outcome(fits.row("front bore")), "holds");
  EXPECT_EQ(outcome(fits.row("front key")), "holds");
  const Evaluated clashes(with_primary(kOne, kPrimary), on_motor);
  EXPECT_EQ(outcome(clashes.row("front bore")), "fails");
  EXPECT_EQ(outcome(clashes.row("front key")), "fails");
  const Evaluated direct(kOne, on_motor);
  EXPECT_EQ(outcome(direct.row("front bore")), "holds");
  EXPECT_EQ(outcome(direct.row("front key")), "holds");
  const Evaluated swapped(kOne, on_output);
  EXPECT_EQ(outcome(swapped.row("front bore")), "fails");
  const Evaluated unknown(with_primary(kOne, "  primary: {ratio: 2, price: 0, mass: 1 kg}\n"),
                          on_motor);
  EXPECT_EQ(outcome(unknown.row("front bore")), "lacks bike.primary.output_bore");
  EXPECT_EQ(outcome(unknown.row("front key")), "lacks bike.primary.output_key");
}

TEST(Primary, LeavesTheRatioRuleToTheChain) {
  // 12/72 is 6, with the primary 18.
  const auto with_teeth = [](const char* rear) {
    return with_primary(
        std::string(kTinyRequirement) + "choose: {front_teeth: 12, rear_teeth: " + rear + "}\n",
        "  primary: {ratio: 3, price: 0, mass: 1 kg}\n");
  };
  const Evaluated inside(with_teeth("72"), kTinyParts);
  EXPECT_EQ(outcome(inside.row("ratio")), "holds");
  EXPECT_EQ(inside.row("ratio").value, 6);
  EXPECT_EQ(inside.design().chain.total_reduction, 18);
  const std::string more_teeth = edited(kTinyParts, "to: 72}", "to: 90}");
  EXPECT_EQ(outcome(Evaluated(with_teeth("84"), more_teeth).row("ratio")), "holds");
  EXPECT_EQ(outcome(Evaluated(with_teeth("85"), more_teeth).row("ratio")), "fails");
}

TEST(Primary, PullsTheChainWithTheOutputShaftsTorqueAtItsSpeed) {
  const Evaluated with(with_primary(kOne, kPrimary), kTinyParts);
  const search::Design& d = with.design();
  const model::Chain& chain = d.parts.chain->model;
  double expected = 0;
  for (const model::TorquePoint& point : d.torque.burst.corners()) {
    // Of the text: T 1.8 x 0.97 on the sprocket, which turns w/1.8.
    const double speed = point.speed / 1.8 / (2 * model::kPi) * 14 * chain.pitch;
    const double pull = 2 * point.torque * 1.8 * 0.97 * std::tan(model::kPi / 14) / chain.pitch;
    expected = std::max(expected, pull + chain.mass_per_length * speed * speed);
  }
  EXPECT_NEAR(with.row("chain peak pull").value, expected, 1e-9 * expected);
}

TEST(Primary, MotorTurnsByTheWholeReductionTheChainBySprockets) {
  const std::string slow = edited(kTinyParts, "links: 130,", "links: 130, max_speed: 20 m/s,");
  const Evaluated with(with_primary(kOne, kPrimary), slow);
  const double top = with.design().metrics.performance.top_speed;
  const double turns = top / 1.94;  // of the wheel, per second
  EXPECT_NEAR(with.row("motor speed").value, turns * 60 * 5.4, 1e-6 * turns * 60 * 5.4);
  EXPECT_NEAR(with.row("chain speed").value, turns * 42 * 0.0127, 1e-9);
}

// Without friction, price and mass of chain and sprockets the tooth counts say nothing but the
// ratio.
std::string weightless_drive() {
  std::string parts(kTinyParts);
  parts = edited(parts, "links: 130, price: 26",
                 "links: 130, price: 0, loss: 0 %, friction: 0, mass_per_length: 0.01 kg/m");
  parts = edited(parts, "price: 10, mass: 0.5 kg", "price: 0, mass: 0 kg");
  return edited(parts, "price: 30, mass: 0.8 kg", "price: 0, mass: 0 kg");
}

TEST(Primary, ALosslessMasslessOneIsTheSameReductionByTeeth) {
  struct Pair {
    const char* ratio;
    int front, rear;                // with the primary
    int single_front, single_rear;  // without, the same in all
  };
  const Pair pairs[] = {{"2", 16, 48, 12, 72},   {"1.5", 14, 42, 14, 63}, {"1.25", 16, 48, 16, 60},
                        {"0.8", 12, 60, 12, 48}, {"1", 13, 52, 13, 52},   {"2.5", 17, 34, 14, 70}};
  const std::string parts = edited(weightless_drive(), "from: 40", "from: 30");
  for (const Pair& p : pairs) {
    SCOPED_TRACE(p.ratio);
    const auto choose = [](int front, int rear) {
      return std::string(kTinyRequirement) + "choose: {front_teeth: " + std::to_string(front) +
             ", rear_teeth: " + std::to_string(rear) + "}\n";
    };
    const Evaluated staged(
        with_primary(choose(p.front, p.rear), std::string("  primary: {ratio: ") + p.ratio +
                                                  ", efficiency: 100 %, price: 0, mass: 0 kg}\n"),
        parts);
    const Evaluated single(choose(p.single_front, p.single_rear), parts);
    EXPECT_NEAR(staged.design().chain.total_reduction, single.design().chain.total_reduction,
                1e-12);
    for (const spec::MetricInfo& info : spec::metric_table()) {
      const double a = info.value(staged.design().metrics);
      const double b = info.value(single.design().metrics);
      if (std::isnan(b)) {
        EXPECT_TRUE(std::isnan(a)) << info.name;
      } else {
        // The chain weighs a few grammes per link.
        EXPECT_NEAR(a, b, 2e-5 * std::abs(b)) << info.name;
      }
    }
  }
}

TEST(Primary, IsNamedWhereverTheGearingIsPrinted) {
  const Evaluated with(with_primary(kOne, kPrimary), kTinyParts);
  std::ostringstream text;
  report::write_design_text(text, with.design(), with.days(), with.job(),
                            report::RuleRows::kTelling, report::Colour::kNever);
  for (const char* words : {"primary        ratio 1.8, efficiency 97.0 %, 2.4 kg, 85.00 EUR",
                            "14 front, 42 rear: reduction 3.00 by the chain, 5.40 in all"}) {
    EXPECT_NE(text.str().find(words), std::string::npos) << words << '\n' << text.str();
  }
  std::ostringstream json;
  report::write_evaluation(json, with.design(), with.days(), with.job(),
                           report::RuleRows::kTelling);
  EXPECT_NE(json.str().find("\"primary_ratio\": 1.8, \"primary_efficiency\": 0.97, "
                            "\"chain_reduction\": 3, \"reduction\": 5.4"),
            std::string::npos)
      << json.str();
}

}  // namespace
}  // namespace sprocketry::test
