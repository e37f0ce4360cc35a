#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "load_support.hpp"

namespace sprocketry::test {
namespace {

constexpr std::size_t kFirstLine = 11;  // of what stands under `spread:`

// The tiny requirement with one line under `spread`.
void load_spread(Loaded& loaded, const std::string& line,
                 const std::vector<std::string>& overrides = {}) {
  load_into(loaded, std::string(kTinyRequirement) + "spread:\n  " + line + "\n", kTinyParts,
            overrides);
}

spec::Spread only_spread(const std::string& line, const std::vector<std::string>& overrides = {}) {
  Loaded loaded;
  load_spread(loaded, line, overrides);
  EXPECT_TRUE(loaded.job.has_value()) << loaded.text();
  if (!loaded.job || loaded.requirement().spreads.size() != 1) {
    ADD_FAILURE() << line;
    return {};
  }
  return loaded.requirement().spreads.front();
}

TEST(LoadSpread, SharesAmountsAndEndsAreInSiUnits) {
  const spec::Spread share = only_spread("bike.drag_area: {normal: 10 %}");
  EXPECT_EQ(share.path, "bike.drag_area");
  EXPECT_EQ(share.shape, spec::Shape::kNormal);
  EXPECT_TRUE(share.relative);
  EXPECT_EQ(share.amount, 0.1);
  EXPECT_EQ(share.text, "normal 10 %");

  const spec::Spread amount = only_spread("conditions.headwind: {uniform: 18 km/h}");
  EXPECT_EQ(amount.shape, spec::Shape::kUniform);
  EXPECT_FALSE(amount.relative);
  EXPECT_EQ(amount.amount, 5.0);

  const spec::Spread ends = only_spread("rider.mass: {triangular: {from: 70000 g, to: 100 kg}}");
  EXPECT_EQ(ends.shape, spec::Shape::kTriangular);
  EXPECT_EQ(ends.from, 70.0);
  EXPECT_EQ(ends.to, 100.0);

  EXPECT_EQ(only_spread("conditions.air: {normal: 5 K}").amount, 5.0);
  EXPECT_EQ(only_spread("bike.rolling_resistance: {normal: 0.002}").amount, 0.002);
  EXPECT_EQ(only_spread("cells.slate-100.price: {normal: 4}").amount, 4.0);
  EXPECT_EQ(only_spread("motors.*.no_load.0.current: {normal: 5 %}").path,
            "motors.*.no_load.0.current");
  EXPECT_TRUE(only_spread("bike.wheelbase: none").exact);
}

TEST(LoadSpread, PathsMayStandInsideEachOtherAsSetWritesThem) {
  EXPECT_EQ(only_spread("bike: {tyre: {rollout: {uniform: 1 %}}}").path, "bike.tyre.rollout");
  EXPECT_EQ(only_spread("motors: {hollin-48: {resistance: {normal: 1 mohm}}}").amount, 1e-3);
  EXPECT_EQ(only_spread("rider.mass: {normal: 5 kg}",
                        {"spread={}", "spread.motors.*.no_load.0.current.normal=5 %"})
                .path,
            "motors.*.no_load.0.current");
  const spec::Spread set =
      only_spread("bike.drag_area: {normal: 10 %}", {"spread.bike.drag_area.uniform=5 %"});
  EXPECT_EQ(set.shape, spec::Shape::kUniform);
  EXPECT_EQ(set.amount, 0.05);
  EXPECT_EQ(
      only_spread("bike: {drag_area: {normal: 10 %}}", {"spread.bike.drag_area={uniform: 5 %}"})
          .amount,
      0.05);
}

TEST(LoadSpread, EveryMistakeIsSaidWhereItStands) {
  struct Case {
    std::string line;
    std::size_t column;
    std::string words;
  };
  const std::vector<Case> cases = {
      {"bike.drag_aera: {normal: 10 %}", 3, "did you mean `bike.drag_area`?"},
      {"motors.holin-48.resistance: {normal: 10 %}", 3, "motors.hollin-48.resistance"},
      {"motors.*.resistence: {normal: 10 %}", 3, "did you mean `motors.*.resistance`?"},
      {"bike.centre_distance: {normal: 10 %}", 3, "which is no number"},
      {"motors.hollin-48.kind: {normal: 10 %}", 3, "which is no number"},
      {"must.top_speed.min: {normal: 10 %}", 3, "is asked for, not measured"},
      {"rider.mass: {normal: 5}", 25, "the unit is missing"},
      {"rider.mass: {normal: 5 km}", 26, "a mass is expected"},
      {"rider.mass: {gaussian: 5 kg}", 16, "there is no spread `gaussian`"},
      {"rider.mass: {nromal: 5 kg}", 16, "did you mean `normal`?"},
      {"rider.mass: {normal: 5 kg, uniform: 5 kg}", 15, "must have one spread"},
      {"rider.mass: 5 kg", 15, "must have one spread"},
      {"rider.mass: [normal, 5 kg]", 15, "must have one spread"},
      {"rider: [5 kg]", 11, "names `rider.0`"},
      {"rider.mass: {}", 15, "must have one spread"},
      {"rider.mass: {normal: [5 kg]}", 24, "must be an amount"},
      {"rider.mass: {normal: 0 kg}", 24, "is none"},
      {"rider.mass: {normal: -1 kg}", 24, "is none"},
      {"rider.mass: {normal: 101 %}", 24, "more than all"},
      {"conditions.headwind: {normal: 5 %}", 33, "a share of nothing is nothing"},
      {"conditions.air: {normal: 5 %}", 28, "write the spread in K"},
      {"conditions.air: {normal: 5 degC}", 28, "such as 5 K"},
      {"motors.hollin-48.speed_constant: {normal: 5 rpm/V}", 45, "write a percentage"},
      {"bike.rolling_resistance: {normal: 1 kg}", 37, "plain number or a percentage"},
      {"rider.mass: {normal: {from: 70 kg, to: 90 kg}}", 24, "takes one amount"},
      {"rider.mass: {uniform: {from: 70 kg}}", 25, "lacks `to`"},
      {"rider.mass: {uniform: {from: 90 kg, to: 70 kg}}", 25, "from a lower to a higher"},
      {"rider.mass: {uniform: {from: 70 kg, to: 9000 kg}}", 43, "it must be from 0 kg to 500 kg"},
      {"rider.mass: {uniform: {from: 70 kg, to: 90 m}}", 46, "a mass is expected"},
      {"rider.mass: {uniform: {from: 70 kg, to: 90 kg, by: 1 kg}}", 50, "unknown key `by`"},
      {"rider.mass: {triangular: {from: 90 kg, to: 95 kg}}", 28, "does not lie between"},
  };
  for (const Case& one : cases) {
    Loaded loaded;
    load_spread(loaded, one.line);
    EXPECT_TRUE(one_error(loaded, "bike.yaml", kFirstLine, one.words)) << one.line;
    if (loaded.diagnostics.all().empty()) continue;
    EXPECT_EQ(loaded.diagnostics.all().front().mark.column, one.column) << loaded.text();
  }
}

TEST(LoadSpread, APathGivenTwiceShowsBothPlaces) {
  Loaded loaded;
  load_spread(loaded, "rider.mass: {normal: 5 kg}\n  rider: {mass: {uniform: 5 kg}}");
  ASSERT_TRUE(one_error(loaded, "bike.yaml", kFirstLine + 1, "given twice"));
  EXPECT_EQ(loaded.diagnostics.all().front().second_mark->line, kFirstLine);
}

TEST(LoadSpread, IsAMap) {
  Loaded loaded;
  load_into(loaded, std::string(kTinyRequirement) + "spread: [rider.mass]\n", kTinyParts);
  EXPECT_TRUE(one_error(loaded, "bike.yaml", 10, "must be a map"));
}

// What a reader of the file could vary is there under the path that --set takes.
TEST(LoadSpread, InputsAreKeptWithWhatWasAssumed) {
  const Folder folder;
  folder.write("bike.yaml", kTinyRequirement);
  folder.write("parts.yaml", kTinyParts);
  document::Diagnostics diagnostics;
  spec::WrittenJob written;
  ASSERT_TRUE(spec::load_job(folder.path() / "bike.yaml", {}, diagnostics, &written));
  const auto find = [&](std::string_view path) {
    return std::ranges::find(written.inputs, path, &parts::Input::path);
  };
  const auto mass = find("bike.mass");
  ASSERT_NE(mass, written.inputs.end());
  EXPECT_EQ(mass->value, 96);
  EXPECT_TRUE(mass->stated);
  const auto inertia = find("motors.hollin-48.rotor_inertia");
  ASSERT_NE(inertia, written.inputs.end());
  EXPECT_EQ(inertia->pattern, "motors.*.rotor_inertia");
  EXPECT_FALSE(inertia->stated);
  for (const char* assumed :
       {"bike.drag_area", "bike.rolling_resistance", "bike.centre_of_gravity.height",
        "bike.centre_of_gravity.behind_front_axle", "conditions.headwind",
        "motors.hollin-48.thermal.resistance", "motors.hollin-48.thermal.capacity",
        "controllers.vane-200.efficiency", "controllers.vane-200.current.motor_continuous",
        "cells.slate-100.full_voltage", "cells.slate-100.usable.to",
        "cells.slate-100.current.charge", "chains.linkage-420.friction",
        "chains.linkage-420.pin"}) {
    const auto input = find(assumed);
    ASSERT_NE(input, written.inputs.end()) << assumed;
    EXPECT_FALSE(input->stated) << assumed;
  }
}

}  // namespace
}  // namespace sprocketry::test
