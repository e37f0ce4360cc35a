// The rules of the chain's strength, each just inside and just outside its limit, and unchecked.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>

#include "model/chain_capacity.hpp"
#include "model/chain_strength.hpp"
#include "model/constants.hpp"
#include "rules/chain_load.hpp"
#include "rules/rule.hpp"

namespace sprocketry::rules {
namespace {

constexpr double kRpm = 2 * model::kPi / 60;  // rad/s

const Rule& rule(std::string_view name) {
  return *std::ranges::find(rule_table(), name, &Rule::name);
}

// A #40 chain of 10 000 N on 17 teeth; tests change what they need.
struct Bike {
  spec::Requirement requirement;
  parts::MotorPart motor;
  parts::ChainPart chain;
  Selection parts;
  ChainRun run;
  spec::Metrics metrics;
  model::ShaftTorque torque;

  Bike() {
    chain.size = "40";
    chain.model = {12.7e-3, 3.96e-3, 0.625, 10000, 0, 0};
    motor.model.torque_constant = 0.1;
    parts.motor = &motor;
    parts.chain = &chain;
    parts.front_teeth = 17;
    run.fit = model::ChainFit{100, 0.57};
  }
  Bike(const Bike&) = delete;
  Bike& operator=(const Bike&) = delete;

  // Sets both curves to one corner, a torque that makes this pull at standstill.
  void pull(double peak, double continuous) {
    const double arm = 1 / model::tight_side_pull(chain.model.pitch, parts.front_teeth, 1.0);
    torque.burst.corner[0] = {0, peak * arm};
    torque.continuing.corner[0] = {0, continuous * arm};
    torque.burst.count = torque.continuing.count = 1;
  }
  // Sets the continuous rating to a power (W) at a speed (rad/s).
  void rated(double power, double speed) {
    torque.continuing.corner[0] = {0, 0};
    torque.continuing.corner[1] = {speed, power / speed};
    torque.continuing.count = 2;
  }
  [[nodiscard]] Context context() const { return {requirement, parts, run, metrics, torque}; }
  [[nodiscard]] Finding check(std::string_view name) const {
    return rule(name).check(context(), 0);
  }
};

TEST(ChainPeakPull, RejectsFromHalfTheTensileStrengthOn) {
  EXPECT_EQ(rule("chain peak pull").kind, Kind::kReject);
  Bike bike;
  bike.pull(4999, 100);
  EXPECT_TRUE(bike.check("chain peak pull").holds());
  bike.pull(5001, 100);
  EXPECT_FALSE(bike.check("chain peak pull").holds());
  EXPECT_NEAR(bike.check("chain peak pull").margin(), -1, 1e-9);
}

TEST(ChainPeakPull, CountsTheCentrifugalPart) {
  Bike bike;
  bike.pull(4990, 100);
  bike.torque.burst.corner[1] = bike.torque.burst.corner[0];
  bike.torque.burst.count = 2;
  const double per_radian = 17 * 12.7e-3 / (2 * model::kPi);
  bike.torque.burst.corner[1].speed = std::sqrt(9.9 / 0.625) / per_radian;
  EXPECT_TRUE(bike.check("chain peak pull").holds());
  bike.torque.burst.corner[1].speed = std::sqrt(10.1 / 0.625) / per_radian;
  EXPECT_FALSE(bike.check("chain peak pull").holds());
}

TEST(ChainPeakPull, HoldsAHalfLinkTo65Percent) {
  Bike bike;
  bike.requirement.choose.half_links = true;
  bike.run.fit->links = 101;
  bike.pull(3249, 100);
  EXPECT_TRUE(bike.check("chain peak pull").holds());
  bike.pull(3251, 100);
  EXPECT_FALSE(bike.check("chain peak pull").holds());
  bike.run.fit->links = 102;
  EXPECT_TRUE(bike.check("chain peak pull").holds());
}

TEST(ChainPeakPull, IsUncheckedWhileAHalfLinkIsUndecided) {
  Bike bike;
  bike.pull(100, 100);
  bike.run.fit.reset();
  // Without half links the chain is of whole links however long it will be.
  EXPECT_TRUE(bike.check("chain peak pull").holds());
  bike.requirement.choose.half_links = true;
  for (const char* name : {"chain peak pull", "chain continuous pull"}) {
    const Finding finding = bike.check(name);
    ASSERT_TRUE(finding.unchecked()) << name;
    EXPECT_EQ(finding.lack, Lack::kReason);
    EXPECT_NE(std::string(finding.missing).find("adjuster"), std::string::npos);
  }
}

TEST(ChainContinuousPull, CautionsFromASixthOfTheTensileStrengthOn) {
  EXPECT_EQ(rule("chain continuous pull").kind, Kind::kCaution);
  Bike bike;
  bike.pull(4000, 1666);
  EXPECT_TRUE(bike.check("chain continuous pull").holds());
  bike.pull(4000, 1667);
  EXPECT_FALSE(bike.check("chain continuous pull").holds());
}

// #40 with 17 teeth at 900 rpm is rated 4.98 hp, 2.86 kW with service factor 1.3.
constexpr double kRating = 4.98 * 745.7 / 1.3;

TEST(ChainPowerCapacity, CautionsAboveThePublishedRating) {
  EXPECT_EQ(rule("chain power capacity").kind, Kind::kCaution);
  Bike bike;
  bike.rated(0.998 * kRating, 900 * kRpm);
  EXPECT_TRUE(bike.check("chain power capacity").holds());
  bike.rated(1.002 * kRating, 900 * kRpm);
  EXPECT_FALSE(bike.check("chain power capacity").holds());
}

TEST(ChainPowerCapacity, IsThatOfTheFastestCruiseWhereThereIsOne) {
  Bike bike;
  bike.rated(100 * kRating, 900 * kRpm);
  bike.requirement.cruise = {10, 15, 12};
  bike.metrics.performance.cruise.resize(3);
  auto& fastest = bike.metrics.performance.cruise[1];
  fastest.motor_speed = 900 * kRpm;
  fastest.motor_current = 0.998 * kRating / (900 * kRpm) / 0.1;
  EXPECT_TRUE(bike.check("chain power capacity").holds());
  // The loss stays in the motor.
  bike.motor.model.loss = {0.1, 0.001};
  fastest.motor_current += (0.1 + 0.001 * 900 * kRpm) / 0.1;
  EXPECT_TRUE(bike.check("chain power capacity").holds());
  EXPECT_NEAR(chain_duty(bike.context()).power, 0.998 * kRating, 1e-6);
  fastest.motor_current *= 1.01;
  EXPECT_FALSE(bike.check("chain power capacity").holds());
  fastest.motor_current = model::kNone;
  EXPECT_EQ(bike.check("chain power capacity").lack, Lack::kSpeed);
  EXPECT_TRUE(bike.check("chain power capacity").unchecked());
}

TEST(ChainPowerCapacity, IsNothingAboveTheGallingSpeed) {
  Bike bike;
  bike.chain.size = "80";
  bike.chain.model.pitch = 25.4e-3;
  const double limit = model::galling_speed(25.4e-3, 17, 0);
  ASSERT_LT(limit, 3000 * kRpm);
  bike.chain.model.mass_per_length = 0;
  bike.rated(1, limit * 0.999);
  EXPECT_TRUE(bike.check("chain power capacity").holds());
  bike.rated(1, limit * 1.001);
  EXPECT_FALSE(bike.check("chain power capacity").holds());
}

TEST(ChainPowerCapacity, IsUncheckedOutsideTheTables) {
  const auto missing = [](const Bike& bike) {
    const Finding finding = bike.check("chain power capacity");
    EXPECT_EQ(finding.lack, Lack::kReason);
    EXPECT_TRUE(std::isnan(chain_duty(bike.context()).capacity));
    return std::string(finding.missing ? finding.missing : "");
  };
  Bike bike;
  bike.rated(1, 3000 * kRpm);
  EXPECT_FALSE(bike.check("chain power capacity").unchecked());
  bike.rated(1, 3001 * kRpm);
  EXPECT_NE(missing(bike).find("3000 rpm"), std::string::npos);
  bike.rated(1, 49 * kRpm);
  EXPECT_NE(missing(bike).find("50"), std::string::npos);
  bike.rated(1, 900 * kRpm);
  for (const int teeth : {10, 46}) {
    bike.parts.front_teeth = teeth;
    EXPECT_NE(missing(bike).find("11 to 45 teeth"), std::string::npos);
  }
  for (const int teeth : {11, 45}) {
    bike.parts.front_teeth = teeth;
    EXPECT_FALSE(bike.check("chain power capacity").unchecked());
  }
  // The same pitch, another chain.
  for (const char* size : {"420", "428", "520", "08B"}) {
    bike.chain.size = size;
    EXPECT_NE(missing(bike).find("no published power rating"), std::string::npos) << size;
  }
}

}  // namespace
}  // namespace sprocketry::rules
