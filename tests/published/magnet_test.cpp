#include <gtest/gtest.h>

#include "model/constants.hpp"
#include "model/heat.hpp"
#include "model/motor.hpp"

namespace sprocketry::model {
namespace {

// Remanence, and with it the torque constant, per kelvin: neodymium -0.09 to -0.12 % (makers'
// tables of temperature coefficients, seen), ferrite -0.2 % (lecture notes on permanent-magnet
// machines, CEL cel-01246816, seen). 80 K above 25 degC.
TEST(Magnet, LosesItsShareOfTheTorqueConstantWithHeat) {
  Motor motor;
  motor.torque_constant = 0.2;
  constexpr double kHot = kWindingReference + 80;
  EXPECT_EQ(warm_torque_constant(motor, kHot), 0.2);
  motor.magnet = Magnet::kFerrite;
  EXPECT_NEAR(warm_torque_constant(motor, kHot), 0.2 * 0.840, 1e-12);
  motor.magnet = Magnet::kNeodymium;
  EXPECT_GE(warm_torque_constant(motor, kHot), 0.2 * 0.904);
  EXPECT_LE(warm_torque_constant(motor, kHot), 0.2 * 0.928);
  EXPECT_EQ(warm_torque_constant(motor, kWindingReference), 0.2);
}

// Between winding and air the body's rise over the air is its share of the resistances in series,
// as in a divider.
TEST(Magnet, IsAsWarmAsTheBody) {
  Motor motor;
  motor.thermal.winding_to_body = 0.08;
  motor.thermal.body_to_air = 0.12;
  const MotorTemperature warm = settled_at(motor, kZeroCelsius + 120, kZeroCelsius + 20);
  EXPECT_EQ(warm.winding, kZeroCelsius + 120);
  EXPECT_NEAR(warm.body, kZeroCelsius + 80, 1e-9);
}

}  // namespace
}  // namespace sprocketry::model
