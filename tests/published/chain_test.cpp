// Chain geometry against handbook tables and the worked examples of four textbooks. "Seen": read in
// a public copy of the text; "from memory": recalled from the named publication; "computed":
// recalculated elsewhere from stated inputs.
#include "model/chain.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "model/constants.hpp"

namespace sprocketry::model {
namespace {

constexpr double kInch = 25.4e-3;          // m
constexpr double kDegree = kPi / 180;      // rad
constexpr double kFourDigits = 0.51e-4;    // in, a table printed to 0.0001
constexpr double kThreeDigits = 0.501e-3;  // in, a table printed to 0.001
// The same, where the table takes 0.030 in under the chain and the engine 0.76 mm.
constexpr double kHubDigits = kThreeDigits + 0.030 - 0.76 / 25.4;  // in

struct SprocketRow {
  int teeth;
  double pitch_40, outside_40, caliper_40, hub_40;  // in
  double pitch_50, outside_50, caliper_50, hub_50;  // in
};

// #40 (pitch 0.5, roller 0.312) and #50 (0.625, 0.400): ASME B29.1's formulas (computed). For #40
// the pitch diameters agree with a maker's catalogue to 0.001 in and the outside diameters to
// 0.01 in (seen).
constexpr SprocketRow kSprockets[] = {
    {9, 1.4619, 1.674, 1.1277, 0.844, 1.8274, 2.092, 1.3996, 1.062},
    {10, 1.6180, 1.839, 1.3060, 1.009, 2.0225, 2.299, 1.6225, 1.269},
    {11, 1.7747, 2.003, 1.4447, 1.173, 2.2184, 2.504, 1.7958, 1.474},
    {12, 1.9319, 2.166, 1.6199, 1.336, 2.4148, 2.708, 2.0148, 1.678},
    {13, 2.0893, 2.329, 1.7621, 1.499, 2.6116, 2.911, 2.1926, 1.881},
    {14, 2.2470, 2.491, 1.9350, 1.661, 2.8087, 3.113, 2.4087, 2.083},
    {15, 2.4049, 2.652, 2.0797, 1.822, 3.0061, 3.315, 2.5896, 2.285},
    {16, 2.5629, 2.814, 2.2509, 1.984, 3.2036, 3.517, 2.8036, 2.487},
    {17, 2.7211, 2.975, 2.3975, 2.145, 3.4014, 3.718, 2.9869, 2.688},
    {18, 2.8794, 3.136, 2.5674, 2.306, 3.5992, 3.920, 3.1992, 2.890},
    {19, 3.0378, 3.296, 2.7154, 2.466, 3.7972, 4.120, 3.3842, 3.090},
    {20, 3.1962, 3.457, 2.8842, 2.627, 3.9953, 4.321, 3.5953, 3.291},
    {21, 3.3548, 3.617, 3.0334, 2.787, 4.1934, 4.522, 3.7817, 3.492},
    {22, 3.5133, 3.778, 3.2013, 2.948, 4.3917, 4.722, 3.9917, 3.692},
    {23, 3.6720, 3.938, 3.3514, 3.108, 4.5900, 4.922, 4.1793, 3.892},
    {24, 3.8306, 4.098, 3.5186, 3.268, 4.7883, 5.122, 4.3883, 4.092},
    {25, 3.9894, 4.258, 3.6695, 3.428, 4.9867, 5.322, 4.5769, 4.292},
};

TEST(Sprocket, HasTheDiametersOfTheTableFor40Chain) {
  const double pitch = 0.5 * kInch;
  for (const SprocketRow& row : kSprockets) {
    SCOPED_TRACE(row.teeth);
    EXPECT_NEAR(pitch_diameter(pitch, row.teeth) / kInch, row.pitch_40, kFourDigits);
    EXPECT_NEAR(outside_diameter(pitch, row.teeth) / kInch, row.outside_40, kThreeDigits);
    EXPECT_NEAR(caliper_diameter(pitch, 0.312 * kInch, row.teeth) / kInch, row.caliper_40,
                kFourDigits);
    EXPECT_NEAR(largest_hub_diameter(pitch, row.teeth) / kInch, row.hub_40, kHubDigits);
  }
}

TEST(Sprocket, HasTheDiametersOfTheTableFor50Chain) {
  const double pitch = 0.625 * kInch;
  for (const SprocketRow& row : kSprockets) {
    SCOPED_TRACE(row.teeth);
    EXPECT_NEAR(pitch_diameter(pitch, row.teeth) / kInch, row.pitch_50, kFourDigits);
    EXPECT_NEAR(outside_diameter(pitch, row.teeth) / kInch, row.outside_50, kThreeDigits);
    EXPECT_NEAR(caliper_diameter(pitch, 0.400 * kInch, row.teeth) / kInch, row.caliper_50,
                kFourDigits);
    EXPECT_NEAR(largest_hub_diameter(pitch, row.teeth) / kInch, row.hub_50, kHubDigits);
  }
}

TEST(Sprocket, HasTheCaliperDiametersOfAMakersCatalogue) {
  // Catalogue of #40 plain bore sprockets (seen), printed to 0.001 in.
  constexpr struct {
    int teeth;
    double caliper;  // in
  } kCatalogue[] = {{9, 1.127},  {10, 1.305}, {11, 1.444}, {12, 1.620}, {13, 1.761},
                    {15, 2.079}, {17, 2.397}, {19, 2.715}, {21, 3.033}, {25, 3.669}};
  for (const auto& row : kCatalogue) {
    EXPECT_NEAR(caliper_diameter(0.5 * kInch, 0.312 * kInch, row.teeth) / kInch, row.caliper,
                1.2e-3)
        << row.teeth;
  }
}

// Length in pitches by the formula of the handbooks (Shigley Eq. 17-34, seen; ISO 10823), and its
// inverse (Eq. 17-35, seen).
double handbook_length(int small, int large, double centre) {
  const double turn = (large - small) / (2 * kPi);
  return 2 * centre + 0.5 * (small + large) + turn * turn / centre;
}

double handbook_centre(int small, int large, double links) {
  const double a = links - 0.5 * (small + large);
  const double turn = (large - small) / (2 * kPi);
  return 0.25 * (a + std::sqrt(a * a - 8 * turn * turn));
}

struct WorkedDrive {
  const char* source;
  int front, rear;
  double centre;           // pitches, as the book starts
  double length;           // pitches, as the book prints it
  double length_rounding;  //
  int links;               // what the book rounds to
  double fitted;           // pitches, the centre distance of that many links
  double fitted_rounding;  //
};

const WorkedDrive kDrives[] = {
    {"Shigley, Example 17-5 (from memory, recomputed)", 17, 34, 25, 75.79, 0.005, 76, 25.104, 5e-4},
    {"Mott, Example 7-3 (seen)", 17, 65, 30, 102.945, 0.0005, 104, 30.5447, 5e-5},
    {"Bhandari, Example 14.3 (seen)", 21, 63, 500 / 12.7, 121.875097, 5e-7, 122, 500.804717 / 12.7,
     5e-7},
    {"Bhandari, Example 14.4 (seen; 763.496 mm after 0.2 % of sag)", 17, 34, 40, 105.683011, 5e-7,
     106, 763.496160 / 0.998 / 19.05, 5e-7},
    {"Shigley, problem with a quadruple #40 (seen)", 21, 84, 40, 135.01, 0.006, 0, 0, 0},
    {"Journal example, #50 (seen, C = 36 pitches inferred)", 20, 63, 36, 114.8, 0.05, 114, 35.592,
     5e-4},
};

TEST(ChainLength, OfTheWorkedExamplesIsALittleAboveTheHandbooks) {
  // The formula of the handbooks leaves out terms of a higher order: the exact length is 0.0003
  // (17 and 34 teeth) to 0.0134 of a link (21 and 84) above it, computed.
  for (const WorkedDrive& drive : kDrives) {
    SCOPED_TRACE(drive.source);
    const double handbook = handbook_length(drive.front, drive.rear, drive.centre);
    EXPECT_NEAR(handbook, drive.length, drive.length_rounding);
    const double exact = chain_length(1.0, drive.front, drive.rear, drive.centre);
    EXPECT_GT(exact, handbook);
    EXPECT_LT(exact, handbook + 0.0135);
  }
}

TEST(ChainLength, IsTheExactOneOfTwoWorkedExamples) {
  // Bhandari 14.3 and the journal's example by two tangents and two arcs (computed).
  EXPECT_NEAR(chain_length(12.7e-3, 21, 63, 0.5), 121.8778, 5e-5);
  EXPECT_NEAR(chain_length(15.875e-3, 20, 63, 36 * 15.875e-3), 114.805, 5e-4);
}

TEST(CentreDistance, OfTheWorkedExamplesIsWithinAHundredthPitchOfTheHandbooks) {
  for (const WorkedDrive& drive : kDrives) {
    if (drive.links == 0) continue;
    SCOPED_TRACE(drive.source);
    EXPECT_NEAR(handbook_centre(drive.front, drive.rear, drive.links), drive.fitted,
                drive.fitted_rounding);
    const auto exact = centre_distance(1.0, drive.front, drive.rear, drive.links);
    ASSERT_TRUE(exact.has_value());
    EXPECT_LT(*exact, drive.fitted + drive.fitted_rounding);
    EXPECT_GT(*exact, drive.fitted - 0.006);
  }
}

TEST(CentreDistance, IsTheExactOneOfTwoWorkedExamples) {
  // Bhandari 14.3 and the journal's example (computed).
  EXPECT_NEAR(centre_distance(12.7e-3, 21, 63, 122).value_or(0), 0.500787, 5e-7);
  EXPECT_NEAR(centre_distance(15.875e-3, 20, 63, 114).value_or(0) / 15.875e-3, 35.590, 5e-4);
}

TEST(ChainFit, RoundsTheWorkedExamplesUpToAnEvenCount) {
  // An adjuster that starts at the book's centre distance and has a pitch of travel, which two
  // links always cross. The quadruple #40 is printed with 135 links: odd, so 136.
  constexpr int kEven[] = {76, 104, 122, 106, 136};
  for (std::size_t i = 0; i < std::size(kEven); ++i) {
    const WorkedDrive& drive = kDrives[i];
    SCOPED_TRACE(drive.source);
    const auto fit =
        fit_chain(1.0, drive.front, drive.rear, drive.centre, drive.centre + 1.001, false);
    ASSERT_TRUE(fit.has_value());
    EXPECT_EQ(fit->links, kEven[i]);
  }
}

TEST(WrapAngle, IsThatOfTheWorkedExample) {
  // Mott, Example 7-3 (seen): D1 2.721 in, D2 10.349 in, C 15.272 in; 151.08 deg (computed).
  const double pitch = 0.5 * kInch;
  EXPECT_NEAR(pitch_diameter(pitch, 17) / kInch, 2.721, 0.0005);
  EXPECT_NEAR(pitch_diameter(pitch, 65) / kInch, 10.349, 0.0005);
  EXPECT_NEAR(wrap_angle(pitch, 17, 65, 15.272 * kInch) / kDegree, 151.08, 0.005);
  // Bhandari, Example 14.4 (seen): the pitch diameters in mm.
  EXPECT_NEAR(pitch_diameter(19.05, 17), 103.673741, 5e-7);
  EXPECT_NEAR(pitch_diameter(19.05, 34), 206.462975, 5e-7);
}

TEST(WrapAngle, FallsTo120DegreesAtADifferenceOfPiTimesTheCentreDistance) {
  // N2 - N1 = pi C: 94 teeth at 30 pitches (computed). Nearly 1 deg per tooth there.
  EXPECT_NEAR(wrap_angle(1.0, 17, 17 + 94, 30) / kDegree, 120, 0.5);
}

TEST(Chain, RunsUnevenlyAsInTheTable) {
  // 1 - cos(pi/N) in percent (computed); Shigley's (pi/N)(1/sin - 1/tan) relative to the mean
  // speed (formula from memory) is up to 2 % of itself larger.
  constexpr struct {
    int teeth;
    double drop, shigley;  // %
  } kTable[] = {{9, 6.03, 6.15},  {10, 4.89, 4.98}, {11, 4.05, 4.11}, {12, 3.41, 3.45},
                {13, 2.91, 2.93}, {14, 2.51, 2.53}, {15, 2.19, 2.20}, {16, 1.92, 1.93},
                {17, 1.70, 1.71}, {18, 1.52, 1.53}, {19, 1.36, 1.37}, {20, 1.23, 1.24},
                {21, 1.12, 1.12}, {23, 0.93, 0.93}, {25, 0.79, 0.79}, {30, 0.55, 0.55},
                {40, 0.31, 0.31}, {50, 0.20, 0.20}, {60, 0.14, 0.14}};
  for (const auto& row : kTable) {
    EXPECT_NEAR(100 * chordal_speed_variation(row.teeth), row.drop, 0.0051) << row.teeth;
    EXPECT_NEAR(100 * chordal_speed_variation(row.teeth), row.shigley, 0.02 * row.shigley + 0.005);
  }
}

TEST(ChainEfficiency, IsThatOfThePinInItsBushing) {
  // Articulation at a friction of 0.10, tight side only (computed): 520 or #50 with a pin of 5.08
  // mm, #40 with 3.96 mm, 420 or #41 with 3.58 mm. Published efficiencies are 96 to 99 % (Burgess
  // and Lodge 2004, seen) with seals and lubrication, which the fixed loss stands for.
  const auto loss = [](double pitch, double pin, int front, int rear) {
    return 100 * (1 - chain_efficiency({pitch, pin, 1, 1, 0, 0.10}, front, rear));
  };
  EXPECT_NEAR(loss(15.875e-3, 5.08e-3, 11, 33), 1.22, 0.005);
  EXPECT_NEAR(loss(15.875e-3, 5.08e-3, 14, 42), 0.96, 0.005);
  EXPECT_NEAR(loss(15.875e-3, 5.08e-3, 17, 51), 0.79, 0.005);
  EXPECT_NEAR(loss(12.7e-3, 3.96e-3, 11, 33), 1.19, 0.005);
  EXPECT_NEAR(loss(12.7e-3, 3.96e-3, 14, 42), 0.93, 0.005);
  EXPECT_NEAR(loss(12.7e-3, 3.58e-3, 14, 42), 0.84, 0.005);
}

}  // namespace
}  // namespace sprocketry::model
