#include "parts/tyre_size.hpp"

#include <gtest/gtest.h>

#include <string>

#include "model/tyre.hpp"

namespace sprocketry::parts {
namespace {

struct Marking {
  const char* text;
  double width;   // m
  double aspect;  // height over width
  double rim;     // m
};

TEST(TyreSizes, AreReadInEveryFormThatTheTradeStamps) {
  const Marking markings[] = {
      {"90/90-18", 0.090, 0.90, 0.4572},     {"120/70 R17", 0.120, 0.70, 0.4318},
      {"120/70R17", 0.120, 0.70, 0.4318},    {"120/70ZR17", 0.120, 0.70, 0.4318},
      {"120/70 ZR 17", 0.120, 0.70, 0.4318}, {"120/70-ZR17", 0.120, 0.70, 0.4318},
      {"130/90B16", 0.130, 0.90, 0.4064},    {"100/90 - 19", 0.100, 0.90, 0.4826},
      {" 80/100-21 ", 0.080, 1.00, 0.5334},  {"3.00-18", 0.0762, 1.00, 0.4572},
      {"3-18", 0.0762, 1.00, 0.4572},        {"2.75-18", 0.06985, 1.00, 0.4572},
      {"2 3/4-18", 0.06985, 1.00, 0.4572},   {"2 1/4 - 17", 0.05715, 1.00, 0.4318},
      {"4.10-19", 0.10414, 1.00, 0.4826},    {"4.25/85-18", 0.10795, 0.85, 0.4572},
      {"3.25H19", 0.08255, 1.00, 0.4826},    {"3.50-10", 0.0889, 1.00, 0.254},
  };
  for (const Marking& marking : markings) {
    SCOPED_TRACE(marking.text);
    const auto size = parse_tyre_size(marking.text);
    ASSERT_TRUE(size.has_value()) << size.error();
    EXPECT_DOUBLE_EQ(size->width, marking.width);
    EXPECT_DOUBLE_EQ(size->aspect_ratio, marking.aspect);
    EXPECT_EQ(size->rim_diameter, marking.rim);
  }
}

TEST(TyreSizes, MayBeFollowedByWhatElseIsStampedThere) {
  for (const char* text :
       {"120/70 ZR17 M/C (58W)", "120/70ZR17M/C 58W TL", "90/90-18 M/C 51P", "100/90-19 57H TT",
        "3.00-18 REINF 52P", "3.50-10 51J 4PR", "150/70-17 108V"}) {
    EXPECT_TRUE(parse_tyre_size(text).has_value()) << text;
  }
}

TEST(TyreSizes, ThatAreNoneAreRefusedWithAReasonAndAnExample) {
  struct Row {
    const char* text;
    const char* reason;
  };
  const Row rows[] = {
      {"", "begins with its width"},
      {"large", "begins with its width"},
      {"-90/90-18", "begins with its width"},
      {"nan/90-18", "begins with its width"},
      {"MH90-18", "begins with its width"},
      {"3.-18", "begins with its width"},
      {"2 4/3-18", "begins with its width"},
      {"2 0/0-18", "begins with its width"},
      {"2 1/0-18", "begins with its width"},
      {"90/-18", "after `/`"},
      {"90/x-18", "after `/`"},
      {"2.75", "stands `-` or `R`"},
      {"3.0018", "stands `-` or `R`"},
      {"3.00 18", "stands `-` or `R`"},
      {"120/7017", "stands `-` or `R`"},
      {"3.00x18", "stands `-` or `R`"},
      {"3,00-18", "stands `-` or `R`"},
      {"90/90.5-18", "stands `-` or `R`"},
      {"3.00-", "rim code after"},
      {"3.00--", "rim code after"},
      {"120/70 Z17", "stands `-` or `R`"},
      {"90/90-18x", "`x` is no part"},
      {"90/90-18.5", "`.5` is no part"},
      {"90/90-1851P", "`P` is no part"},
      {"90/90-18 front", "`front` is no part"},
      {"90/90-18 1234P", "`1234P` is no part"},
      {"90/90-18M/CTL", "`TL` is no part"},
      {"120-17", "states its aspect ratio"},
      {"25/90-18", "width is outside"},
      {"450/90-18", "width is outside"},
      {"0.5-18", "width is outside"},
      {"12-18", "width is outside"},
      {"90/10-18", "aspect ratio is outside"},
      {"90/120-18", "aspect ratio is outside"},
      {"90/90-3", "rim code is outside"},
      {"90/90-31", "rim code is outside"},
      {"90/90-99999999999999999999", "rim code is outside"},
      {"90/90-18 M/C 51P M/C 51P M/C 51P M/C 51P M/C", "not that long"},
  };
  for (const Row& row : rows) {
    SCOPED_TRACE(row.text);
    const auto size = parse_tyre_size(row.text);
    ASSERT_FALSE(size.has_value());
    EXPECT_NE(size.error().find(row.reason), std::string::npos) << size.error();
    EXPECT_NE(size.error().find("90/90-18"), std::string::npos) << size.error();
  }
}

TEST(TyreSizes, AtTheEndsOfTheirRangesAreAccepted) {
  for (const char* text : {"40/20-4", "400/110-30", "1-4", "10.00-30"}) {
    EXPECT_TRUE(parse_tyre_size(text).has_value()) << text;
  }
}

TEST(TyreSizes, GiveTheDiametersOfTheRuleForMetricAndInchMarkings) {
  // D = d + 2 H, H = W x aspect, 25.4 mm to the inch: the rule of UN R75 and ISO 5751 (from
  // memory); 120/80-18 and 120/90-18 printed by a tyre maker (seen), the others computed elsewhere
  // to 0.1 mm. Tolerance: half of the last digit.
  struct Row {
    const char* text;
    double diameter;  // mm
  };
  const Row rows[] = {
      {"80/90-18", 601.2},  {"90/90-18", 619.2},  {"100/90-18", 637.2}, {"120/90-18", 673.2},
      {"120/80-18", 649.2}, {"100/90-19", 662.6}, {"90/90-21", 695.4},  {"80/100-17", 591.8},
      {"120/70-17", 599.8}, {"150/60-17", 611.8}, {"130/90-16", 640.4}, {"90/90-12", 466.8},
      {"100/90-10", 434.0}, {"2.75-18", 596.9},   {"3.00-18", 609.6},   {"3.50-18", 635.0},
      {"3.00-21", 685.8},   {"3.50-10", 431.8},   {"5.00-16", 660.4}};
  for (const Row& row : rows) {
    const auto size = parse_tyre_size(row.text);
    ASSERT_TRUE(size.has_value()) << row.text;
    const double circumference =
        model::rolling_circumference(size->width, size->aspect_ratio, size->rim_diameter);
    EXPECT_NEAR(circumference / 3.14159265358979 * 1e3, row.diameter, 0.05 + 1e-9) << row.text;
  }
}

TEST(TyreSizes, GiveTheFreeCircumferenceOfTheDesignDiameter) {
  // Free circumference of the design diameter in m, computed elsewhere by the same rule: 0.00001 m.
  struct Row {
    const char* text;
    double circumference;
  };
  for (const Row& row : {Row{"80/90-18", 1.88873}, Row{"110/90-16", 1.89878},
                         Row{"3.00-18", 1.91511}, Row{"4.00-18", 2.07471}}) {
    const auto size = parse_tyre_size(row.text);
    ASSERT_TRUE(size.has_value()) << row.text;
    EXPECT_NEAR(model::rolling_circumference(size->width, size->aspect_ratio, size->rim_diameter),
                row.circumference, 0.00001)
        << row.text;
  }
}

}  // namespace
}  // namespace sprocketry::parts
