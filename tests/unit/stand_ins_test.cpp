#include "model/stand_ins.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <vector>

// Sums over many points against the same by a few.

namespace {

using sprocketry::model::stand_ins_needed;
using sprocketry::model::StandIns;

// A function with its singularity at 1 + beyond, as the root of a pack's current has.
double bent(double x, double beyond) { return std::sqrt(1.0 + beyond - x); }

TEST(StandIns, GiveTheSumOfAllThePoints) {
  std::mt19937_64 random(17);
  std::uniform_real_distribution<double> place(-1, 1);
  std::uniform_real_distribution<double> lasting(0, 3);
  for (int round = 0; round < 500; ++round) {
    const double beyond = 1.0 + 5.0 * lasting(random);
    const std::size_t count = stand_ins_needed(beyond, 1e-9);
    ASSERT_LE(count, StandIns::kMost);
    const StandIns few(-1, 1, count);
    std::vector<double> x(static_cast<std::size_t>(round));
    std::vector<double> duration(x.size());
    double exact = 0;
    double seconds = 0;
    for (std::size_t i = 0; i < x.size(); ++i) {
      x[i] = place(random);
      duration[i] = lasting(random);
      exact += duration[i] * bent(x[i], beyond);
      seconds += duration[i];
    }
    std::vector<double> weights(count, 0.0);
    few.gather(x, duration, weights);
    double sum = 0;
    for (std::size_t k = 0; k < count; ++k) sum += weights[k] * bent(few.at(k), beyond);
    EXPECT_NEAR(sum, exact, 1e-9 * seconds * std::sqrt(2.0 + beyond));
    // Point by point the shares add up to the same weights.
    for (std::size_t i = 0; i + StandIns::kWidth <= x.size(); i += StandIns::kWidth) {
      StandIns::Shares shares{};
      few.shares(&x[i], &duration[i], shares);
      for (std::size_t k = 0; k < count; ++k) {
        for (const double share : shares[k]) weights[k] -= share;
      }
    }
    const std::size_t rest = x.size() / StandIns::kWidth * StandIns::kWidth;
    std::vector<double> left(count, 0.0);
    few.gather({x.data() + rest, x.size() - rest}, {duration.data() + rest, x.size() - rest}, left);
    for (std::size_t k = 0; k < count; ++k) EXPECT_NEAR(weights[k], left[k], 1e-10 * (1 + seconds));
  }
}

TEST(StandIns, AreExactForPolynomials) {
  for (std::size_t count = 1; count <= StandIns::kMost; ++count) {
    const StandIns few(2, 5, count);
    const std::vector<double> x{2, 2.3, 3.1, 4.9, 5};
    const std::vector<double> duration{1, 0.5, 2, 3, 0.25};
    std::vector<double> weights(count, 0.0);
    few.gather(x, duration, weights);
    for (std::size_t degree = 0; degree < count; ++degree) {
      double exact = 0;
      double sum = 0;
      const double power = static_cast<double>(degree);
      for (std::size_t i = 0; i < x.size(); ++i) exact += duration[i] * std::pow(x[i], power);
      for (std::size_t k = 0; k < count; ++k) sum += weights[k] * std::pow(few.at(k), power);
      EXPECT_NEAR(sum, exact, 1e-11 * exact);
    }
  }
}

TEST(StandIns, ServeAsWellForPointsThatAreAllTheSame) {
  const StandIns few(700, 700, 4);
  const std::vector<double> x{700, 700};
  const std::vector<double> duration{1, 2};
  std::vector<double> weights(4, 0.0);
  few.gather(x, duration, weights);
  double sum = 0;
  for (std::size_t k = 0; k < 4; ++k) sum += weights[k] * std::sqrt(few.at(k));
  EXPECT_NEAR(sum, 3 * std::sqrt(700.0), 1e-10);
}

TEST(StandIns, AreTooFewNextToASingularity) {
  EXPECT_GT(stand_ins_needed(0.0, 1e-9), StandIns::kMost);
  EXPECT_GT(stand_ins_needed(-1.0, 1e-9), StandIns::kMost);
  EXPECT_GT(stand_ins_needed(0.01, 1e-9), StandIns::kMost);
}

}  // namespace
