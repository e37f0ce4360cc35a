#include "model/cell_state.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "support/random_bike.hpp"

namespace sprocketry::model {
namespace {

Cell some_cell() {
  Dice dice(7);
  Cell cell = random_cell(dice);
  cell.cold = {kZeroCelsius - 10, 3.0, 0.7};
  return cell;
}

TEST(CellState, IsTheDataSheetsAt25DegreesAndNew) {
  const Cell cell = some_cell();
  for (const double temperature : {kRatedTemperature, kRatedTemperature + 20}) {
    const Cell same = in_state(cell, {temperature, 1.0});
    EXPECT_EQ(same.capacity, cell.capacity);
    EXPECT_EQ(same.resistance, cell.resistance);
    EXPECT_EQ(same.rated_hours, cell.rated_hours);
  }
}

TEST(CellState, MeetsWhatTheCellStatesForTheCold) {
  const Cell cell = some_cell();
  const Cell cold = in_state(cell, {kZeroCelsius - 10, 1.0});
  EXPECT_NEAR(cold.capacity, 0.7 * cell.capacity, 1e-9 * cell.capacity);
  EXPECT_NEAR(cold.resistance, 3.0 * cell.resistance, 1e-12 * cell.resistance);
  // Half of the way: half of the loss, the square root of the factor.
  const Cell half = in_state(cell, {kZeroCelsius + 7.5, 1.0});
  EXPECT_NEAR(half.capacity, 0.85 * cell.capacity, 1e-9 * cell.capacity);
  EXPECT_NEAR(half.resistance, std::sqrt(3.0) * cell.resistance, 1e-9 * cell.resistance);
}

// 80 % of its capacity, half as much resistance again: common practice, no source.
TEST(CellState, AgesInCapacityAndResistance) {
  const Cell cell = some_cell();
  const Cell aged = in_state(cell, {kRatedTemperature, 0.8});
  EXPECT_NEAR(aged.capacity, 0.8 * cell.capacity, 1e-9 * cell.capacity);
  EXPECT_NEAR(aged.resistance, 1.5 * cell.resistance, 1e-12);
}

TEST(CellState, KeepsRatingsVoltagesAndThePeukertCurrent) {
  const Cell cell = some_cell();
  const Cell worn = in_state(cell, {kZeroCelsius - 5, 0.7});
  EXPECT_EQ(worn.peak_current, cell.peak_current);
  EXPECT_EQ(worn.continuous_current, cell.continuous_current);
  EXPECT_EQ(worn.full_voltage, cell.full_voltage);
  EXPECT_NEAR(worn.capacity / worn.rated_hours, cell.capacity / cell.rated_hours, 1e-9);
}

TEST(CellState, ColderAndOlderNeverGivesMore) {
  Dice dice(11);
  for (int i = 0; i < 1000; ++i) {
    Cell cell = random_cell(dice);
    cell.cold = {kZeroCelsius + dice.between(-30.0, 10.0), dice.between(1.0, 6.0),
                 dice.between(0.3, 1.0)};
    const CellState state{kZeroCelsius + dice.between(-30.0, 40.0), dice.between(0.5, 1.0)};
    const CellState worse{state.temperature - dice.between(0.0, 10.0),
                          state.health * dice.between(0.9, 1.0)};
    const Cell a = in_state(cell, state);
    const Cell b = in_state(cell, worse);
    EXPECT_LE(b.capacity, a.capacity);
    EXPECT_GE(b.resistance, a.resistance);
    EXPECT_GT(b.capacity, 0);
  }
}

}  // namespace
}  // namespace sprocketry::model
