#include "model/charge_series.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "model/drive.hpp"

// Against the closed form, root by root.

namespace {

using sprocketry::model::battery_current;
using sprocketry::model::ChargeSeries;

struct Points {
  std::vector<double> powers;
  std::vector<double> durations;
  double idle_power = 0;
  double idle_duration = 0;

  double most() const { return std::max(idle_power, *std::ranges::max_element(powers)); }
  double charge(double resistance, double voltage) const {
    double sum = battery_current(voltage, resistance, idle_power) * idle_duration;
    for (std::size_t i = 0; i < powers.size(); ++i) {
      sum += battery_current(voltage, resistance, powers[i]) * durations[i];
    }
    return sum;
  }
  double energy() const {
    double sum = idle_power * idle_duration;
    for (std::size_t i = 0; i < powers.size(); ++i) sum += powers[i] * durations[i];
    return sum;
  }
};

Points random_points(std::mt19937_64& random) {
  std::uniform_real_distribution<double> share(0, 1);
  Points p;
  const int count = std::uniform_int_distribution(1, 400)(random);
  for (int i = 0; i < count; ++i) {
    p.powers.push_back(9000 * share(random));
    p.durations.push_back(5 * share(random));
  }
  p.idle_power = 80 * share(random);
  p.idle_duration = 300 * share(random);
  return p;
}

ChargeSeries taken(const Points& p, double resistance, double lowest) {
  ChargeSeries series;
  std::vector<double> work;
  series.take(p.powers, p.durations, p.idle_power, p.idle_duration, p.most(), resistance, lowest,
              work);
  return series;
}

TEST(ChargeSeries, EqualsTheClosedFormAtEveryVoltage) {
  std::mt19937_64 random(91);
  std::uniform_real_distribution<double> share(0, 1);
  int held = 0;
  for (int round = 0; round < 3000; ++round) {
    const Points p = random_points(random);
    const double lowest = 24 + 100 * share(random);
    const double resistance = 0.3 * share(random) * share(random);
    const ChargeSeries series = taken(p, resistance, lowest);
    if (!series.holds()) continue;
    ++held;
    std::vector<double> voltages(static_cast<std::size_t>(1 + round % 9));
    for (double& voltage : voltages) voltage = lowest * (1 + 0.4 * share(random));
    voltages.front() = lowest;
    std::vector<double> charges(voltages.size(), -1);
    series.charges(voltages, charges);
    for (std::size_t k = 0; k < voltages.size(); ++k) {
      const double exact = p.charge(resistance, voltages[k]);
      EXPECT_NEAR(charges[k] / exact, 1, 3e-12) << "voltage " << voltages[k];
    }
    EXPECT_NEAR(series.energy() / p.energy(), 1, 1e-13);
  }
  EXPECT_GT(held, 1500);
}

// At the matched load the series' radius of convergence ends, so it must decline before.
TEST(ChargeSeries, DeclinesNearTheMatchedLoad) {
  const Points p{{1000, 3000}, {1, 1}, 50, 1};
  const double voltage = 48;
  const double matched = voltage * voltage / (4 * 3000);
  EXPECT_TRUE(taken(p, 0.3 * matched, voltage).holds());
  EXPECT_FALSE(taken(p, 0.95 * matched, voltage).holds());
  EXPECT_FALSE(taken(p, matched, voltage).holds());
  EXPECT_FALSE(taken(p, 5 * matched, voltage).holds());
}

TEST(ChargeSeries, DeclinesARideThatDrawsNothing) {
  EXPECT_FALSE(taken({{0, 0}, {1, 1}, 0, 1}, 0.01, 48).holds());
}

TEST(ChargeSeries, WithoutResistanceTheCurrentIsPowerOverVoltage) {
  const Points p{{1200, 2400}, {10, 5}, 60, 20};
  const ChargeSeries series = taken(p, 0, 48);
  ASSERT_TRUE(series.holds());
  const double voltage = 60;
  double charge = 0;
  series.charges({&voltage, 1}, {&charge, 1});
  EXPECT_NEAR(charge, (1200 * 10 + 2400 * 5 + 60 * 20) / 60.0, 1e-9);
}

}  // namespace
