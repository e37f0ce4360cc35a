// Closed forms and quadratures of the engine against a numerical integrator, Boost.Odeint's
// Dormand-Prince method, on the differential equations that the design states.
#include <gtest/gtest.h>

#include <array>
#include <boost/numeric/odeint.hpp>
#include <cmath>
#include <cstddef>

#include "model/heat.hpp"
#include "model/performance.hpp"
#include "model/speeds.hpp"
#include "model/traction.hpp"
#include "support/random_bike.hpp"

namespace sprocketry::model {
namespace {

namespace odeint = boost::numeric::odeint;

constexpr int kVehicles = 1000;
constexpr double kTimeTolerance = 1e-5;         // relative
constexpr double kTemperatureTolerance = 1e-6;  // of the rise

// Seconds of dv/dt = (F_drive - F_road)/m_eff from one speed to another.
double integrated_time(const RandomBike& bike, double voltage, double from, double to) {
  const double inertia = text_effective_mass(bike);
  const auto law = [&](double v, double& rate, double) {
    rate = (text_drive_force(bike, voltage, v) - text_road_force(bike.rolling, 0, v)) / inertia;
  };
  auto stepper = odeint::make_dense_output(1e-11, 1e-11, odeint::runge_kutta_dopri5<double>());
  stepper.initialize(from, 0.0, 1e-4);
  while (stepper.current_state() < to) stepper.do_step(law);
  double early = stepper.previous_time();
  double late = stepper.current_time();
  for (int step = 0; step < 60; ++step) {
    const double middle = 0.5 * (early + late);
    double v = 0;
    stepper.calc_state(middle, v);
    (v < to ? early : late) = middle;
  }
  return late;
}

// Highest speed at which full throttle meets the road, by halving.
double text_top_speed(const RandomBike& bike, double voltage) {
  double held = 0;
  double missed = 200;
  const auto holds = [&](double v) {
    return text_drive_force(bike, voltage, v) >= text_road_force(bike.rolling, 0, v);
  };
  if (!holds(0)) return 0;
  for (int step = 0; step < 100; ++step) {
    const double middle = 0.5 * (held + missed);
    (holds(middle) ? held : missed) = middle;
  }
  return held;
}

// Of how many vehicles a law governed some part of the run.
struct Coverage {
  int vehicles = 0, grip = 0, phase = 0, battery = 0, duty = 0, viscous = 0, head = 0, tail = 0;

