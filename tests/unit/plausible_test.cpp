#include "parts/plausible.hpp"

#include "load_support.hpp"

namespace sprocketry::test {
namespace {

// The warnings about the parts alone.
std::string warnings(std::string_view parts) {
  const Folder folder;
  folder.write("parts.yaml", parts);
  document::Diagnostics diagnostics;
  parts::load_catalogue({{folder.path() / "parts.yaml", "parts.yaml", {}}}, true, diagnostics);
  EXPECT_FALSE(diagnostics.has_errors()) << diagnostics.text();
  return diagnostics.text();
}

// True when exactly one warning is given, at the line, with the fragment.
::testing::AssertionResult one_warning(std::string_view parts, std::size_t line,
                                       std::string_view fragment) {
  const std::string text = warnings(parts);
  const std::string place = "parts.yaml:" + std::to_string(line) + ":";
  const bool single = text.find("warning: ") == text.rfind("warning: ");
  if (single && text.starts_with(place) && text.find(fragment) != std::string::npos) {
    return ::testing::AssertionSuccess();
  }
  return ::testing::AssertionFailure()
         << "wanted line " << line << " \"" << fragment << "\", found:\n"
         << text;
}

constexpr std::string_view kMotorCurrent = "    current: {continuous: 110 A, peak: 280 A}\n";

TEST(Plausible, NothingIsSaidOfSoundParts) { EXPECT_EQ(warnings(kTinyParts), ""); }

TEST(Plausible, NothingIsWarnedOfUnlessAskedFor) {
  Loaded loaded;
  load_into(loaded, kTinyRequirement, edited(kTinyParts, "price: 640", "price: 0"));
  EXPECT_LOADS(loaded);
  EXPECT_EQ(loaded.text(), "");
}

TEST(Plausible, ThermalDataThatCannotHoldTheRatingAreWarnedOf) {
  const auto with = [](const char* resistance) {
    return edited(kTinyParts, kMotorCurrent,
                  std::string(kMotorCurrent) + "    thermal: {resistance: " + resistance +
                      ", capacity: 4900 J/K, max_winding: 130 degC}\n");
  };
  // 110 A through 14 mohm at 130 degC is 239 W; 90 K over 40 degC air allow 0.376 K/W.
  EXPECT_EQ(warnings(with("0.37 K/W")), "");
  EXPECT_TRUE(one_warning(with("0.39 K/W"), 2, "settles at 134 degC"));
  EXPECT_TRUE(one_warning(with("2 K/W"), 2, "never settles"));
}

TEST(Plausible, SpeedAgainstMaximumIsWarnedOf) {
  // 62 rpm/V at 90 V: 5580 rpm.
  EXPECT_EQ(warnings(edited(kTinyParts, "6000 rpm", "4700 rpm")), "");
  EXPECT_TRUE(one_warning(edited(kTinyParts, "6000 rpm", "4600 rpm"), 2, "5580 rpm"));
  EXPECT_EQ(warnings(edited(kTinyParts, "6000 rpm", "11000 rpm")), "");
  EXPECT_TRUE(one_warning(edited(kTinyParts, "6000 rpm", "11200 rpm"), 2, "only turns 5580 rpm"));
}

TEST(Plausible, MotorCurrentsAndLossesAreWarnedOf) {
  EXPECT_EQ(warnings(edited(kTinyParts, "current: 5 A", "current: 32 A")), "");
  EXPECT_TRUE(one_warning(edited(kTinyParts, "current: 5 A", "current: 34 A"), 2, "over 30 %"));
  EXPECT_EQ(warnings(edited(kTinyParts, "resistance: 14 mohm", "resistance: 320 mohm")), "");
  EXPECT_TRUE(one_warning(edited(kTinyParts, "resistance: 14 mohm", "resistance: 330 mohm"), 2,
                          "takes 40 %"));
  EXPECT_EQ(warnings(edited(kTinyParts, "peak: 280 A", "peak: 660 A")), "");
  EXPECT_TRUE(one_warning(edited(kTinyParts, "peak: 280 A", "peak: 670 A"), 2, "6.09091 times"));
}

TEST(Plausible, KeysAreWarnedOf) {
  EXPECT_TRUE(
      one_warning(edited(kTinyParts, kMotorCurrent,
                         std::string(kMotorCurrent) + "    shaft: {diameter: 20 mm, key: 11 mm}\n"),
                  2, "wider than half the shaft"));
  EXPECT_TRUE(one_warning(
      edited(kTinyParts, "{from: 12, to: 17}", "{from: 12, to: 17}, bore: 20 mm, key: 11 mm"), 32,
      "wider than half the bore"));
}

TEST(Plausible, AShaftWithAnotherThanTheStandardKeyIsWarnedOf) {
  const auto with = [](const char* shaft) {
    return edited(kTinyParts, kMotorCurrent,
                  std::string(kMotorCurrent) + "    shaft: {" + shaft + "}\n");
  };
  EXPECT_EQ(warnings(with("diameter: 7/8 in, key: 3/16 in")), "");
  EXPECT_EQ(warnings(with("diameter: 22 mm, key: 6 mm")), "");
  EXPECT_EQ(warnings(with("diameter: 7/8 in, key: none")), "");
  EXPECT_EQ(warnings(with("diameter: 7/8 in")), "");
  EXPECT_EQ(warnings(with("diameter: 5 mm, key: 2 mm")), "");  // outside the tables
  EXPECT_TRUE(one_warning(with("diameter: 7/8 in, key: 1/4 in"), 2,
                          "its shaft has a key of 1/4 in; a 7/8 in shaft takes a 3/16 in key (ANSI "
                          "B17.1-1967; NEMA 143T, 145T)"));
  EXPECT_TRUE(one_warning(with("diameter: 24 mm, key: 6 mm"), 2,
                          "a 24 mm shaft takes an 8 mm key (DIN 6885-1; IEC 90)"));
}

TEST(Plausible, AControllerThatDrawsMoreThanItGivesIsWarnedOf) {
  EXPECT_TRUE(one_warning(edited(kTinyParts, "battery: 200 A", "battery: 310 A"), 13,
                          "more from the battery"));
}

TEST(Plausible, CellsAreWarnedOf) {
  EXPECT_EQ(warnings(edited(kTinyParts, "0.7 mohm", "6.4 mohm")), "");
  EXPECT_TRUE(one_warning(edited(kTinyParts, "0.7 mohm", "6.6 mohm"), 20, "sags by 21 %"));
  EXPECT_TRUE(one_warning(edited(kTinyParts, "peak: 300 A", "peak: 300 A, charge: 410 A"), 20,
                          "4.1 times its capacity"));
  EXPECT_TRUE(one_warning(edited(kTinyParts, "chemistry: lfp", "chemistry: lead_acid"), 20,
                          "without `peukert`"));
  EXPECT_TRUE(one_warning(edited(kTinyParts, "    capacity: 100 Ah\n",
                                 "    capacity: 100 Ah\n    empty_voltage: 3.63 V\n"),
                          20, "gives no current"));
  EXPECT_TRUE(one_warning(edited(kTinyParts, "    capacity: 100 Ah\n",
                                 "    capacity: 100 Ah\n    empty_voltage: 3.25 V\n"),
                          20, "range counts the charge above the cut-off only"));
}

TEST(Plausible, AChargerForEveryVoltageIsWarnedOf) {
  EXPECT_TRUE(one_warning(std::string(kTinyParts) +
                              "chargers:\n  - {id: well-58, chemistries: [lfp], full_voltage: "
                              "{min: 50 V, max: 230 V}, current: 20 A, price: 150}\n",
                          36, "not the mains"));
}

TEST(Plausible, HubsAreWarnedOf) {
  // Largest hub under a 420 chain at 12 teeth: 12.7 (cot 15 deg - 1) - 0.76 = 33.94 mm.
  const auto with = [](const char* hub) {
    return edited(kTinyParts, "{from: 12, to: 17}",
                  std::string("{from: 12, to: 17}, bore: 20 mm, key: 5 mm, hub_diameter: ") + hub);
  };
  EXPECT_EQ(warnings(with("33.9 mm")), "");
  EXPECT_TRUE(one_warning(with("34 mm"), 32, "at 12 teeth"));
  EXPECT_EQ(warnings(with("28 mm")), "");
  EXPECT_TRUE(one_warning(with("27.9 mm"), 32, "always rejected"));
}

TEST(Plausible, ABoltCircleOutsideTheTeethIsWarnedOf) {
  // Pitch diameter of 40 teeth at 12.7 mm: 161.9 mm.
  const auto with = [](const char* circle) {
    return edited(kTinyParts, "price: 30", std::string("bolt_circle: ") + circle + ", price: 30");
  };
  EXPECT_EQ(warnings(with("161 mm")), "");
  EXPECT_TRUE(one_warning(with("162 mm"), 34, "outside the teeth"));
}

TEST(Plausible, APriceOfZeroIsWarnedOf) {
  EXPECT_TRUE(one_warning(edited(kTinyParts, "price: 640", "price: 0"), 2, "`owned`"));
  EXPECT_TRUE(one_warning(edited(kTinyParts, "130, price: 26", "130, price: 0"), 30, "`owned`"));
}

}  // namespace
}  // namespace sprocketry::test
