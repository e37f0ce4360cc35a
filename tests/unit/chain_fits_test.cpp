// Link counts inside the adjuster's travel, what to buy for them and what a measurement says.
#include <gtest/gtest.h>

#include <cmath>

#include "model/chain.hpp"
#include "model/chain_order.hpp"
#include "model/chain_reading.hpp"
#include "support/random_bike.hpp"

namespace sprocketry::model {
namespace {

constexpr double kPitch = 12.7e-3;

TEST(ChainFits, AreAllCountsInsideTheTravelAndTheFirstIsTheFit) {
  Dice dice(70);
  int several = 0;
  for (int i = 0; i < 3000; ++i) {
    SCOPED_TRACE(i);
    const int front = dice.between(8, 20);
    const int rear = dice.between(8, 90);
    const double low = dice.between(0.1, 0.8);
    const double high = low + dice.between(0.0, 0.06);
    const bool half_links = dice.chance(0.3);
    const auto fits = chain_fits(kPitch, front, rear, low, high, half_links);
    const auto fit = fit_chain(kPitch, front, rear, low, high, half_links);
    ASSERT_EQ(fit.has_value(), !fits.empty());
    if (fit) {
      EXPECT_EQ(fit->links, fits.front().links);
      EXPECT_EQ(fit->centre_distance, fits.front().centre_distance);
    }
    several += fits.size() > 1 ? 1 : 0;
    // A count belongs to them when its own centre distance, tips clear, lies in the travel.
    std::size_t found = 0;
    for (int links = 10; links < 300; links += half_links ? 1 : 2) {
      const auto centre = centre_distance(kPitch, front, rear, links);
      const double from = std::max(low, least_centre_distance(kPitch, front, rear));
      if (!centre || *centre < from || *centre > high) continue;
      ASSERT_LT(found, fits.size());
      EXPECT_EQ(fits[found].links, links);
      EXPECT_NEAR(fits[found].centre_distance, *centre, 1e-12);
      ++found;
    }
    EXPECT_EQ(found, fits.size());
  }
  EXPECT_GT(several, 500);
}

TEST(ChainFits, OfATravelThatBeginsInsideTheSprocketsAreThoseOfItsRest) {
  // 12 and 60 teeth touch at 152.5 mm; at 90 mm one pitch circle lies inside the other.
  const double touching = least_centre_distance(kPitch, 12, 60);
  const auto all = chain_fits(kPitch, 12, 60, 0.09, 0.30, false);
  ASSERT_GT(all.size(), 5U);
  EXPECT_GE(all.front().centre_distance, touching);
  EXPECT_EQ(all.size(), chain_fits(kPitch, 12, 60, touching, 0.30, false).size());
  EXPECT_EQ(fit_chain(kPitch, 12, 60, 0.09, 0.30, false)->links, all.front().links);
  EXPECT_TRUE(chain_fits(kPitch, 12, 60, 0.09, touching - 1e-6, true).empty());
  EXPECT_FALSE(fit_chain(kPitch, 12, 60, 0.09, touching - 1e-6, true).has_value());
}

TEST(ElongationTakenUp, MakesAWornChainTightAtTheEndOfTheTravel) {
  const double end = 0.592;
  const double worn = elongation_taken_up(kPitch, 12, 60, 126, end);
  EXPECT_GT(worn, 0);
  // So many pitches as the worn chain is long are a chain for just that distance.
  EXPECT_NEAR(centre_distance(kPitch, 12, 60, 126 * (1 + worn)).value_or(0), end, 1e-12);
  EXPECT_LT(elongation_taken_up(kPitch, 12, 60, 126, 0.55), 0);
}

TEST(StrengthShare, IsThatOfAHalfLinkForOddCounts) {
  EXPECT_EQ(strength_share(126), 1.0);
  EXPECT_EQ(strength_share(125), 0.65);
}

TEST(ChainOrder, CountsTheRollersOfInnerLinks) {
  // 126 pitches: 63 inner links of two rollers and 62 outer links on the piece, the connecting link
  // closes it.
  const ChainOrder even = chain_order(126, 130);
  EXPECT_EQ(even.rollers, 126);
  EXPECT_EQ(even.boxes, 1);
  EXPECT_EQ(even.offcut, 4);
  EXPECT_EQ(even.connecting_links, 1);
  EXPECT_EQ(even.half_links, 0);
  const ChainOrder odd = chain_order(125, 0);
  EXPECT_EQ(odd.rollers, 124);
  EXPECT_EQ(odd.half_links, 1);
  EXPECT_EQ(odd.boxes, 0);
  EXPECT_EQ(odd.offcut, 0);
  const ChainOrder two = chain_order(126, 100);
  EXPECT_EQ(two.boxes, 2);
  EXPECT_EQ(two.connecting_links, 2);
  EXPECT_EQ(two.offcut, 74);
  EXPECT_EQ(chain_order(126, 126).offcut, 0);
  EXPECT_EQ(chain_order(126, 126).boxes, 1);
}

TEST(LoopLength, IsReadBackAsItsCentreDistance) {
  Dice dice(71);
  for (int i = 0; i < 3000; ++i) {
    SCOPED_TRACE(i);
    const SprocketPair s{kPitch, 7.77e-3, dice.between(8, 20), dice.between(8, 70)};
    const double centre =
        least_centre_distance(kPitch, s.front_teeth, s.rear_teeth) * dice.between(1.0, 4.0);
    for (const Around around : {Around::kTips, Around::kRoots, Around::kPitchLine}) {
      const auto found = centre_of_loop(s, around, loop_length(s, around, centre));
      ASSERT_TRUE(found.has_value());
      EXPECT_NEAR(*found, centre, 1e-12);
    }
    // Tips are outside of the pins, roots inside; along the pins it is the chain.
    EXPECT_GT(loop_length(s, Around::kTips, centre), loop_length(s, Around::kPitchLine, centre));
    EXPECT_LT(loop_length(s, Around::kRoots, centre), loop_length(s, Around::kPitchLine, centre));
    EXPECT_NEAR(loop_length(s, Around::kPitchLine, centre),
                kPitch * chain_length(kPitch, s.front_teeth, s.rear_teeth, centre), 1e-12);
  }
}

TEST(LoopLength, OfEqualSprocketsIsOneRingAndTwoDistances) {
  const SprocketPair s{kPitch, 8e-3, 20, 20};
  EXPECT_NEAR(loop_length(s, Around::kRoots, 0.5), 1.0 + kPi * (pitch_diameter(kPitch, 20) - 8e-3),
              1e-12);
  EXPECT_NEAR(loop_length(s, Around::kPitchLine, 0.5), 1.0 + 20 * kPitch, 1e-12);
  EXPECT_NEAR(loop_length(s, Around::kTips, 0.5),
              1.0 + 20 * outside_diameter(kPitch, 20) * std::sin(kPi / 20), 1e-12);
  EXPECT_NEAR(centre_of_loop(s, Around::kPitchLine, 1.0 + 20 * kPitch).value_or(0), 0.5, 1e-12);
  EXPECT_FALSE(centre_of_loop(s, Around::kPitchLine, 19 * kPitch).has_value());
}

TEST(LoopLength, OverTheRootsNeedsARoller) {
  const SprocketPair s{kPitch, 0, 12, 60};
  EXPECT_TRUE(std::isnan(loop_length(s, Around::kRoots, 0.5)));
  EXPECT_FALSE(centre_of_loop(s, Around::kRoots, 1.6).has_value());
}

TEST(ChainReading, IsPlausibleFromTouchingTipsAnd20To80Pitches) {
  const SprocketPair s{kPitch, 7.77e-3, 12, 24};
  const auto doubts = [&](double centre) { return read_centre(s, centre).doubts; };
  EXPECT_TRUE(doubts(20 * kPitch + 1e-9).empty());
  EXPECT_EQ(doubts(20 * kPitch - 1e-9), std::vector{Doubt::kFewPitches});
  EXPECT_TRUE(doubts(80 * kPitch - 1e-9).empty());
  EXPECT_EQ(doubts(80 * kPitch + 1e-9), std::vector{Doubt::kManyPitches});
  const double touching = least_centre_distance(kPitch, 12, 24);
  EXPECT_EQ(doubts(touching + 1e-9), std::vector{Doubt::kFewPitches});
  EXPECT_EQ(doubts(touching - 1e-9), std::vector{Doubt::kTipsTouch});
  EXPECT_EQ(read_loop(s, Around::kTips, 0.2).doubts, std::vector{Doubt::kTipsTouch});
  EXPECT_FALSE(read_loop(s, Around::kTips, 0.2).centre_distance.has_value());
  EXPECT_EQ(read_count(s, 12).doubts, std::vector{Doubt::kTipsTouch});
}

TEST(ChainReading, HoldsTheTruthWithinWhatTheMeasurementMayBeOff) {
  Dice dice(72);
  for (int i = 0; i < 1000; ++i) {
    SCOPED_TRACE(i);
    const SprocketPair s{kPitch, 7.77e-3, dice.between(10, 17), dice.between(36, 66)};
    const double centre = dice.between(0.45, 0.7);
    const double truth = chain_length(kPitch, s.front_teeth, s.rear_teeth, centre);
    for (const Around around : {Around::kTips, Around::kRoots, Around::kPitchLine}) {
      const ChainReading r =
          read_loop(s, around, loop_length(s, around, centre) + dice.between(-1.0, 1.0) * 4.9e-3);
      EXPECT_LT(r.fewest_links, truth);
      EXPECT_GT(r.most_links, truth);
      EXPECT_LT(r.most_links - r.fewest_links, 2.5);
    }
    const ChainReading r = read_centre(s, centre + dice.between(-1.9e-3, 1.9e-3));
    EXPECT_LT(r.fewest_links, truth);
    EXPECT_GT(r.most_links, truth);
  }
}

TEST(ChainReading, ListsTheEvenCountsNearIt) {
  const SprocketPair s{kPitch, 7.77e-3, 12, 60};
  const auto counts = [&](int links) {
    std::vector<int> list;
    for (const ChainFit& fit : read_count(s, links).nearby) list.push_back(fit.links);
    return list;
  };
  EXPECT_EQ(counts(126), (std::vector{124, 126, 128}));
  EXPECT_EQ(counts(125), (std::vector{124, 126}));
  for (const ChainFit& fit : read_count(s, 126).nearby) {
    EXPECT_EQ(fit.centre_distance, centre_distance(kPitch, 12, 60, fit.links));
  }
}

}  // namespace
}  // namespace sprocketry::model