  void count(const RandomBike& bike, double voltage, double from, double to) {
    bool gripped = false;
    std::array<bool, 3> limited{};
    for (int i = 0; i <= 100; ++i) {
      const double v = from + (to - from) * i / 100;
      if (text_wheel_force(bike, voltage, v) > bike.rolling.largest_force) {
        gripped = true;
      } else {
        const Limit limit = text_motor_current(bike, voltage, v * bike.gear.ratio).limit;
        limited.at(static_cast<std::size_t>(limit)) = true;
      }
    }
    ++vehicles;
    grip += gripped ? 1 : 0;
    phase += limited[0] ? 1 : 0;
    battery += limited[1] ? 1 : 0;
    duty += limited[2] ? 1 : 0;
    viscous += bike.motor.loss.viscous > 0 ? 1 : 0;
    head += bike.rolling.air.headwind > 1 ? 1 : 0;
    tail += bike.rolling.air.headwind < -1 ? 1 : 0;
  }
};

TEST(AccelerationTime, IsThatOfTheDifferentialEquation) {
  Dice dice(20);
  Coverage coverage;
  for (int i = 0; i < kVehicles; ++i) {
    SCOPED_TRACE(i);
    const RandomBike bike = random_bike(dice);
    const double voltage = text_open_circuit(bike.pack, bike.state_of_charge);
    const double top = text_top_speed(bike, voltage);
    const double to = top * dice.between(0.3, 0.99);
    const double from = dice.chance(0.5) ? 0.0 : to * dice.between(0.0, 0.9);
    if (top < 1) continue;
    coverage.count(bike, voltage, from, to);
    const DriveLimits limits = bike.limits();
    const double time = acceleration_time(
        limits, bike.gear, bike.rolling,
        throttle_corners(limits, bike.gear, bike.rolling.largest_force), from, to);
    const double expected = integrated_time(bike, voltage, from, to);
    EXPECT_NEAR(time, expected, kTimeTolerance * expected);
  }
  EXPECT_GE(coverage.vehicles, 200);
  for (const int count : {coverage.grip, coverage.phase, coverage.battery, coverage.duty,
                          coverage.viscous, coverage.head, coverage.tail}) {
    EXPECT_GE(count, 40);
  }
}

TEST(AccelerationTime, DoesNotExistBeyondTheTopSpeedOfTheDifferentialEquation) {
  Dice dice(21);
  for (int i = 0; i < kVehicles; ++i) {
    SCOPED_TRACE(i);
    const RandomBike bike = random_bike(dice);
    const double top = text_top_speed(bike, text_open_circuit(bike.pack, bike.state_of_charge));
    const DriveLimits limits = bike.limits();
    const Corners corners = throttle_corners(limits, bike.gear, bike.rolling.largest_force);
    const auto time = [&](double to) {
      return acceleration_time(limits, bike.gear, bike.rolling, corners, 0, to);
    };
    EXPECT_TRUE(std::isnan(time(top * (1 + 1e-9) + 1e-9)));
    if (top > 0) {
      EXPECT_FALSE(std::isnan(time(top * (1 - 1e-9))));
    }
  }
}

using Nodes = std::array<double, 2>;  // winding, body in K

Nodes integrated_temperature(const Motor& motor, const HeatLoad& load, double air, Nodes nodes,
                             double duration) {
  const ThermalNetwork& n = motor.thermal;
  const auto law = [&](const Nodes& t, Nodes& rate, double) {
    const double resistance = motor.resistance * (1 + 0.00393 * (t[0] - 273.15 - 25));
    const double copper = load.mean_square_current * resistance;
    const double inward = (t[0] - t[1]) / n.winding_to_body;
    rate[0] = (copper - inward) / n.winding_capacity;
    rate[1] = (inward + load.friction_power - (t[1] - air) / n.body_to_air) / n.body_capacity;
  };
  odeint::integrate_adaptive(
      odeint::make_controlled(1e-10, 1e-12, odeint::runge_kutta_dopri5<Nodes>()), law, nodes, 0.0,
      duration, 0.01);
  return nodes;
}

struct HeatCase {
  Motor motor;
  HeatLoad load;
  double air = 0, gain = 0;
};

// Gain: alpha I^2 R25 (R_wb + R_ba), runaway from 1 on.
HeatCase random_heat(Dice& dice, double gain) {
  HeatCase c;
  c.motor = random_motor(dice);
  c.gain = gain;
  const double total = c.motor.thermal.winding_to_body + c.motor.thermal.body_to_air;
  c.load = {gain / (0.00393 * c.motor.resistance * total), dice.between(0.0, 200.0)};
  c.air = kZeroCelsius + dice.between(-10.0, 45.0);
  return c;
}

TEST(Temperature, IsThatOfTheDifferentialEquation) {
  Dice dice(22);
  int runaways = 0;
  for (int i = 0; i < kVehicles; ++i) {
    SCOPED_TRACE(i);
    const HeatCase c = random_heat(dice, dice.chance(0.05) ? 1 + 1e-9 : dice.between(0.0, 2.5));
    runaways += c.gain >= 1 ? 1 : 0;
    const Nodes start{c.air + dice.between(-20.0, 100.0), c.air + dice.between(-20.0, 60.0)};
    const double duration = dice.between(0.1, 7200.0);
    const Nodes expected = integrated_temperature(c.motor, c.load, c.air, start, duration);
    const MotorTemperature got =
        temperature_after(c.motor, c.load, c.air, {start[0], start[1]}, duration);
    const double scale = 100 + std::abs(expected[0] - c.air);
    EXPECT_NEAR(got.winding, expected[0], kTemperatureTolerance * scale);
    EXPECT_NEAR(got.body, expected[1], kTemperatureTolerance * scale);
    EXPECT_EQ(std::isnan(steady_temperature(c.motor, c.load, c.air).winding), c.gain >= 1.0)
        << c.gain;
  }
  EXPECT_GE(runaways, 100);
}

TEST(Temperature, SettlesAtTheSteadyOne) {
  Dice dice(23);
  for (int i = 0; i < kVehicles; ++i) {
    SCOPED_TRACE(i);
    const HeatCase c = random_heat(dice, dice.between(0.0, 0.9));
    const MotorTemperature steady = steady_temperature(c.motor, c.load, c.air);
    const ThermalNetwork& n = c.motor.thermal;
    const double slow =
        (n.winding_capacity + n.body_capacity) * (n.winding_to_body + n.body_to_air) / (1 - c.gain);
    const MotorTemperature late =
        temperature_after(c.motor, c.load, c.air, {c.air, c.air}, 40 * slow);
    const double scale = 100 + steady.winding - c.air;
    EXPECT_NEAR(late.winding, steady.winding, 1e-9 * scale);
    EXPECT_NEAR(late.body, steady.body, 1e-9 * scale);
    // Nothing flows in or out there.
    const Nodes rest =
        integrated_temperature(c.motor, c.load, c.air, {steady.winding, steady.body}, 1000);
    EXPECT_NEAR(rest[0], steady.winding, kTemperatureTolerance * scale);
    EXPECT_NEAR(rest[1], steady.body, kTemperatureTolerance * scale);
  }
}

}  // namespace
}  // namespace sprocketry::model
