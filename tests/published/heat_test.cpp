// Heating against closed forms, textbook curves and a table of two nodes. "Seen": read in a public
// copy of the text; "computed": recalculated elsewhere from stated inputs.
#include "model/heat.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "model/constants.hpp"

namespace sprocketry::model {
namespace {

// Air at the temperature at which resistances are stated, so that a rise over air is also one over
// the reference, as the closed forms assume.
constexpr double kAir = kWindingReference;

Motor motor_of(double resistance, const ThermalNetwork& network) {
  Motor motor;
  motor.resistance = resistance;
  motor.thermal = network;
  return motor;
}

TEST(SteadyWinding, FollowsTheHotClosedForm) {
  // rise = R_th P_0/(1 - alpha R_th P_0) with P_0 = I^2 x 0.016 ohm, R_th 0.5 K/W (computed).
  const Motor motor = motor_of(0.016, {0.2, 0.3, 500, 4000, 0});
  const auto rise = [&](double current) {
    return steady_temperature(motor, {current * current, 0}, kAir).winding - kAir;
  };
  EXPECT_NEAR(rise(100), 116.686, 5e-4);
  EXPECT_NEAR(rise(150), 615.17, 5e-3);
}

TEST(SteadyWinding, DoesNotExistFromTheRunawayCurrentOn) {
  // 1/(alpha R_th R_0) = I^2 at 178.344 A (computed).
  const Motor motor = motor_of(0.016, {0.2, 0.3, 500, 4000, 0});
  const auto settles = [&](double current) {
    return !std::isnan(steady_temperature(motor, {current * current, 0}, kAir).winding);
  };
  EXPECT_TRUE(settles(178.343));
  EXPECT_FALSE(settles(178.345));
  EXPECT_FALSE(settles(300));
}

// A textbook's two nodes with a constant loss in the winding: C_w 300 J/K, C_h 4000 J/K, R_wh 0.15
// K/W, R_ha 0.35 K/W, 250 W.
struct TextbookNodes {
  double winding_capacity = 300;
  double housing_capacity = 4000;
  double winding_to_housing = 0.15;
  double housing_to_air = 0.35;
  double loss = 250;
};

// The engine's copper loss grows with temperature, the textbook's does not; yet both are linear, so
// a motor exists whose body runs through the textbook's temperatures and whose winding through
// `scale` times them. Put w = scale x, b = y into the engine's equations, with q = I^2 R25 and air
// at the reference temperature:
//   C_w scale x' = q - ((1 - alpha q R_wb) scale x - y)/R_wb,  C_b y' = (scale x - y)/R_wb - y/R_ba
// which are the textbook's when scale = 1/(1 - alpha q R_wb), R_wb = scale R_wh, C_w = C/scale^2,
// C_b = C_h, q = P/scale and 1/R_ba = 1/R_wh + 1/R_ha - 1/R_wb; hence scale = 1/(1 - alpha P R_wh).
struct Equivalent {
  Motor motor;
  HeatLoad load;
  double scale = 0;

