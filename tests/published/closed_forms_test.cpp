// Acceleration, top speed and consumption against closed forms, all computed elsewhere from the
// stated law to nine digits (checked there against RK4 or quadrature). Tolerance 1e-6 relative.
#include <gtest/gtest.h>

#include <cmath>

#include "model/constants.hpp"
#include "model/performance.hpp"
#include "model/profile.hpp"
#include "model/ride.hpp"
#include "model/speeds.hpp"
#include "model/traction.hpp"
#include "published/drives.hpp"

namespace sprocketry::model {
namespace {

constexpr double kKmH = 1.0 / 3.6;  // m/s
constexpr double kRelative = 1e-6;

#define EXPECT_CLOSE(value, expected) EXPECT_NEAR(value, expected, kRelative*(expected))

// The common vehicle: 230 kg of weight and 250 kg of inertia, rolling 0.015, 0.5 m2, 1.225 kg/m3.
struct Common {
  DriveLimits limits = on_supply(1, 0, kPlenty);
  Gearing gearing{1, 1};
  Rolling rolling;
  double resistance = 0.015 * 230 * kGravity;  // N
  double drag = 0.5 * 1.225 * 0.5;             // N s2/m2

  Common() {
    rolling.mass = 230;
    rolling.wheel_mass = 20;
    rolling.load = {0.015, 0, 0.5};
    rolling.air.air_density = 1.225;
    rolling.largest_force = kPlenty;
  }
  void no_rolling() { rolling.load.rolling_resistance = 0; }
  void no_drag() { rolling.load.drag_area = 0; }
  void constant_force(double force) { limits.phase_current = force; }
  void constant_power(double power) { limits.motor_power = power; }
  // Force = stall (1 - v/idle): a motor on a stiff supply.
  void falling_force(double stall, double idle) {
    limits = on_supply(1, 1, idle);
    gearing.lever = stall / idle;
  }
  [[nodiscard]] double time(double from, double to) const {
    return acceleration_time(limits, gearing, rolling,
                             throttle_corners(limits, gearing, rolling.largest_force), from, to);
  }
  [[nodiscard]] double top() const { return top_speed(limits, gearing, rolling); }
};

TEST(ClosedForm, OfConstantForceAndDrag) {
  // v = v_t tanh(t/tau) with v_t = sqrt(F/c), tau = m/sqrt(F c).
  Common b;
  b.constant_force(500);
  EXPECT_CLOSE(b.resistance, 33.8329425);
  EXPECT_CLOSE(b.top(), 39.0151015);
  EXPECT_CLOSE(b.time(0, 17.3456574), 10.0);
  EXPECT_CLOSE(b.time(0, 60 * kKmH), 9.55042520);
  EXPECT_CLOSE(b.time(17.3456574, 0.999 * b.top()), 20.9233476 * std::atanh(0.999) - 10.0);
}

TEST(ClosedForm, OfConstantForceWithoutDragIsUniformAcceleration) {
  Common b;
  b.constant_force(500);
  b.no_drag();
  EXPECT_CLOSE(b.time(0, 20), 250 * 20 / (500 - b.resistance));
}

TEST(ClosedForm, OfConstantPowerWithoutLosses) {
  // t = m v^2/(2 P): 7.71604938 s to 80 km/h at 8 kW, less the time to 5 km/h, since at rest the
  // force has no bound.
  Common b;
  b.constant_power(8e3);
  b.no_drag();
  b.no_rolling();
  EXPECT_CLOSE(b.time(5 * kKmH, 80 * kKmH), 7.71604938 * (1 - std::pow(5.0 / 80, 2)));
}

TEST(ClosedForm, OfConstantForceThenConstantPower) {
  // t = m (v^2 + v_b^2)/(2 P) with v_b = 30 km/h. The force may end by current or by grip.
  Common b;
  b.no_drag();
  b.no_rolling();
  b.constant_power(8e3);
  b.constant_force(8e3 / (30 * kKmH));
  EXPECT_CLOSE(b.time(0, 80 * kKmH), 8.80111883);
  b.constant_force(kPlenty);
  b.rolling.largest_force = 8e3 / (30 * kKmH);
  EXPECT_CLOSE(b.time(0, 80 * kKmH), 8.80111883);
}

TEST(ClosedForm, OfConstantPowerAndDrag) {
  // With u = v/(P/c)^(1/3): t = (m v_m^2/P)[ln((1+u+u^2)/(1-u)^2)/6 - (atan((2u+1)/sqrt 3) -
  // pi/6)/sqrt 3]; 9.51001233 s to 80 km/h.
  Common b;
  b.constant_power(8e3);
  b.no_rolling();
  const double top = std::cbrt(8e3 / b.drag);
  EXPECT_CLOSE(top, 29.6713949);
  EXPECT_CLOSE(b.top(), 29.6713949);
  const auto exact = [&](double v) {
    const double u = v / top;
    const double root = std::sqrt(3.0);
    return 250 * top * top / 8e3 *
           (std::log((1 + u + u * u) / ((1 - u) * (1 - u))) / 6 -
            (std::atan((2 * u + 1) / root) - kPi / 6) / root);
  };
  EXPECT_CLOSE(exact(80 * kKmH), 9.51001233);
  EXPECT_CLOSE(b.time(5 * kKmH, 80 * kKmH), 9.51001233 - exact(5 * kKmH));
  EXPECT_CLOSE(b.time(5 * kKmH, 0.9999 * top), exact(0.9999 * top) - exact(5 * kKmH));
}

TEST(ClosedForm, OfTopSpeedAtConstantPower) {
  // P = R v + c v^3 by Cardano: 28.4310555 m/s, 102.351799 km/h.
  Common b;
  b.constant_power(8e3);
  EXPECT_CLOSE(b.top(), 28.4310555);
  EXPECT_CLOSE(b.top() / kKmH, 102.351799);
}

TEST(ClosedForm, OfAMotorOnAStiffSupply) {
  // F = F0 (1 - v/v0), 900 N and 28 m/s, constant resistance: v = v_inf (1 - e^(-t/tau)).
  Common b;
  b.falling_force(900, 28);
  b.no_drag();
  EXPECT_CLOSE(b.top(), 26.9474196);
  EXPECT_CLOSE(b.time(0, 19.4977233), 10.0);
  EXPECT_CLOSE(b.time(0, 60 * kKmH), 7.49477592);
  EXPECT_CLOSE(b.time(0, 0.9999 * b.top()), 7.77777778 * std::log(1e4));
}

TEST(ClosedForm, OfAMotorOnAStiffSupplyWithDrag) {
  // Riccati's equation.
  Common b;
  b.falling_force(900, 28);
  EXPECT_CLOSE(b.top(), 22.2363568);
  EXPECT_CLOSE(b.time(0, 18.1620615), 10.0);
  EXPECT_CLOSE(b.time(0, 60 * kKmH), 8.23555361);
}

TEST(ClosedForm, ViscousLossIsAMotorWithALowerIdleSpeed) {
  // Force (K I - B v): with I constant the law of c1 again; 900 N at rest, nothing at 28 m/s.
  Common b;
  b.constant_force(900);
  b.limits.loss.viscous = 900.0 / 28;
  b.no_drag();
  EXPECT_CLOSE(b.top(), 26.9474196);
  EXPECT_CLOSE(b.time(0, 60 * kKmH), 7.49477592);
}

TEST(ClosedForm, OfATrapezoidsEnergy) {
  // 0 to 50 km/h in 10 s, held 40 s, to 0 in 8 s: 680.555556 m, 80129.4952 J or 32.7059164 Wh/km at
  // the wheel, nothing given back; 6112.93289 W at the end of the ramp. Samples every 0.02 s, since
  // an interval is evaluated at its mean speed.
  Common b;
  const double speed = 50 * kKmH;
  Profile profile;
  for (int i = 0; i <= 500; ++i) profile.push_back({0.02 * i, speed * i / 500, 0});
  profile.push_back({50, speed, 0});
  for (int i = 1; i <= 400; ++i) profile.push_back({50 + 0.02 * i, speed * (400 - i) / 400, 0});
  Cell cell;
  cell.capacity = 3600;
  cell.open_circuit = {{0, 1e3}, {1, 1e3}};
  cell.peak_current = kPlenty;
  const Pack pack = make_pack(cell, 1, 1, 0, kPlenty);
  b.limits.voltage = 1e3;
  const PackSide side{&pack, 0, kPlenty, 0};
  RideWork work;
  const RideDemand demand = reduce(profile);
  EXPECT_CLOSE(demand.distance, 680.555556);
  const RideResult result =
      ride(ride_columns(demand, b.rolling.air), b.limits, b.gearing, b.rolling, side, work);
  EXPECT_CLOSE(result.consumption * demand.distance, 80129.4952);
  EXPECT_CLOSE(result.consumption / 3.6, 32.7059164);
  EXPECT_EQ(result.keeps_up, 1.0);
  const double ramp = 250 * speed / 10 + road_force(b.rolling.load, b.rolling.air, 230, 0, speed);
  EXPECT_CLOSE(ramp * speed, 6112.93289);
  // The whole capacity of 1 Ah at 1000 V, 3.6 MJ, goes into that.
  EXPECT_CLOSE(result.range, 3.6e6 / result.consumption);
}

TEST(ClosedForm, SpeedsBeyondTheTerminalOneAreNeverReached) {
  Common b;
  b.constant_force(500);
  EXPECT_TRUE(std::isnan(b.time(0, 39.0151016)));
  EXPECT_TRUE(std::isnan(b.time(0, 60)));
  b.constant_force(b.resistance * 0.99);
  EXPECT_TRUE(std::isnan(b.time(0, 1)));
  EXPECT_EQ(b.top(), 0.0);
}

}  // namespace
}  // namespace sprocketry::model
