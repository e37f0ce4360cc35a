#include <gtest/gtest.h>

#include "cli/launch.hpp"

namespace sprocketry::test::tiny {
namespace {

using Json = nlohmann::ordered_json;

const std::string kDesign =
    "alder-4/gate-x/flint-60x16s1p/well-15/pull-420/small-420:14/large-420:60";

// With a hub of stated length.
class Bench : public Workplace {
 public:
  Bench() {
    edit("parts.yaml", "hub_diameter: 32 mm, price",
         "hub_diameter: 32 mm, hub_length: 25 mm, price");
  }
};

Json evaluated(const Workplace& place, const Words& sets) {
  Words words = {"evaluate", place.bike(), "--pick", kDesign, "--format", "json"};
  for (const std::string& set : sets) words.insert(words.end(), {"--set", set});
  return json_of(words)["design"];
}

Json rule_of(const Json& design, const std::string& name) {
  for (const Json& rule : design["rules"]) {
    if (rule["rule"] == name) return rule;
  }
  ADD_FAILURE() << "no rule " << name;
  return {};
}

// 420 chain is 6.35 mm (1/4 in) wide inside, so teeth are 0.93 x 6.35 - 0.15 = 5.76 mm thick.
constexpr double kTooth = 0.93 * 6.35 - 0.15;

TEST(ChainLine, IsUncheckedWithoutItsSizes) {
  const Workplace place;
  const Json design = evaluated(place, {});
  EXPECT_TRUE(design["chain"]["line"].is_null());
  EXPECT_EQ(rule_of(design, "chain line")["kind"], "unchecked");
  EXPECT_EQ(rule_of(design, "chain line")["missing"], "bike.chain_line");
}

// The front teeth can come to 2.88 mm from the shaft's face at the nearest; the rear's middle is as
// far outside its flange. So with both faces level there is nothing to shift, and a flange that
// lies inside by more than the 1 mm of tolerance needs a spacer.
TEST(ChainLine, HoldsJustInsideItsToleranceAndNotJustOutside) {
  const Bench place;
  for (const auto& [inside, holds] : {std::pair{0.0, true}, {0.95, true}, {1.05, false}}) {
    const std::string wheel = std::to_string(40.0 - inside);
    const Json design =
        evaluated(place, {"bike.chain_line={wheel_face: " + wheel + " mm, shaft_face: 40 mm}"});
    const Json& line = design["chain"]["line"];
    EXPECT_NEAR(line["rear_shift_mm"].get<double>(), inside, 1e-6);
    EXPECT_NEAR(line["rear_teeth_mm"].get<double>(), 40 - inside + 0.5 * kTooth, 0.01);
    EXPECT_EQ(line["front_teeth_at"], "inner end");
    const Json rule = rule_of(design, "chain line");
    EXPECT_EQ(rule["kind"], "caution");
    EXPECT_EQ(rule["margin"].get<double>() >= 0, holds);
    EXPECT_EQ(rule.contains("reason"), !holds);
  }
}

TEST(ChainLine, IsSaidInWords) {
  const Bench place;
  const Outcome outcome =
      run({"evaluate", place.bike(), "--pick", kDesign, "--set",
           "bike.chain_line={wheel_face: 30 mm, shaft_face: 40 mm, rear_spacer: 2 mm}"});
  EXPECT_TRUE(contains(outcome.out, "spacer of 8.0 mm"));
  EXPECT_TRUE(contains(outcome.out, "the rear one needs a spacer"));
}

TEST(ChainLine, RefusesSizesThatAreNoBikes) {
  const Bench place;
  for (const char* wrong : {"{wheel_face: 62 mm}", "{wheel_face: 2 m, shaft_face: 40 mm}",
                            "{wheel_face: 62, shaft_face: 40 mm}",
                            "{wheel_face: 62 mm, shaft_face: 40 mm, rear_spacer: -1 mm}",
                            "{wheel_face: 62 mm, shaft_face: 40 mm, offset: 1 mm}"}) {
    const Outcome outcome = run({"evaluate", place.bike(), "--pick", kDesign, "--set",
                                 "bike.chain_line=" + std::string(wrong)});
    EXPECT_EQ(outcome.code, 2) << wrong;
  }
}

}  // namespace
}  // namespace sprocketry::test::tiny
