#include <cmath>

#include "load_support.hpp"
#include "model/constants.hpp"

namespace sprocketry::test {
namespace {

using model::kPi;
using model::kZeroCelsius;

// The line of the tiny parts that this test replaces.
constexpr std::string_view kCurrent = "    current: {continuous: 110 A, peak: 280 A}\n";
constexpr std::string_view kNoLoad = "    no_load: [{voltage: 48 V, current: 5 A}]\n";

const parts::MotorPart& motor(const Loaded& loaded) { return loaded.catalogue().motors.front(); }

TEST(LoadMotor, TakesEveryKeyInSi) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement,
            edited(kTinyParts, kCurrent,
                   "    current: {continuous: 100 A_rms, peak: 300 A_pk, for: 90 s}\n"
                   "    thermal: {winding_to_body: 0.08 K/W, body_to_air: 0.12 K/W, "
                   "winding_capacity: 700 J/K, body_capacity: 4200 J/K, max_winding: 155 degC}\n"
                   "    shaft: {diameter: 7/8 in, key: 3/16 in, length: 45 mm}\n"
                   "    rotor_inertia: 0.006 kg m2\n"
                   "    field_weakening: yes\n"));
  EXPECT_LOADS(loaded);
  const parts::MotorPart& part = motor(loaded);
  EXPECT_EQ(part.id, "hollin-48");
  EXPECT_EQ(part.price, 640 * parts::kMoneyUnit);
  EXPECT_EQ(part.mass, 11.5);
  EXPECT_EQ(part.model.kind, model::MotorKind::kBrushed);
  EXPECT_NEAR(part.model.torque_constant, 60 / (2 * kPi * 62), 1e-15);
  EXPECT_EQ(part.model.resistance, 0.014);
  EXPECT_EQ(part.model.max_voltage, 90);
  EXPECT_NEAR(part.model.max_speed, 6000 * kPi / 30, 1e-11);
  EXPECT_NEAR(part.model.continuous_current, 100 * std::sqrt(1.5), 1e-12);
  EXPECT_NEAR(part.model.peak_current, 300 * std::sqrt(0.75), 1e-12);
  EXPECT_EQ(part.model.peak_duration, 90);
  EXPECT_EQ(part.model.thermal.winding_to_body, 0.08);
  EXPECT_EQ(part.model.thermal.body_to_air, 0.12);
  EXPECT_EQ(part.model.thermal.winding_capacity, 700);
  EXPECT_EQ(part.model.thermal.body_capacity, 4200);
  EXPECT_NEAR(part.model.thermal.max_winding, kZeroCelsius + 155, 1e-12);
  EXPECT_FALSE(part.thermal_estimated);
  EXPECT_TRUE(part.field_weakening);
  EXPECT_EQ(part.model.rotor_inertia, 0.006);
  ASSERT_TRUE(part.shaft.has_value());
  EXPECT_NEAR(part.shaft->diameter, 0.022225, 1e-15);
  EXPECT_NEAR(part.shaft->key.value(), 0.0047625, 1e-15);
  EXPECT_EQ(part.shaft->length, 0.045);
}

TEST(LoadMotor, LossIsConstantWithOneNoLoadPoint) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement, kTinyParts);
  EXPECT_LOADS(loaded);
  EXPECT_NEAR(motor(loaded).model.loss.constant, motor(loaded).model.torque_constant * 5, 1e-15);
  EXPECT_EQ(motor(loaded).model.loss.viscous, 0);
}

TEST(LoadMotor, LossIsALineThroughTwoNoLoadPoints) {
  Loaded loaded;
  load_into(
      loaded, kTinyRequirement,
      edited(kTinyParts, kNoLoad,
             "    no_load: [{voltage: 24 V, current: 4 A}, {voltage: 48 V, current: 5 A}]\n"));
  EXPECT_LOADS(loaded);
  const model::Motor& m = motor(loaded).model;
  for (const auto& [voltage, current] : {std::pair(24.0, 4.0), std::pair(48.0, 5.0)}) {
    const double speed = (voltage - current * 0.014) / m.torque_constant;
    EXPECT_NEAR(m.loss.at(speed), m.torque_constant * current, 1e-12);
  }
}

TEST(LoadMotor, DefaultsAreRecordedWithTheirSource) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement, kTinyParts);
  EXPECT_LOADS(loaded);
  const auto& defaults = loaded.catalogue().defaults;
  for (const auto* key : {"motors.hollin-48.current.for", "motors.hollin-48.thermal",
                          "motors.hollin-48.rotor_inertia"}) {
    const parts::Default* found = find_default(defaults, key);
    ASSERT_NE(found, nullptr) << key;
    EXPECT_EQ(found->source, "common practice, no source");
  }
  EXPECT_EQ(find_default(defaults, "motors.hollin-48.current.for")->value, "60 s");
  EXPECT_EQ(motor(loaded).model.peak_duration, 60);
  EXPECT_DOUBLE_EQ(motor(loaded).model.rotor_inertia, 5e-4 * 11.5);
  EXPECT_EQ(motor(loaded).shaft, std::nullopt);
}

