// Measurements read as drives, against the link counts and centre distances that textbooks print.
// "Seen": read in a public copy of the text; "from memory": recalled from the named publication.
#include "model/chain_reading.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "model/constants.hpp"

namespace sprocketry::model {
namespace {

constexpr double kInch = 25.4e-3;  // m

struct Example {
  const char* source;
  double pitch;  // m
  int front, rear;
  double centre;           // m, as the book starts
  int links;               // even count that the book takes
  double fitted;           // m, the centre distance that it prints for them
  double fitted_rounding;  // m; the books' formula reaches 0.0002 to 0.006 pitches farther
};

const Example kExamples[] = {
    {"Shigley, Example 17-5: C 43.93 in (from memory)", 1.75 * kInch, 17, 34, 25 * 1.75 * kInch, 76,
     43.93 * kInch, 0.006 * kInch},
    {"Mott, Example 7-3: 104 pitches, 15.272 in (seen)", 0.5 * kInch, 17, 65, 15.0 * kInch, 104,
     15.272 * kInch, 0.003 * kInch},
    {"Bhandari, Example 14.3: 122 links, 500.804717 mm (seen)", 12.7e-3, 21, 63, 0.5, 122,
     0.500804717, 0.02e-3},
    {"Bhandari, Example 14.4: 106 links, 763.496160 mm after 0.002 of sag (seen)", 19.05e-3, 17, 34,
     40 * 19.05e-3, 106, 0.763496160 / 0.998, 0.01e-3},
};

TEST(PublishedReading, FindsTheBooksCountAndCentreDistanceFromATape) {
  for (const Example& e : kExamples) {
    SCOPED_TRACE(e.source);
    const SprocketPair s{e.pitch, 0, e.front, e.rear};
    const ChainReading r = read_centre(s, e.centre);
    EXPECT_TRUE(r.doubts.empty());
    const auto book = std::ranges::find(r.nearby, e.links, &ChainFit::links);
    ASSERT_NE(book, r.nearby.end());
    // The book rounds up: it is the first even count that is not too short.
    EXPECT_GE(e.links, r.links);
    EXPECT_LT(e.links - 2, r.links);
    EXPECT_NEAR(book->centre_distance, e.fitted, e.fitted_rounding);
    // The same chain on the bike, followed along its pins or counted.
    const ChainReading counted = read_count(s, e.links);
    EXPECT_NEAR(counted.centre_distance.value_or(0), e.fitted, e.fitted_rounding);
    const ChainReading loop = read_loop(s, Around::kPitchLine, e.links * e.pitch);
    EXPECT_NEAR(loop.links, e.links, 1e-9);
    EXPECT_NEAR(loop.centre_distance.value_or(0), e.fitted, e.fitted_rounding);
  }
}

TEST(PublishedReading, OfMottsChainIs52InchesLong) {
  // Mott, Example 7-3 (seen): 104 pitches of 0.5 in are 52.0 in.
  const SprocketPair s{0.5 * kInch, 0, 17, 65};
  EXPECT_NEAR(loop_length(s, Around::kPitchLine, 15.272 * kInch) / kInch, 52.0, 0.005);
}

TEST(PublishedReading, OfTheQuadrupleChainIsBetween134And136) {
  // Shigley's problem (seen): 20 in, 21 and 84 teeth, 135.01 pitches of 0.5 in, 67.5 in: an odd
  // count, so 134 or 136 in practice.
  const ChainReading r = read_centre({0.5 * kInch, 0, 21, 84}, 20 * kInch);
  EXPECT_NEAR(r.links * 0.5, 67.5, 0.02);
  ASSERT_EQ(r.nearby.size(), 2U);
  EXPECT_EQ(r.nearby[0].links, 134);
  EXPECT_EQ(r.nearby[1].links, 136);
}

TEST(PublishedReading, OfTheJournalsChainIs35Point59Pitches) {
  // Journal example, #50 (seen, C inferred): 114 pitches and 35.59 pitches of centre distance; the
  // 35.8447 that it prints as exact belongs to another length.
  const ChainReading r = read_count({0.625 * kInch, 0, 20, 63}, 114);
  EXPECT_NEAR(r.centre_distance.value_or(0) / (0.625 * kInch), 35.59, 0.005);
}

TEST(PublishedReading, KeepsMottsSprocketsApart) {
  // Mott, Example 7-3 (seen): at 15 in, pitch circles of 2.721 and 10.349 in; a drive of them is
  // possible down to the sum of the outside radii, 2.975/2 (catalogue, seen) + p (0.6 + cot)/2.
  const double rear = 0.5 * (0.6 + 1 / std::tan(kPi / 65));
  EXPECT_NEAR(least_centre_distance(0.5 * kInch, 17, 65) / kInch, (2.975 + rear) / 2, 0.001);
}

TEST(PublishedReading, OfARestingMotorcycleLiesInTheMiddle) {
  // 13 and 42 teeth, 520 chain, 620 mm from shaft to axle: 39 pitches (computed).
  const ChainReading r = read_centre({15.875e-3, 10.16e-3, 13, 42}, 0.620);
  EXPECT_TRUE(r.doubts.empty());
  EXPECT_NEAR(0.620 / 15.875e-3, 39, 0.06);
  // Lp = 2C + (N1 + N2)/2 + (N2 - N1)^2/(4 pi^2 C), Shigley Eq. 17-34 (seen).
  const double c = 0.620 / 15.875e-3;
  EXPECT_NEAR(r.links, 2 * c + 27.5 + 29.0 * 29.0 / (4 * kPi * kPi * c), 0.011);
}

}  // namespace
}  // namespace sprocketry::model
