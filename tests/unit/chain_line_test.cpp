#include "model/chain_line.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <random>

namespace sprocketry::model {
namespace {

constexpr double kTooth = 0.006;
constexpr double kHub = 0.025;
constexpr double kMillimetre = 1e-3;

// Where the front teeth's middle stands, from the centre plane.
double front_teeth(const ChainLine& line, const ChainLineFit& fit, double hub, double tooth) {
  return line.shaft_face + fit.shaft_spacer + (fit.teeth_outside ? hub - 0.5 * tooth : 0.5 * tooth);
}

TEST(ChainLineFit, NeedsNoSpacerWhereTheHubAloneReachesTheLine) {
  // Rear teeth at 60 + 3 mm; the hub's outer teeth reach 63 mm from a face at 41 mm.
  const ChainLineFit fit = fit_chain_line({0.060, 0.041, 0}, kTooth, kHub, 0.045);
  EXPECT_NEAR(fit.rear_teeth, 0.063, 1e-12);
  EXPECT_TRUE(fit.teeth_outside);
  EXPECT_NEAR(fit.shaft_spacer, 0, 1e-12);
  EXPECT_NEAR(fit.rear_shift, 0, 1e-12);
}

TEST(ChainLineFit, TakesTheShorterSpacerOfTheTwoWaysRound) {
  // 20 mm from the face: 17 mm behind a hub with its teeth inside, or just reached... outside.
  const ChainLineFit inside = fit_chain_line({0.057, 0.040, 0}, kTooth, kHub, 0.060);
  EXPECT_FALSE(inside.teeth_outside);
  EXPECT_NEAR(inside.shaft_spacer, 17 * kMillimetre, 1e-12);
  const ChainLineFit outside = fit_chain_line({0.067, 0.040, 0}, kTooth, kHub, 0.060);
  EXPECT_TRUE(outside.teeth_outside);
  EXPECT_NEAR(outside.shaft_spacer, 8 * kMillimetre, 1e-12);
}

TEST(ChainLineFit, MovesTheRearOutWhereTheShaftComesOutTooFar) {
  // The line lies 1 mm inside the nearest that the front teeth can come.
  const ChainLineFit fit = fit_chain_line({0.040, 0.041, 0}, kTooth, kHub, 0.045);
  EXPECT_NEAR(fit.rear_shift, 1 * kMillimetre, 1e-12);
  EXPECT_NEAR(fit.shaft_spacer, 0, 1e-12);
  // A spacer that is there already takes it up.
  EXPECT_NEAR(fit_chain_line({0.040, 0.041, 0.001}, kTooth, kHub, 0.045).rear_shift, 0, 1e-12);
}

TEST(ChainLineFit, DishesTheRearInWhereTheShaftIsTooShort) {
  // A shaft of 30 mm leaves 5 mm of spacer: the teeth reach 41 + 5 + 22 = 68 mm; the line is at 75.
  const ChainLineFit fit = fit_chain_line({0.072, 0.041, 0}, kTooth, kHub, 0.030);
  EXPECT_TRUE(fit.teeth_outside);
  EXPECT_NEAR(fit.shaft_spacer, 5 * kMillimetre, 1e-12);
  EXPECT_NEAR(fit.rear_shift, -7 * kMillimetre, 1e-12);
}

// Whatever the sizes: after the shift both rows of teeth stand in one plane, the hub on the shaft,
// and no other place of the hub needs a smaller shift.
TEST(ChainLineFit, AlwaysEndsInOnePlaneWithTheLeastShift) {
  std::mt19937_64 random(3);
  std::uniform_real_distribution<double> share(0, 1);
  for (int round = 0; round < 5000; ++round) {
    const double tooth = 0.003 + 0.006 * share(random);
    const double hub = tooth + 0.05 * share(random);
    const double shaft =
        round % 7 == 0 ? std::numeric_limits<double>::infinity() : hub * (0.8 + share(random));
    const ChainLine line{0.02 + 0.1 * share(random), 0.1 * share(random), 0.005 * share(random)};
    const ChainLineFit fit = fit_chain_line(line, tooth, hub, shaft);
    EXPECT_NEAR(front_teeth(line, fit, hub, tooth), fit.rear_teeth + fit.rear_shift, 1e-12);
    EXPECT_GE(fit.shaft_spacer, 0);
    EXPECT_LE(fit.shaft_spacer, std::max(0.0, shaft - hub) + 1e-15);
    const double most = std::min(std::max(0.0, shaft - hub), 1.0);
    for (int i = 0; i <= 200; ++i) {
      ChainLineFit tried;
      tried.shaft_spacer = most * i / 200;
      for (const bool outside : {false, true}) {
        tried.teeth_outside = outside;
        const double shift = front_teeth(line, tried, hub, tooth) - fit.rear_teeth;
        ASSERT_GE(std::abs(shift), std::abs(fit.rear_shift) - 1e-12);
      }
    }
  }
}

// Installation guides of chain makers: 1 mm to 1 m, then a thousandth (from memory).
TEST(LineTolerance, IsAMillimetreOrAThousandth) {
  EXPECT_EQ(line_tolerance(0.58), 1 * kMillimetre);
  EXPECT_EQ(line_tolerance(1.0), 1 * kMillimetre);
  EXPECT_NEAR(line_tolerance(2.5), 2.5 * kMillimetre, 1e-15);
}

}  // namespace
}  // namespace sprocketry::model
