#include <gtest/gtest.h>

#include "parts/changes.hpp"
#include "unit/document_support.hpp"

namespace sprocketry::parts {
namespace {

// "field: from -> to; ..." of two entries as written.
std::string changes(const std::string& then, const std::string& now,
                    std::vector<Default> assumed_then = {}, std::vector<Default> assumed_now = {}) {
  const document::Composed a(then);
  const document::Composed b(now);
  std::string text;
  for (const FieldChange& change :
       field_changes({*a.root, std::move(assumed_then)}, {*b.root, std::move(assumed_now)})) {
    text += (text.empty() ? "" : "; ") + change.field + ": " + change.from + " -> " + change.to;
  }
  return text;
}

TEST(FieldChanges, TheSameQuantityInAnotherUnitIsNoChange) {
  for (const auto& [a, b] : std::vector<std::pair<std::string, std::string>>{
           {"72 km/h", "20 m/s"},
           {"1 in", "25.4 mm"},
           {"7/8 in", "22.225 mm"},
           {"60 s", "1 min"},
           {"20 degC", "293.15 K"},
           {"50 %", "50.0 %"},
           {"1.1 mohm", "0.0011 ohm"},
           {"60 Ah", "60000 mAh"},
           {"100 A", "100.0A"},
           {"86.6025403784438646763723170752936 A", "100 A_pk"},
           {"640", "640.00"},
           {"yes", "true"},
           {"No", "false"},
           {"{from: 12, to: 14}", "[12, 13, 14]"},
           {"[14, 12, 13]", "{from: 12, to: 14}"},
           {"[brushed, brushless]", "[brushless, brushed]"},
           {"{base: 10}", "10"},
           {"{base: 0.5 kg, per_tooth: 0 kg}", "500 g"},
       }) {
    EXPECT_EQ(changes("{v: " + a + "}", "{v: " + b + "}"), "") << a << " and " << b;
    EXPECT_EQ(changes("{v: " + b + "}", "{v: " + a + "}"), "") << b << " and " << a;
  }
}

TEST(FieldChanges, AnythingElseIsNamedWithItsFieldAndBothValues) {
  EXPECT_EQ(changes("{v: 72 km/h}", "{v: 20.001 m/s}"), "v: 72 km/h -> 20.001 m/s");
  EXPECT_EQ(changes("{v: 100 A}", "{v: 100 A_pk}"), "v: 100 A -> 100 A_pk");
  EXPECT_EQ(changes("{v: 1 m}", "{v: 1 s}"), "v: 1 m -> 1 s");
  EXPECT_EQ(changes("{v: yes}", "{v: no}"), "v: yes -> no");
  EXPECT_EQ(changes("{current: {peak: 280 A, continuous: 110 A}}",
                    "{current: {continuous: 110 A, peak: 250 A}}"),
            "current.peak: 280 A -> 250 A");
  EXPECT_EQ(
      changes("{n: [{voltage: 24 V}, {voltage: 48 V}]}", "{n: [{voltage: 24 V}, {voltage: 50 V}]}"),
      "n.1.voltage: 48 V -> 50 V");
  EXPECT_EQ(changes("{n: [{voltage: 24 V}]}", "{n: [{voltage: 24 V}, {voltage: 50 V}]}"),
            "n: [{voltage: 24 V}] -> [{voltage: 24 V}, {voltage: 50 V}]");
  EXPECT_EQ(changes("{teeth: {from: 12, to: 14}}", "{teeth: {from: 12, to: 15}}"),
            "teeth: {from: 12, to: 14} -> {from: 12, to: 15}");
  EXPECT_EQ(changes("{price: 10}", "{price: {base: 12, per_tooth: 0}}"), "price: 10 -> 12");
  EXPECT_EQ(changes("{price: 10}", "{price: {base: 10, per_tooth: 1}}"),
            "price: 10 -> {base: 10, per_tooth: 1}");
  EXPECT_EQ(changes("{a: 1, b: 2}", "{a: 1, c: 3}"), "b: 2 -> not given; c: not given -> 3");
  EXPECT_EQ(changes("{drives: [brushed]}", "{drives: [brushed, brushless]}"),
            "drives: [brushed] -> [brushed, brushless]");
}

TEST(FieldChanges, ADefaultThatIsWrittenOutIsNoChange) {
  const std::vector<Default> assumed = {{"current.for", "60 s", "common practice, no source"}};
  EXPECT_EQ(changes("{current: {peak: 9 A}}", "{current: {peak: 9 A, for: 1 min}}", assumed), "");
  EXPECT_EQ(changes("{current: {peak: 9 A, for: 1 min}}", "{current: {peak: 9 A}}", {}, assumed),
            "");
  EXPECT_EQ(changes("{current: {peak: 9 A}}", "{current: {peak: 9 A, for: 30 s}}", assumed),
            "current.for: not given (60 s assumed) -> 30 s");
}

TEST(FieldChanges, WhatWasAssumedOfAnEntryIsFoundByListAndName) {
  const std::vector<Default> all = {{"motors.a.current.for", "60 s", "x"},
                                    {"motors.ab.current.for", "30 s", "x"},
                                    {"controllers.a.settable", "yes", "x"}};
  const auto some = assumed_of(all, "motors", "a");
  ASSERT_EQ(some.size(), 1U);
  EXPECT_EQ(some[0].key, "current.for");
  EXPECT_EQ(some[0].value, "60 s");
}

}  // namespace
}  // namespace sprocketry::parts