  explicit Equivalent(const TextbookNodes& book) {
    scale = 1 / (1 - kCopperCoefficient * book.loss * book.winding_to_housing);
    const double winding_to_body = scale * book.winding_to_housing;
    const double body_to_air =
        1 / (1 / book.winding_to_housing + 1 / book.housing_to_air - 1 / winding_to_body);
    motor = motor_of(1, {winding_to_body, body_to_air, book.winding_capacity / (scale * scale),
                         book.housing_capacity, 0});
    load = {book.loss / scale, 0};
  }
};

TEST(TwoNodes, WarmUpAsInTheTable) {
  // Computed for the textbook's nodes; tolerance: the last printed digit.
  constexpr struct {
    double time, winding, housing, winding_digit, housing_digit;  // s, K
  } kTable[] = {
      {10, 7.47693, 0.064075, 5.1e-6, 5.1e-7},     {45, 23.98866, 1.001694, 5.1e-6, 5.1e-7},
      {60, 28.19170, 1.610049, 5.1e-6, 5.1e-7},    {300, 48.94713, 13.741933, 5.1e-6, 5.1e-7},
      {600, 62.68526, 27.044517, 5.1e-6, 5.1e-7},  {1800, 96.87770, 60.216770, 5.1e-6, 5.1e-7},
      {3600, 116.47409, 79.228469, 5.1e-6, 5.1e-7}};
  const Equivalent equivalent{TextbookNodes{}};
  for (const auto& row : kTable) {
    SCOPED_TRACE(row.time);
    const MotorTemperature at =
        temperature_after(equivalent.motor, equivalent.load, kAir, {kAir, kAir}, row.time);
    EXPECT_NEAR((at.winding - kAir) / equivalent.scale, row.winding, row.winding_digit);
    EXPECT_NEAR(at.body - kAir, row.housing, row.housing_digit);
  }
}

TEST(TwoNodes, SettleAtTheTablesTemperatures) {
  // 125.0 K and 87.5 K (computed).
  const Equivalent equivalent{TextbookNodes{}};
  const MotorTemperature steady = steady_temperature(equivalent.motor, equivalent.load, kAir);
  EXPECT_NEAR((steady.winding - kAir) / equivalent.scale, 125.0, 1e-9);
  EXPECT_NEAR(steady.body - kAir, 87.5, 1e-9);
}

TEST(TwoNodes, DecayWithTheTablesTimeConstants) {
  // 41.7708 s and 1508.229 s (computed). What is left to settle after so long that the fast part is
  // gone falls by e in the slow time constant; what that leaves of the start falls in the fast one.
  const Equivalent equivalent{TextbookNodes{}};
  const MotorTemperature steady = steady_temperature(equivalent.motor, equivalent.load, kAir);
  const auto left = [&](double time) {
    const MotorTemperature at =
        temperature_after(equivalent.motor, equivalent.load, kAir, {kAir, kAir}, time);
    return steady.winding - at.winding;
  };
  const double slow = 1000 / std::log(left(2000) / left(3000));
  EXPECT_NEAR(slow, 1508.229, 5e-3);
  const auto fast_part = [&](double time) {
    return left(time) - left(2000) * std::exp((2000 - time) / slow);
  };
  EXPECT_NEAR(60 / std::log(fast_part(10) / fast_part(70)), 41.7708, 2e-3);
}

// A motor without copper loss and nearly without winding: one node with a time constant.
Motor one_node(double time_constant) { return motor_of(1, {0.1, 1.0, 1e-3, time_constant, 0}); }

TEST(OneNode, HeatsAlongTheExponentialOfTheTextbooks) {
  // Time constant 60 min, final rise 80 K (computed from the curve of Subrahmanyam and Dubey).
  constexpr double kTable[][2] = {{10, 12.2815}, {30, 31.4775},  {60, 50.5696},
                                  {90, 62.1496}, {120, 69.1732}, {180, 76.0170}};
  for (const auto& [minutes, rise] : kTable) {
    const MotorTemperature at =
        temperature_after(one_node(3600), {0, 80}, kAir, {kAir, kAir}, 60 * minutes);
    EXPECT_NEAR(at.body - kAir, rise, 6e-5) << minutes;
  }
}

TEST(OneNode, ReachesSharesOfTheRiseInWholeTimeConstants) {
  // 63.212, 86.466, 95.021 and 99.326 % after 1, 2, 3 and 5 time constants (any textbook, seen).
  constexpr double kTable[][2] = {{1, 63.212}, {2, 86.466}, {3, 95.021}, {5, 99.326}};
  for (const auto& [constants, share] : kTable) {
    const MotorTemperature at =
        temperature_after(one_node(1000), {0, 100}, kAir, {kAir, kAir}, 1000 * constants);
    EXPECT_NEAR(at.body - kAir, share, 6e-4) << constants;
  }
}

TEST(OneNode, TakesTheTimeOfAPublishedExampleToNearlyItsFinalTemperature) {
  // Fuchs and Masoum, eq. 6-39 (seen): 3 h, from 40 to 120 degC, 95 % of 120 degC (of the
  // temperature, not of the rise) after 2.59 time constants or 7.77 h; 7.7708 h computed.
  const double air = kZeroCelsius + 40;
  const MotorTemperature at =
      temperature_after(one_node(3 * 3600), {0, 80}, air, {air, air}, 7.7708 * 3600);
  EXPECT_NEAR(at.body - kZeroCelsius, 0.95 * 120, 2e-4);
}

TEST(DutyCurrent, HasTheRootMeanSquareOfTheTextbooks) {
  // 100 kW for 10 min, none for 5, 60 kW for 8, none for 4: 69.0679 kW (computed; Kosow, Dubey,
  // from memory). In the engine: the excess of I^2 t that a rated time allows, spread over a longer
  // one.
  EXPECT_NEAR(std::sqrt((100.0 * 100 * 10 + 60.0 * 60 * 8) / 27), 69.0679, 5e-5);
  const double spread = current_for_duration(0, 100, 10, 27);
  const double second = current_for_duration(0, 60, 8, 27);
  EXPECT_NEAR(std::hypot(spread, second), 69.0679, 5e-5);
}

}  // namespace
}  // namespace sprocketry::model