TEST(LoadMotor, ThermalDataAreEstimatedFromTheContinuousRatingWhenAbsent) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement, kTinyParts);
  EXPECT_LOADS(loaded);
  const model::ThermalNetwork& thermal = motor(loaded).model.thermal;
  EXPECT_TRUE(motor(loaded).thermal_estimated);
  EXPECT_NEAR(thermal.max_winding, kZeroCelsius + 130, 1e-12);
  const double heat = 110.0 * 110.0 * 0.014 * (1 + 0.00393 * (130 - 25));
  EXPECT_NEAR(thermal.winding_to_body + thermal.body_to_air, 90 / heat, 1e-12);
  EXPECT_NEAR(thermal.winding_capacity + thermal.body_capacity, 420 * 11.5, 1e-9);
}

TEST(LoadMotor, TotalThermalDataAreSplitOverTwoNodes) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement,
            edited(kTinyParts, kCurrent,
                   std::string(kCurrent) +
                       "    thermal: {resistance: 0.2 K/W, capacity: 5 kJ/K, max_winding: 150 "
                       "degC}\n"));
  EXPECT_LOADS(loaded);
  const model::ThermalNetwork& thermal = motor(loaded).model.thermal;
  EXPECT_FALSE(motor(loaded).thermal_estimated);
  EXPECT_NEAR(thermal.winding_to_body, 0.08, 1e-15);
  EXPECT_NEAR(thermal.body_to_air, 0.12, 1e-15);
  EXPECT_NEAR(thermal.winding_capacity, 0.13 * 11.5 * 385, 1e-9);
  EXPECT_NEAR(thermal.winding_capacity + thermal.body_capacity, 5000, 1e-9);
}

TEST(LoadMotor, AShaftWithoutKeyIsWrittenAsNone) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement,
            edited(kTinyParts, kCurrent,
                   std::string(kCurrent) + "    shaft: {diameter: 19 mm, key: none}\n"));
  EXPECT_LOADS(loaded);
  EXPECT_EQ(motor(loaded).shaft.value().key, 0.0);
}

TEST(LoadMotor, KindsThatTheModelCannotComputeAreRefusedWithTheReason) {
  const std::pair<const char*, const char*> kinds[] = {{"series", "no permanent magnets"},
                                                       {"series-wound", "no permanent magnets"},
                                                       {"induction", "no permanent magnets"},
                                                       {"hub", "no chain"},
                                                       {"brushles", "did you mean `brushless`"}};
  for (const auto& [kind, reason] : kinds) {
    Loaded loaded;
    load_into(loaded, kTinyRequirement,
              edited(kTinyParts, "kind: brushed", std::string("kind: ") + kind));
    EXPECT_TRUE(one_error(loaded, "parts.yaml", 3, reason)) << kind;
  }
}

TEST(LoadMotor, NoLoadPointsThatWouldDriveTheMotorAreRefused) {
  const std::pair<const char*, const char*> points[] = {
      // Falls with voltage: a loss that falls with speed.
      {"[{voltage: 24 V, current: 6 A}, {voltage: 48 V, current: 5 A}]", "falls with speed"},
      // Rises faster than voltage: the line meets standstill below zero.
      {"[{voltage: 24 V, current: 1 A}, {voltage: 48 V, current: 5 A}]", "at standstill"},
      {"[{voltage: 48 V, current: 5 A}, {voltage: 24 V, current: 4 A}]", "do not ascend"},
      {"[{voltage: 48 V, current: 4 A}, {voltage: 48 V, current: 5 A}]", "do not ascend"},
      {"[{voltage: 8 V, current: 1 A}, {voltage: 9 V, current: 2 A}, {voltage: 10 V, current: 3 "
       "A}]",
       "one or two"},
  };
  for (const auto& [point, fragment] : points) {
    Loaded loaded;
    load_into(loaded, kTinyRequirement,
              edited(kTinyParts, kNoLoad, std::string("    no_load: ") + point + "\n"));
    EXPECT_TRUE(one_error(loaded, "parts.yaml", 6, fragment)) << point;
  }
}

TEST(LoadMotor, ANoLoadCurrentThatTakesTheWholeVoltageIsRefused) {
  Loaded loaded;
  load_into(
      loaded, kTinyRequirement,
      edited(edited(kTinyParts, "resistance: 14 mohm", "resistance: 10 ohm"), kCurrent, kCurrent));
  EXPECT_TRUE(one_error(loaded, "parts.yaml", 6, "would not turn"));
}

TEST(LoadMotor, APeakBelowTheContinuousRatingShowsBothPlaces) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement, edited(kTinyParts, "peak: 280 A", "peak: 100 A"));
  ASSERT_TRUE(one_error(loaded, "parts.yaml", 9, "`peak` is below `continuous`"));
  EXPECT_EQ(loaded.diagnostics.all().front().second_mark.value().line, 9U);
}

}  // namespace
}  // namespace sprocketry::test
