// Packs and ratings on random parts, against what the design's text says of them.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "model/battery.hpp"
#include "model/motor.hpp"
#include "support/random_bike.hpp"

namespace sprocketry::model {
namespace {

constexpr int kParts = 500;
constexpr double kRounding = 1e-9;  // relative

TEST(Pack, IsTheSumOfItsCells) {
  Dice dice(60);
  for (int i = 0; i < kParts; ++i) {
    const Cell cell = random_cell(dice);
    const int series = dice.between(1, 30);
    const int parallel = dice.between(1, 4);
    const double links = dice.between(0.0, 0.01);
    const double board = dice.between(50.0, 1500.0);
    const Pack pack = make_pack(cell, series, parallel, links, board);
    const auto expect = [](double got, double expected) {
      EXPECT_NEAR(got, expected, kRounding * std::abs(expected));
    };
    expect(pack.resistance, series * cell.resistance / parallel + links);
    expect(pack.capacity, parallel * cell.capacity);
    expect(pack.full_voltage, series * cell.full_voltage);
    expect(pack.empty_voltage, series * cell.empty_voltage);
    expect(pack.continuous_current, parallel * cell.continuous_current);
    expect(pack.current_limit, std::min(parallel * cell.peak_current, board));
  }
}

TEST(Pack, HasNodesThatIntegratePolynomialsOfTheVoltageOverItsWindow) {
  // n Gauss nodes are exact up to the power 2 n - 1. The voltage is linear between the points,
  // where its powers have an elementary integral.
  Dice dice(61);
  for (int i = 0; i < kParts; ++i) {
    SCOPED_TRACE(i);
    Cell cell = random_cell(dice);
    const Pack pack = make_pack(cell, 1, 1, 0, 1e9);
    const double middle = text_open_circuit(pack, 0.5 * (cell.usable_from + cell.usable_to));
    const auto integral = [&](int power) {
      std::vector<double> cuts{cell.usable_to, cell.usable_from};
      for (const OpenCircuitPoint& p : cell.open_circuit) {
        if (p.state_of_charge > cell.usable_to && p.state_of_charge < cell.usable_from) {
          cuts.push_back(p.state_of_charge);
        }
      }
      std::ranges::sort(cuts);
      double sum = 0;
      for (std::size_t k = 1; k < cuts.size(); ++k) {
        const double low = text_open_circuit(pack, cuts[k - 1]) - middle;
        const double high = text_open_circuit(pack, cuts[k]) - middle;
        // (high^(n+1) - low^(n+1))/((n+1)(high - low)) without the division.
        double mean = 0;
        for (int j = 0; j <= power; ++j) mean += std::pow(low, j) * std::pow(high, power - j);
        sum += (cuts[k] - cuts[k - 1]) * mean / (power + 1);
      }
      return sum;
    };
    const auto quadrature = [&](int power) {
      double sum = 0;
      for (const ChargeNode& node : pack.nodes) {
        sum += node.weight * std::pow(node.voltage - middle, power);
      }
      return sum;
    };
    double size = 0;
    for (const ChargeNode& node : pack.nodes)
      size = std::max(size, std::abs(node.voltage - middle));
    const int exact = 2 * static_cast<int>(pack.nodes.size()) - 1;
    for (int power = 0; power <= exact; ++power) {
      EXPECT_NEAR(quadrature(power), integral(power), 1e-10 * std::pow(std::max(size, 0.1), power))
          << power;
    }
  }
}

TEST(Pack, HasNodesThatStandASingularityAsFarAsTheirReach) {
  // 1/(E - s) has its singularity at s and an elementary integral where E is linear.
  Dice dice(64);
  std::size_t fewest = 100;
  std::size_t most = 0;
  for (int i = 0; i < kParts; ++i) {
    SCOPED_TRACE(i);
    Cell cell = random_cell(dice);
    cell.open_circuit = {{0, dice.between(2.0, 3.3)}, {1, dice.between(3.4, 4.2)}};
    const Pack pack = make_pack(cell, 1, 1, 0, 1e9);
    const double low = text_open_circuit(pack, cell.usable_to);
    const double high = text_open_circuit(pack, cell.usable_from);
    const double s = pack.nodes_reach;
    ASSERT_LT(s, low);
    double sum = 0;
    for (const ChargeNode& node : pack.nodes) sum += node.weight / (node.voltage - s);
    const double expected =
        (cell.usable_from - cell.usable_to) / (high - low) * std::log((high - s) / (low - s));
    EXPECT_NEAR(sum, expected, 4e-8 * expected);
    fewest = std::min(fewest, pack.nodes.size());
    most = std::max(most, pack.nodes.size());
  }
  EXPECT_LE(fewest, 4U);
  EXPECT_GE(most, 6U);
}

TEST(Rating, OfALongEventHasTheExcessHeatOfTheStatedOne) {
  // (I^2 - I_c^2) t is the same for every event longer than the stated one.
  Dice dice(62);
  for (int i = 0; i < kParts; ++i) {
    const double continuous = dice.between(20.0, 200.0);
    const double peak = continuous * dice.between(1.0, 4.0);
    const double stated = dice.between(5.0, 120.0);
    const double longer = stated * dice.between(1.0, 50.0);
    const double current = current_for_duration(continuous, peak, stated, longer);
    EXPECT_NEAR((current * current - continuous * continuous) * longer,
                (peak * peak - continuous * continuous) * stated, kRounding * peak * peak * longer);
    EXPECT_EQ(current_for_duration(continuous, peak, stated, stated * dice.between(0.0, 1.0)),
              peak);
    EXPECT_NEAR(current_for_duration(continuous, peak, stated, 1e15), continuous,
                1e-6 * continuous);
  }
}

TEST(Rating, OfMotorAndControllerIsTheLesserOfBoth) {
  Dice dice(63);
  for (int i = 0; i < kParts; ++i) {
    const Motor motor = random_motor(dice);
    const Controller controller = random_controller(dice);
    const double duration = dice.between(1.0, 1200.0);
    const auto rated = [&](double continuous, double peak, double stated) {
      const double share = std::min(1.0, stated / duration);
      return std::sqrt(continuous * continuous * (1 - share) + peak * peak * share);
    };
    const double expected = std::min(
        rated(motor.continuous_current, motor.peak_current, motor.peak_duration),
        rated(controller.motor_continuous, controller.motor_current, controller.peak_duration));
    EXPECT_NEAR(phase_current_for(motor, controller, duration), expected, kRounding * expected);
  }
}

}  // namespace
}  // namespace sprocketry::model
