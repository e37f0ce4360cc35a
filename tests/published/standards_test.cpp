// The tables of chain sizes and cell chemistries against published figures. "Seen": read in a
// public copy of the text; "from memory": recalled from the named publication.
#include "parts/standards.hpp"

#include <gtest/gtest.h>

#include <cstddef>

namespace sprocketry::parts {
namespace {

constexpr double kInch = 25.4e-3;                // m
constexpr double kPoundForce = 4.4482216152605;  // N
constexpr double kPoundPerFoot = 1.48816394;     // kg/m
// Three decimals of an inch and two of a millimetre.
constexpr double kTwoRoundings = 0.0005 * kInch + 0.005e-3;  // m

struct AnsiRow {
  const char* name;
  double pitch, roller, width;  // in
  double strength;              // lbf
  double mass;                  // lb/ft
  double pin;                   // in
};

constexpr AnsiRow kAnsiTable[] = {
    {"25", 0.250, 0.130, 0.125, 780, 0.09, 0.0905},  {"35", 0.375, 0.200, 0.188, 1760, 0.21, 0.141},
    {"41", 0.500, 0.306, 0.250, 1500, 0.25, 0.141},  {"40", 0.500, 0.312, 0.312, 3130, 0.42, 0.156},
    {"50", 0.625, 0.400, 0.375, 4880, 0.69, 0.200},  {"60", 0.750, 0.469, 0.500, 7030, 1.00, 0.234},
    {"80", 1.000, 0.625, 0.625, 12500, 1.71, 0.312},
};

TEST(AnsiChainSizes, EqualTheHandbooksTableInInches) {
  // ANSI B29.1-1975 by Shigley, 9th ed., Table 17-19 (seen); pins from a sheet of dimensions
  // (seen). Tolerance: the rounding of both tables; strength 0.1 % (the printed newtons are
  // rounded).
  for (const AnsiRow& row : kAnsiTable) {
    SCOPED_TRACE(row.name);
    const ChainSize* size = find_chain_size(row.name);
    ASSERT_NE(size, nullptr);
    EXPECT_NEAR(size->pitch, row.pitch * kInch, 1e-12);
    EXPECT_NEAR(size->roller_diameter, row.roller * kInch, kTwoRoundings);
    EXPECT_NEAR(size->inner_width, row.width * kInch, kTwoRoundings);
    EXPECT_NEAR(size->pin_diameter, row.pin * kInch, kTwoRoundings);
    EXPECT_NEAR(size->tensile_strength, row.strength * kPoundForce, 1e-3 * size->tensile_strength);
    EXPECT_NEAR(size->mass_per_length, row.mass * kPoundPerFoot, 0.0005);
  }
}

TEST(AnsiChainSizes, AreAsStrongAsTheRuleOfTheStandardSays) {
  // ANSI B29.1 (seen): at least 12 500 lbf times the square of the pitch in inches; #41 is the
  // exception with 1500 lbf. Tolerance 1.2 %: tables round to three digits at most.
  for (const AnsiRow& row : kAnsiTable) {
    SCOPED_TRACE(row.name);
    const ChainSize* size = find_chain_size(row.name);
    ASSERT_NE(size, nullptr);
    const double pitch = size->pitch / kInch;
    const double rule = size->name == "41" ? 1500 : 12500 * pitch * pitch;
    EXPECT_NEAR(size->tensile_strength, rule * kPoundForce, 0.012 * rule * kPoundForce);
  }
}

TEST(AnsiChainSizes, AgreeWithTheMinimumsOfIso606) {
  // ISO 606, strength in kN and least inner width in mm (from memory). Tolerance 1.2 % of the
  // strength; the width is a minimum, so the nominal lies above it by at most 0.2 mm.
  struct Row {
    const char* code;
    double strength, width;
  };
  for (const Row& row :
       {Row{"04C", 3.5, 3.10}, Row{"06C", 7.9, 4.68}, Row{"085", 6.7, 6.25}, Row{"08A", 13.9, 7.85},
        Row{"10A", 21.8, 9.40}, Row{"12A", 31.3, 12.57}, Row{"16A", 55.6, 15.75}}) {
    SCOPED_TRACE(row.code);
    const ChainSize* size = find_chain_size(row.code);
    ASSERT_NE(size, nullptr);
    EXPECT_NEAR(size->tensile_strength, row.strength * 1e3, 12 * row.strength);
    EXPECT_GT(size->inner_width, row.width * 1e-3);
    EXPECT_LT(size->inner_width, (row.width + 0.2) * 1e-3);
  }
}

TEST(MotorcycleChainSizes, HaveThePublishedPitchRollerAndWidth) {
  // Two public lists of motorcycle chain (seen); 425 from a chain maker's textbook (width seen).
  // Tolerance 0.03 mm for the roller (7.75 and 7.77 are both printed) and 0.2 mm for the width,
  // about which the lists differ (415: 4.68 to 4.88, 428: 7.75 to 7.95).
  struct Row {
    const char* name;
    double pitch, roller, width;  // mm
  };
  for (const Row& row : {Row{"415", 12.70, 7.77, 4.76}, Row{"420", 12.70, 7.77, 6.35},
                         Row{"425", 12.70, 7.92, 7.95}, Row{"428", 12.70, 8.51, 7.95},
                         Row{"520", 15.875, 10.16, 6.35}, Row{"525", 15.875, 10.16, 7.95},
                         Row{"530", 15.875, 10.16, 9.53}, Row{"630", 19.05, 11.91, 9.53}}) {
    SCOPED_TRACE(row.name);
    const ChainSize* size = find_chain_size(row.name);
    ASSERT_NE(size, nullptr);
    EXPECT_NEAR(size->pitch, row.pitch * 1e-3, 1e-12);
    EXPECT_NEAR(size->roller_diameter, row.roller * 1e-3, 0.03e-3);
    EXPECT_NEAR(size->inner_width, row.width * 1e-3, 0.2e-3);
  }
}

TEST(MotorcycleChainSizes, CarryPitchAndWidthInTheirNumber) {
  // The number's first digit is the pitch in 1/8 in, the other two the inner width in 1/80 in
  // (seen). Nominal: 428 breaks the pattern of widths (seen). Exact.
  for (const char* name : {"415", "420", "425", "520", "525", "530", "630"}) {
    SCOPED_TRACE(name);
    const ChainSize* size = find_chain_size(name);
    ASSERT_NE(size, nullptr);
    EXPECT_NEAR(size->pitch, (name[0] - '0') * kInch / 8, 1e-12);
    EXPECT_NEAR(size->inner_width, ((name[1] - '0') * 10 + (name[2] - '0')) * kInch / 80, 1e-12);
  }
}

TEST(MotorcycleChainSizes, ShareTheDimensionsOfTheIndustrialSizeWhoseSprocketTheyRunOn) {
  // A chain maker's textbook (seen): 425 and 530 have the tooth form of 40 and 50. 420 and 41 have
  // the same three dimensions in both tables. Exact.
  const char* const pairs[][2] = {{"425", "40"}, {"530", "50"}, {"420", "41"}};
  for (const auto& [motorcycle, industrial] : pairs) {
    SCOPED_TRACE(motorcycle);
    const ChainSize* a = find_chain_size(motorcycle);
    const ChainSize* b = find_chain_size(industrial);
    ASSERT_NE(a, nullptr);
    ASSERT_NE(b, nullptr);
    EXPECT_EQ(a->pitch, b->pitch);
    EXPECT_EQ(a->roller_diameter, b->roller_diameter);
    EXPECT_EQ(a->inner_width, b->inner_width);
    EXPECT_EQ(a->pin_diameter, b->pin_diameter);
  }
}

TEST(MotorcycleChainSizes, OfHalfInchPitchHaveThreeDifferentRollers) {
  // Trade lists (seen): 428 does not run on a sprocket for 40, nor 420 on either.
  EXPECT_LT(find_chain_size("420")->roller_diameter, find_chain_size("40")->roller_diameter);
  EXPECT_LT(find_chain_size("40")->roller_diameter, find_chain_size("428")->roller_diameter);
}

TEST(MotorcycleChainSizes, AreAsStrongAsIso10190AsRemembered) {
  // ISO 10190:2008, minimum strengths in kN (from memory, low confidence: this guards the table
  // against a slip of the pen and proves nothing about the standard). Exact.
  struct Row {
    const char* name;
    double strength;
  };
  for (const Row& row : {Row{"415", 15.6}, Row{"420", 15.6}, Row{"428", 16.7}, Row{"520", 26.5},
                         Row{"525", 26.5}, Row{"530", 26.5}, Row{"630", 35.3}}) {
    EXPECT_NEAR(find_chain_size(row.name)->tensile_strength, row.strength * 1e3, 1e-6) << row.name;
  }
}

// Mean open-circuit voltage over the whole range of charge, V.
double mean_voltage(const Chemistry& chemistry) {
  double sum = 0;
  const auto curve = chemistry.open_circuit;
  for (std::size_t i = 1; i < curve.size(); ++i) {
    sum += (curve[i][0] - curve[i - 1][0]) * (curve[i][1] + curve[i - 1][1]) / 2;
  }
  return sum;
}

TEST(OpenCircuitCurves, HaveTheMeanVoltageOfTheirPublication) {
  // Mean voltages integrated elsewhere from the breakpoints of Sunil, Pattipati, Balasingam, IEEE
  // Trans. Instrum. Meas. 2025 (breakpoints seen): half of the last digit. Lead-acid: the middle of
  // 2.00 and 2.15 V (Larminie, Lowry, eq. 2.10, seen), exact.
  EXPECT_NEAR(mean_voltage(*find_chemistry("lfp")), 3.26833, 5e-6);
  EXPECT_NEAR(mean_voltage(*find_chemistry("nmc")), 3.72608, 5e-6);
  EXPECT_NEAR(mean_voltage(*find_chemistry("lead_acid")), 2.075, 1e-12);
}

TEST(OpenCircuitCurves, LieNearOtherPublishedCurvesOfTheirChemistry) {
  // NMC 811 cell of Chen et al., J. Electrochem. Soc. 167 (2020) 080534, full-cell curve derived
  // from its functions (functions seen): 60 mV from 10 % up. LFP from Afshar et al. (arXiv
  // 1709.03970) with the same graphite: 75 mV between 20 % and 90 %. Flooded lead-acid, rested, a
  // maker's table (from memory): 70 mV per cell between 40 % and full.
  struct Point {
    double charge, voltage;
  };
  const auto at = [](const char* name, double charge) {
    const auto curve = find_chemistry(name)->open_circuit;
    std::size_t i = 1;
    while (curve[i][0] < charge) {
      ++i;
    }
    const double share = (charge - curve[i - 1][0]) / (curve[i][0] - curve[i - 1][0]);
    return curve[i - 1][1] + share * (curve[i][1] - curve[i - 1][1]);
  };
  for (const Point& p : {Point{0.1, 3.2959}, Point{0.3, 3.5814}, Point{0.5, 3.7509},
                         Point{0.7, 3.9479}, Point{0.9, 4.0967}, Point{1.0, 4.2000}}) {
    EXPECT_NEAR(at("nmc", p.charge), p.voltage, 0.060) << p.charge;
  }
  for (const Point& p : {Point{0.2, 3.1685}, Point{0.4, 3.2525}, Point{0.6, 3.2688},
                         Point{0.8, 3.3097}, Point{0.9, 3.3142}}) {
    EXPECT_NEAR(at("lfp", p.charge), p.voltage, 0.075) << p.charge;
  }
  for (const Point& p :
       {Point{0.4, 11.96}, Point{0.6, 12.24}, Point{0.8, 12.50}, Point{1.0, 12.73}}) {
    EXPECT_NEAR(at("lead_acid", p.charge), p.voltage / 6, 0.070) << p.charge;
  }
}

}  // namespace
}  // namespace sprocketry::parts
