// The motor's equations against worked examples of textbooks on DC machines. "Seen": inputs read in
// a public copy; "from memory": recalled from the named publication; "computed": the exact answer
// recalculated elsewhere from the inputs, where a book rounds on the way.
#include "model/motor.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "model/constants.hpp"
#include "model/drive.hpp"
#include "published/drives.hpp"

namespace sprocketry::model {
namespace {

constexpr double kRpm = kPi / 30;  // rad/s

// Torque constant of a machine whose back EMF is so many volts at a speed in rpm.
double from_back_emf(double volts, double rpm) { return torque_constant(rpm * kRpm / volts); }

TEST(TorqueConstant, IsTheReciprocalOfTheSpeedConstant) {
  // k = 9.549297/Kv (encyclopaedia of motor constants, seen); Kv 50 rpm/V gives 0.190986
  // (computed).
  EXPECT_NEAR(torque_constant(50 * kRpm), 0.190986, 5e-7);
  EXPECT_NEAR(torque_constant(1 * kRpm), 9.549297, 5e-7);
}

TEST(PermanentMagnetMotor, IsThatOfFitzgeraldExample7Point9) {
  // Fitzgerald, Kingsley, Umans, Electric Machinery, 6th ed. (inputs from memory, exact answers
  // computed): 1.03 ohm; no load 50 V, 1.25 A, 2100 rpm; then 48 V at 1700 rpm. The book rounds the
  // constant to 0.22 and prints 8.54 A.
  const double resistance = 1.03;
  const double idle_emf = 50 - 1.25 * resistance;
  EXPECT_NEAR(idle_emf, 48.7125, 1e-9);
  const double k = from_back_emf(idle_emf, 2100);
  EXPECT_NEAR(k, 0.221510, 5e-7);
  const std::vector<NoLoadPoint> no_load{{50, 1.25}};
  const LossTorque loss = loss_torque(k, resistance, no_load);
  EXPECT_NEAR(loss.at(2100 * kRpm) * 2100 * kRpm, 60.891, 5e-4);
  const double w = 1700 * kRpm;
  const double current = largest_motor_current(on_supply(k, resistance, 48), w);
  EXPECT_NEAR(current, 8.31657, 5e-6);
  EXPECT_NEAR(k * w, 39.4339, 5e-5);
  EXPECT_NEAR(k * w * current, 327.955, 5e-4);
  // The book keeps the no-load loss of 60.891 W at every speed (267.065 W out); here it is a
  // torque, so at 1700 rpm it takes 17/21 of that.
  const double out = (k * current - loss.at(w)) * w;
  EXPECT_NEAR(out, 327.955 - 60.891 * 17 / 21, 1e-3);
}

TEST(PermanentMagnetMotor, IsMostEfficientAtTheRootOfIdleTimesStallCurrent) {
  // I = sqrt(I0 Is), eta = (1 - sqrt(I0/Is))^2 (Hughes, from memory); the motor of Fitzgerald 7.9
  // on 50 V: 48.5437 A at stall, 7.78971 A, 70.481 % (computed).
  const double k = from_back_emf(48.7125, 2100);
  const DriveLimits d = on_supply(k, 1.03, 50);
  EXPECT_NEAR(largest_motor_current(d, 0), 48.5437, 5e-5);
  double best = 0;
  double best_current = 0;
  for (double w = 1; w < 220; w += 0.001) {
    const double current = largest_motor_current(d, w);
    const double efficiency = k * (current - 1.25) * w / (50 * current);
    if (efficiency > best) {
      best = efficiency;
      best_current = current;
    }
  }
  EXPECT_NEAR(best, 0.70481, 5e-6);
  EXPECT_NEAR(best_current, 7.78971, 2e-3);  // flat optimum
}

TEST(PermanentMagnetMotor, IsThatOfFitzgeraldsPracticeProblem) {
  // 0.178 ohm; 9 V, 0.437 A, 14 600 rpm at no load: 3.90 W, 5.84e-3 V s/rad (from memory; computed
  // 3.899 and 0.0058357).
  const double k = from_back_emf(9 - 0.437 * 0.178, 14600);
  EXPECT_NEAR(k, 0.0058357, 5e-8);
  const std::vector<NoLoadPoint> no_load{{9, 0.437}};
  const LossTorque loss = loss_torque(k, 0.178, no_load);
  EXPECT_NEAR(loss.at(0) * 14600 * kRpm, 3.899, 5e-4);
}

TEST(PermanentMagnetMotor, IsTheRecordOfAnOpenMachineLibrary) {
  // Modelica Standard Library, permanent-magnet DC machine: 100 V, 100 A, 1425 rpm, 0.05 ohm gives
  // 63.66 N m, no load 1500 rpm (seen); k 0.636620, 2000 A at stall (computed).
  const double k = from_back_emf(100 - 100 * 0.05, 1425);
  EXPECT_NEAR(k, 0.636620, 5e-7);
  const DriveLimits d = on_supply(k, 0.05, 100);
  EXPECT_NEAR(largest_motor_current(d, 1425 * kRpm), 100, 1e-9);
  EXPECT_NEAR(k * 100, 63.66, 5e-3);
  EXPECT_NEAR(largest_motor_current(d, 1500 * kRpm), 0, 1e-9);
  EXPECT_NEAR(largest_motor_current(d, 0), 2000, 1e-9);
}

TEST(BrushlessMotor, IsThatOfATextbookOnSmallMotors) {
  // Textbook companion 1892, Example 4.4 (inputs seen, answers computed): 48 V, k 0.12, 0.15 ohm a
  // phase with two in series; no load 3819.72 rpm. At stall a drop of 2 V in the devices leaves
  // 153.333 A and 18.4 N m.
  const DriveLimits running = on_supply(0.12, 2 * 0.15, 48);
  EXPECT_NEAR(largest_motor_current(running, 3819.72 * kRpm), 0, 1e-5);
  const double stall = largest_motor_current(on_supply(0.12, 2 * 0.15, 48 - 2), 0);
  EXPECT_NEAR(stall, 153.333, 5e-4);
  EXPECT_NEAR(0.12 * stall, 18.4, 1e-9);
}

TEST(BrushlessMotor, IsThatOfTheNextExample) {
  // Example 4.5 (inputs seen, answers computed): 120 V at 6000 rpm; on 60 V behind 2.5 ohm 0.5 N m
  // take 2.61799 A at 2672.75 rpm.
  const double k = torque_constant(6000 * kRpm / 120);
  EXPECT_NEAR(k, 0.190986, 5e-7);
  const DriveLimits d = on_supply(k, 2.5, 60);
  const double current = largest_motor_current(d, 2672.75 * kRpm);
  EXPECT_NEAR(current, 2.61799, 4e-5);  // the speed's last digit
  EXPECT_NEAR(k * current, 0.5, 2e-6);
}

struct ShuntExample {
  const char* source;
  double voltage, resistance;       // V and ohm of the armature
  double reference_emf, reference;  // V at rpm
  double current, speed;            // A, rpm
  double rounding;                  // A that the printed speed leaves open
};

// At a constant field a shunt motor's armature is a permanent-magnet motor.
constexpr ShuntExample kShunt[] = {
    {"basic text, Example 8.16 (seen)", 250, 0.25, 247, 741, 12, 741, 1e-9},
    {"Nasar, Example 6.7 (seen): 46 A of which the field takes 230/75", 230, 0.05,
     230 - 0.05 * (7 - 230.0 / 75), 1120, 46 - 230.0 / 75, 1110.50, 0.03},
    {"Kosow, Example 1-13 (seen): 110 V of back EMF", 125, 0.25, 110, 1000, 60, 1000, 1e-9},
    {"Chapman, Example 9-1, 100 A (from memory)", 250, 0.06, 250, 1200, 95, 1172.64, 1e-6},
    {"Chapman, Example 9-1, 200 A (from memory)", 250, 0.06, 250, 1200, 195, 1143.84, 1e-6},
    {"Chapman, Example 9-1, 300 A (from memory)", 250, 0.06, 250, 1200, 295, 1115.04, 1e-6},
    {"Hughes, ch. 3 (from memory): 480 V at 1000 rpm", 500, 1, 480, 1000, 20, 1000, 1e-9},
};

TEST(ArmatureCurrent, AtTheBooksSpeedIsTheBooks) {
  for (const ShuntExample& e : kShunt) {
    SCOPED_TRACE(e.source);
    const double k = from_back_emf(e.reference_emf, e.reference);
    const double current =
        largest_motor_current(on_supply(k, e.resistance, e.voltage), e.speed * kRpm);
    EXPECT_NEAR(current, e.current, std::max(e.rounding, 1e-9 * e.current));
  }
}

TEST(ArmatureTorque, IsThatOfTheBooks) {
  // 38.1972 N m of the basic text's Example 8.16 (computed); 188.996, 387.940 and 586.884 N m of
  // Chapman's Example 9-1 (computed; the book prints 190, 388 and 587).
  EXPECT_NEAR(from_back_emf(247, 741) * 12, 38.1972, 5e-5);
  const double k = from_back_emf(250, 1200);
  EXPECT_NEAR(k * 95, 188.996, 5e-4);
  EXPECT_NEAR(k * 195, 387.940, 5e-4);
  EXPECT_NEAR(k * 295, 586.884, 5e-4);
}

TEST(Copper, GrowsInResistanceAsInTheStandards) {
  // 0.00393 per kelvin from 20 degC (handbooks, seen): R(100)/R(20) = 1.31440; IEC 60034-1 with
  // 235 + T gives 1.31373 (from memory), UL and IEEE with 234.5 + T 1.31434 (seen). The engine
  // takes the coefficient from 25 degC, where data sheets state the resistance: over 80 K the same
  // factor, from 25 to 105 degC.
  const auto at = [](double celsius) { return winding_resistance(1.0, kZeroCelsius + celsius); };
  EXPECT_NEAR(at(105) / at(25), 1.31440, 5e-6);
  EXPECT_EQ(at(25), 1.0);
  // Against the rules from 25 degC it reads 0.6 % high at 100 degC and 1.2 % at 180 degC.
  for (const double zero : {234.5, 235.0}) {
    for (const double celsius : {0.0, 60.0, 100.0, 130.0, 155.0, 180.0}) {
      const double rule = (zero + celsius) / (zero + 25);
      EXPECT_NEAR(at(celsius), rule, 0.0125 * rule) << celsius;
      EXPECT_GE(std::abs(at(celsius) - 1), std::abs(rule - 1)) << celsius;
    }
  }
}

TEST(LossTorque, OfTwoNoLoadPointsPassesThroughBoth) {
  // A motor with a friction of 0.2 N m and 0.0005 N m s/rad, k 0.15, 0.02 ohm (constructed).
  const double k = 0.15;
  const double resistance = 0.02;
  const LossTorque truth{0.2, 0.0005};
  const auto point = [&](double w) {
    const double current = truth.at(w) / k;
    return NoLoadPoint{k * w + current * resistance, current};
  };
  const std::vector<NoLoadPoint> no_load{point(150), point(450)};
  const LossTorque loss = loss_torque(k, resistance, no_load);
  EXPECT_NEAR(loss.constant, truth.constant, 1e-12);
  EXPECT_NEAR(loss.viscous, truth.viscous, 1e-15);
}

}  // namespace
}  // namespace sprocketry::model
