#include "model/charging.hpp"

#include <gtest/gtest.h>

#include <array>
#include <boost/numeric/odeint.hpp>
#include <cmath>
#include <limits>

#include "support/random_bike.hpp"

namespace sprocketry::model {
namespace {

constexpr double kNoLimit = std::numeric_limits<double>::infinity();

Pack flat_pack(double voltage, double resistance) {
  Cell cell;
  cell.capacity = 50 * 3600;
  cell.open_circuit = {{0.0, voltage}, {1.0, voltage}};
  cell.nominal_voltage = voltage;
  cell.full_voltage = voltage + 0.2;
  cell.usable_from = 1;
  cell.usable_to = 0;
  cell.resistance = resistance;
  return make_pack(cell, 16, 1, 0, kNoLimit);
}

// Charge is current times time, energy voltage times charge.
TEST(Charging, AtConstantCurrentIsChargeOverCurrent) {
  const Pack pack = flat_pack(3.3, 1e-3);
  const Charge c = charge(pack, 0.2, 1.0, {10, 0.9, kNoLimit});
  EXPECT_EQ(c.state_of_charge, 1.0);
  EXPECT_NEAR(c.time, 0.8 * 50 * 3600 / 10, 1e-6);
  EXPECT_NEAR(c.wall_energy, 0.8 * 50 * 3600 * (16 * 3.3 + 10 * 16e-3) / 0.9, 1e-3);
  EXPECT_NEAR(c.wall_peak, 10 * (16 * 3.3 + 10 * 16e-3) / 0.9, 1e-9);
}

TEST(Charging, AnOutletsPowerHoldsTheCurrentDown) {
  const Pack pack = flat_pack(3.3, 1e-3);
  const Charge c = charge(pack, 0.0, 1.0, {100, 0.9, 1000});
  // I (E + I R) = 900 W.
  const double current = (-52.8 + std::sqrt(52.8 * 52.8 + 4 * 16e-3 * 900)) / (2 * 16e-3);
  EXPECT_NEAR(c.time, 50 * 3600 / current, 1e-5);
  EXPECT_NEAR(c.wall_peak, 1000, 1e-9);
  EXPECT_NEAR(c.wall_energy, 1000 * c.time, 1e-3);
}

TEST(Charging, StopsAtATwentiethOfTheCapacity) {
  Cell cell = flat_pack(3.3, 5e-3).cell;
  cell.open_circuit = {{0.0, 3.0}, {1.0, 3.5}};
  cell.full_voltage = 3.5;  // at rest only when full: the current would fall for ever
  const Pack pack = make_pack(cell, 16, 1, 0, kNoLimit);
  const Charge c = charge(pack, 0.1, 1.0, {20, 1.0, kNoLimit});
  // (3.5 - E)/5 mohm = 50 Ah/20 h = 2.5 A at E = 3.4875 V: 97.5 %.
  EXPECT_NEAR(c.state_of_charge, 0.975, 1e-9);
  // 20 A up to 3.4 V, 80 %; then ds/dt = (0.5 (1 - s)/R)/Q.
  const double q = 50 * 3600;
  const double tail = q * 5e-3 / 0.5 * std::log(0.2 / 0.025);
  EXPECT_NEAR(c.time, 0.7 * q / 20 + tail, 1e-6);
  EXPECT_NEAR(c.tail, tail, 1e-6);
}

// Boost.Odeint steps the state of charge and the energy through the whole charge, with the current
// of the three limits at each instant.
TEST(Charging, AgreesWithAnOdeSolver) {
  namespace ode = boost::numeric::odeint;
  using State = std::array<double, 2>;  // time, energy at the pack's terminals, over charge
  Dice dice(23);
  int limited = 0;
  for (int i = 0; i < 200; ++i) {
    Cell cell = random_cell(dice);
    cell.full_voltage = cell.open_circuit.back().voltage + dice.between(0.0, 0.2);
    cell.charge_efficiency = dice.between(0.8, 1.0);
    const Pack pack = make_pack(cell, dice.between(10, 24), 1, dice.between(0.0, 0.01), kNoLimit);
    const double hours = pack.capacity / 3600;
    const ChargeSource source{hours * dice.between(0.1, 1.0), dice.between(0.8, 1.0),
                              dice.chance(0.5) ? kNoLimit : dice.between(200.0, 4000.0)};
    const Charge c = charge(pack, cell.usable_to, cell.usable_from, source);
    if (c.state_of_charge < cell.usable_from || !std::isinf(source.outlet_power)) ++limited;
    const auto current_at = [&](double share) {
      const double e = pack.series * open_circuit_voltage(cell.open_circuit, share);
      const double r = pack.resistance;
      double current = std::min(source.current, (pack.full_voltage - e) / r);
      if (!std::isinf(source.outlet_power)) {
        const double power = source.outlet_power * source.efficiency;
        current = std::min(current, (-e + std::sqrt(e * e + 4 * r * power)) / (2 * r));
      }
      return current;
    };
    const auto law = [&](const State&, State& slope, double share) {
      const double current = current_at(share);
      const double e = pack.series * open_circuit_voltage(cell.open_circuit, share);
      slope[0] = pack.capacity / cell.charge_efficiency / current;
      slope[1] = slope[0] * current * (e + current * pack.resistance);
    };
    State state{0.0, 0.0};
    if (!(c.state_of_charge > cell.usable_to)) continue;
    ode::integrate_adaptive(ode::make_controlled<ode::runge_kutta_dopri5<State>>(1e-9, 1e-9), law,
                            state, cell.usable_to, c.state_of_charge, 1e-4);
    EXPECT_NEAR(c.time, state[0], 1e-5 * state[0]) << i;
    EXPECT_NEAR(c.wall_energy * source.efficiency, state[1], 1e-5 * state[1]) << i;
    if (c.state_of_charge < cell.usable_from) {
      EXPECT_NEAR(current_at(c.state_of_charge), std::min(hours / 20, source.current),
                  1e-6 * source.current);
    }
  }
  EXPECT_GT(limited, 60);
}

}  // namespace
}  // namespace sprocketry::model
