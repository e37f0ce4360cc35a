// Which chain runs on which sprocket, and the sprocket's own sizes, against published tables and
// statements. "Seen": read in a public copy of the text; "from memory": recalled from the named
// publication.
#include "parts/interchange.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "model/sprocket.hpp"
#include "parts/standards.hpp"

namespace sprocketry::parts {
namespace {

constexpr double kInch = 25.4e-3;  // m

ChainPart chain_of(std::string size) {
  ChainPart chain;
  chain.size = std::move(size);
  return chain;
}

TEST(ToothThickness, IsThatOfThePublishedTables) {
  // ANSI B29.1 nominal tooth thickness in inches: two public tables (seen), printed to 0.001 in.
  // The tables round the inner width and its fraction of an inch differently: 0.001 in.
  constexpr struct {
    const char* size;
    double thickness;
  } kRows[] = {{"25", 0.110}, {"35", 0.168}, {"41", 0.227}, {"40", 0.284},
               {"50", 0.343}, {"60", 0.459}, {"80", 0.575}};
  for (const auto& row : kRows) {
    const ChainSize* size = find_chain_size(row.size);
    ASSERT_NE(size, nullptr);
    EXPECT_NEAR(model::tooth_thickness(size->inner_width) / kInch, row.thickness, 1.01e-3)
        << row.size;
  }
}

TEST(ToothThickness, OfMotorcycleSizesFollowsTheSameFormula) {
  // Computed elsewhere from 0.93 W - 0.006 in, printed to 0.01 mm; 0.006 in is 0.1524 mm, not 0.15.
  constexpr struct {
    const char* size;
    double thickness;  // mm
  } kRows[] = {{"415", 4.27}, {"420", 5.75}, {"425", 7.23}, {"428", 7.23},
               {"520", 5.75}, {"525", 7.23}, {"530", 8.71}, {"630", 8.71}};
  for (const auto& row : kRows) {
    const ChainSize* size = find_chain_size(row.size);
    ASSERT_NE(size, nullptr);
    EXPECT_NEAR(model::tooth_thickness(size->inner_width) * 1e3, row.thickness, 0.01) << row.size;
  }
}

// Interchange statements of a chain maker's textbook, two lists of motorcycle chain and ANSI
// B29.1's table (seen), or computed from those dimensions.
struct Statement {
  const char* chain;
  const char* sprocket;
  Interchange verdict;
  const char* says;
};
constexpr Statement kStatements[] = {
    {"420", "41", Interchange::kStandard, ""},
    {"41", "420", Interchange::kStandard, ""},
    {"425", "40", Interchange::kStandard, ""},
    {"40", "425", Interchange::kStandard, ""},
    {"530", "50", Interchange::kStandard, ""},
    {"50", "530", Interchange::kStandard, ""},
    {"428H", "428", Interchange::kStandard, ""},
    {"428", "428MH", Interchange::kStandard, ""},
    // The same pitch and roller as 41 and 420, the tooth thicker than the chain is wide.
    {"415", "420", Interchange::kRefused, "5.76 mm thick, the chain 4.76 mm wide"},
    {"415", "41", Interchange::kRefused, "tooth wider than the chain"},
    {"420", "415", Interchange::kNotStandard, "wears faster"},
    // 8.51 against 7.92.
    {"428", "40", Interchange::kRefused, "other roller: the chain has 8.51 mm"},
    {"40", "428", Interchange::kRefused, "cut for 8.51 mm"},
    {"428", "420", Interchange::kRefused, "other roller"},
    {"420", "428", Interchange::kRefused, "tooth wider than the chain"},
    // A 50 sprocket (8.71 mm tooth) will not enter 6.35 or 7.94 mm.
    {"520", "50", Interchange::kRefused, "8.71 mm thick, the chain 6.35 mm wide"},
    {"525", "50", Interchange::kRefused, "8.71 mm thick, the chain 7.94 mm wide"},
    {"520", "525", Interchange::kRefused, "tooth wider than the chain"},
    {"525", "520", Interchange::kNotStandard, "5.76 mm thick"},
    {"50", "520", Interchange::kNotStandard, "5.76 mm thick"},
    // A 60 sprocket (11.66 mm tooth) does not fit 630.
    {"630", "60", Interchange::kRefused, "11.66 mm thick, the chain 9.53 mm wide"},
    {"60", "630", Interchange::kNotStandard, "8.71 mm thick"},
    // 41 on 40 does not enter; 40 on 41 rides high on a thin tooth.
    {"41", "40", Interchange::kRefused, "7.23 mm thick, the chain 6.35 mm wide"},
    {"40", "41", Interchange::kNotStandard, "ride high"},
    {"40", "50", Interchange::kRefused, "other pitch"},
    {"520", "420", Interchange::kRefused, "the chain has 15.88 mm"},
};

TEST(Interchange, IsWhatThePublishedStatementsSay) {
  for (const Statement& s : kStatements) {
    SCOPED_TRACE(std::string(s.chain) + " on " + s.sprocket);
    const ChainPart chain = chain_of(s.chain);
    ChainPart stated = chain;
    stated.model.pitch = chain_format(s.chain)->pitch;
    EXPECT_EQ(interchange(stated, s.sprocket), s.verdict);
    const std::string reason = interchange_reason(stated, s.sprocket);
    EXPECT_EQ(reason.empty(), s.verdict == Interchange::kStandard) << reason;
    EXPECT_NE(reason.find(s.says), std::string::npos) << reason;
  }
}

TEST(Interchange, Refuses532On530SprocketsByTheRoller) {
  // 532 has rollers of 11.10 mm (seen) at the pitch and width of 530.
  ChainPart chain = chain_of("532");
  chain.model.pitch = 15.875e-3;
  chain.roller_diameter = 11.10e-3;
  chain.inner_width = 9.53e-3;
  EXPECT_EQ(interchange(chain, "530"), Interchange::kRefused);
  EXPECT_EQ(interchange(chain, "532"), Interchange::kStandard);
}

TEST(Interchange, Takes08BOn428Sprockets) {
  // ISO 606 08B: rollers of 8.51 mm (from memory), 12.7 x 7.75 mm (seen).
  ChainPart chain = chain_of("08B");
  chain.model.pitch = 12.7e-3;
  chain.roller_diameter = 8.51e-3;
  chain.inner_width = 7.75e-3;
  EXPECT_EQ(interchange(chain, "428"), Interchange::kStandard);
}

TEST(Sprocket, HasARootAndCaliperDiameterThatAgreeForEvenCounts) {
  // ASME B29.1 (seen): the caliper diameter of an even count is the bottom diameter. #40, 12 teeth:
  // 1.6199 in by the standard's formulas; #50, 13 teeth: 2.1926 in over opposite gaps, 2.2116 at
  // the bottom (computed).
  EXPECT_NEAR(model::root_diameter(0.5, 0.312, 12), 1.6199, 0.51e-4);
  EXPECT_DOUBLE_EQ(model::root_diameter(0.5, 0.312, 12), model::caliper_diameter(0.5, 0.312, 12));
  EXPECT_NEAR(model::root_diameter(0.625, 0.4, 13), 2.2116, 0.51e-4);
  EXPECT_NEAR(model::caliper_diameter(0.625, 0.4, 13), 2.1926, 0.51e-4);
}

}  // namespace
}  // namespace sprocketry::parts
