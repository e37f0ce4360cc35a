// Chain lengths and centre distances on random drives, against the geometry of the open belt on two
// pitch circles and a plain scan of link counts.
#include <gtest/gtest.h>

#include <cmath>
#include <optional>

#include "model/chain.hpp"
#include "support/random_bike.hpp"

namespace sprocketry::model {
namespace {

constexpr int kDrives = 5000;

struct Drive {
  double pitch = 0;
  int front = 0, rear = 0;
};

Drive random_drive(Dice& dice) {
  constexpr double kPitches[] = {9.525e-3, 12.7e-3, 15.875e-3, 19.05e-3};
  return {kPitches[dice.between(0, 3)], dice.between(8, 20), dice.between(8, 90)};
}

// Length in pitches: tangents by Pythagoras, arcs as shares of the tooth counts by the angle of the
// tangent to the line of centres.
double text_length(const Drive& d, double centre) {
  const double small = std::min(d.front, d.rear);
  const double large = std::max(d.front, d.rear);
  const double gap = d.pitch / 2 * (1 / std::sin(kPi / large) - 1 / std::sin(kPi / small));
  const double straight = std::sqrt(centre * centre - gap * gap);
  const double angle = std::atan2(gap, straight);
  return 2 * straight / d.pitch + small * (kPi - 2 * angle) / (2 * kPi) +
         large * (kPi + 2 * angle) / (2 * kPi);
}

TEST(ChainLength, IsThatOfTheOpenBelt) {
  Dice dice(30);
  for (int i = 0; i < kDrives; ++i) {
    const Drive d = random_drive(dice);
    const double centre = dice.between(0.4, 0.8);
    const double expected = text_length(d, centre);
    EXPECT_NEAR(chain_length(d.pitch, d.front, d.rear, centre), expected, 1e-10 * expected);
    EXPECT_EQ(chain_length(d.pitch, d.front, d.rear, centre),
              chain_length(d.pitch, d.rear, d.front, centre));
  }
}

TEST(CentreDistance, IsTheInverseOfTheLength) {
  Dice dice(31);
  for (int i = 0; i < kDrives; ++i) {
    SCOPED_TRACE(i);
    const Drive d = random_drive(dice);
    // Down to sprockets that all but touch.
    const double touching =
        (outside_diameter(d.pitch, d.front) + outside_diameter(d.pitch, d.rear)) / 2;
    const double centre = touching * (dice.chance(0.2) ? 1.0 : dice.between(1.0, 4.0));
    const auto found =
        centre_distance(d.pitch, d.front, d.rear, chain_length(d.pitch, d.front, d.rear, centre));
    ASSERT_TRUE(found.has_value());
    EXPECT_NEAR(*found, centre, 1e-12 * centre);
  }
}

TEST(CentreDistance, DoesNotExistForAChainThatIsTooShort) {
  Dice dice(32);
  for (int i = 0; i < kDrives; ++i) {
    const Drive d = random_drive(dice);
    // Shorter than half way round either sprocket.
    const double links = 0.5 * (d.front + d.rear) * dice.between(0.1, 0.999);
    EXPECT_FALSE(centre_distance(d.pitch, d.front, d.rear, links).has_value());
  }
}

TEST(WrapAngle, IsWhatTheChainLeavesFree) {
  Dice dice(33);
  for (int i = 0; i < kDrives; ++i) {
    const Drive d = random_drive(dice);
    const double centre = dice.between(0.4, 0.8);
    const double gap =
        std::abs(pitch_diameter(d.pitch, d.front) - pitch_diameter(d.pitch, d.rear)) / 2;
    const double expected = kPi - 2 * std::asin(gap / centre);
    EXPECT_NEAR(wrap_angle(d.pitch, d.front, d.rear, centre), expected, 1e-12);
  }
}

// The first count from 4 links up, of those allowed, whose centre distance lies inside.
std::optional<ChainFit> text_fit(const Drive& d, double low, double high, bool half_links) {
  for (int links = 4; links < 400; links += half_links ? 1 : 2) {
    if (text_length(d, low) <= links && links <= text_length(d, high)) {
      double near = low;
      double far = high;
      for (int step = 0; step < 100; ++step) {
        const double middle = 0.5 * (near + far);
        (text_length(d, middle) < links ? near : far) = middle;
      }
      return ChainFit{links, near};
    }
  }
  return std::nullopt;
}

TEST(ChainFit, IsTheFirstOfAScanOfLinkCounts) {
  Dice dice(34);
  int fitted = 0;
  for (int i = 0; i < kDrives; ++i) {
    SCOPED_TRACE(i);
    const Drive d = random_drive(dice);
    const double low = dice.between(0.4, 0.8);
    const double high = low + dice.between(0.0, 0.04);
    const bool half_links = dice.chance(0.3);
    const auto expected = text_fit(d, low, high, half_links);
    const auto fit = fit_chain(d.pitch, d.front, d.rear, low, high, half_links);
    ASSERT_EQ(fit.has_value(), expected.has_value());
    if (!fit) continue;
    ++fitted;
    EXPECT_EQ(fit->links, expected->links);
    EXPECT_NEAR(fit->centre_distance, expected->centre_distance, 1e-10);
    EXPECT_GE(fit->centre_distance, low);
    EXPECT_LE(fit->centre_distance, high);
  }
  EXPECT_GT(fitted, kDrives / 2);
  EXPECT_LT(fitted, kDrives);
}

TEST(ChainFit, CountsALimitThatIsJustTheCentreDistanceOfAWholeChain) {
  Dice dice(35);
  for (int i = 0; i < kDrives; ++i) {
    SCOPED_TRACE(i);
    const Drive d = random_drive(dice);
    const int links = 2 * dice.between(50, 70);
    const auto centre = centre_distance(d.pitch, d.front, d.rear, links);
    if (!centre) continue;
    const auto fixed = fit_chain(d.pitch, d.front, d.rear, *centre, *centre, false);
    ASSERT_TRUE(fixed.has_value());
    EXPECT_EQ(fixed->links, links);
    const auto missed = fit_chain(d.pitch, d.front, d.rear, *centre + 1e-6, *centre + 2e-6, false);
    EXPECT_FALSE(missed.has_value());
  }
}

}  // namespace
}  // namespace sprocketry::model
