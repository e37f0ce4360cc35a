// Forces on the road, limits of grip and lift-off, air and tyres against lecture examples,
// standards and makers' tables. "Seen": read in a public copy of the text; "from memory": recalled
// from the named publication; "computed": recalculated elsewhere from stated inputs.
#include <gtest/gtest.h>

#include <cmath>

#include "model/constants.hpp"
#include "model/road.hpp"
#include "model/traction.hpp"
#include "model/tyre.hpp"

namespace sprocketry::model {
namespace {

constexpr double kKmH = 1.0 / 3.6;  // m/s

// Rolling coefficient and mass scale with gravity; what a book's gravity makes of a weight.
double book_mass(double mass, double gravity) { return mass * gravity / kGravity; }

struct Vehicle {
  const char* name;
  double mass, drag_area;                      // kg, m2
  double drag_30, drag_80, rolling, gradient;  // N
  double rolling_tolerance;                    // N
};

// IIT Madras (NPTEL), Fundamentals of Electric Vehicles, week 2 (seen): air 1.2 kg/m3, slope 8 deg,
// rolling 0.015, gravity 9.81 m/s2. The two-wheeler's printed 29.4 N leaves out cos 8 deg and takes
// 9.8 m/s2, unlike the other two rows (29.14 N with both).
constexpr Vehicle kVehicles[] = {
    {"two-wheeler", 200, 0.9 * 0.6, 22.5, 160, 29.4, 273, 0.3},
    {"three-wheeler", 600, 0.45 * 1.6, 30, 213.33, 87.43, 819.17, 0.005},
    {"four-wheeler", 1500, 0.3 * 2.5, 31.25, 222.22, 218.57, 2047.93, 0.01},
};

TEST(RoadForce, IsThatOfTheLecturesThreeVehicles) {
  const double grade = std::tan(8 * kPi / 180);
  for (const Vehicle& vehicle : kVehicles) {
    SCOPED_TRACE(vehicle.name);
    const Surroundings air{1.2, 0};
    const RoadLoad drag_only{0, 0, vehicle.drag_area};
    EXPECT_NEAR(road_force(drag_only, air, 1, 0, 30 * kKmH), vehicle.drag_30, 0.005);
    EXPECT_NEAR(road_force(drag_only, air, 1, 0, 80 * kKmH), vehicle.drag_80, 0.005);
    const double mass = book_mass(vehicle.mass, 9.81);
    const double climbing = road_force({}, air, mass, grade, 0);
    // The two-wheeler's gradient is printed in whole newtons.
    EXPECT_NEAR(climbing, vehicle.gradient, vehicle.mass == 200 ? 0.5 : 0.005);
    EXPECT_NEAR(road_force({0.015, 0, 0}, air, mass, grade, 0) - climbing, vehicle.rolling,
                vehicle.rolling_tolerance);
  }
}

TEST(RoadForce, IsThatOfTheLecturesCarUnderAcceleration) {
  // IIT Delhi (NPTEL), Electric Vehicles Part 1, week 4, case B (seen): 1200 kg, A 2 m2, Cd 0.25,
  // rolling 0.02, air 1.25, gravity 10 m/s2, rotating parts 6 %, 0 to 80 km/h in 10 s. The printed
  // 3218.1 N and 3102.3 N come from 2.22 m/s2 and speeds of 22.22 and 11.1 m/s.
  const double mass = book_mass(1200, 10);
  const RoadLoad load{0.02, 0, 0.25 * 2};
  const auto effort = [&](double acceleration, double speed) {
    return 1.06 * 1200 * acceleration + road_force(load, {1.25, 0}, mass, 0, speed);
  };
  EXPECT_NEAR(effort(2.22, 22.22), 3218.1, 0.05);
  EXPECT_NEAR(effort(2.22, 11.1), 3102.3, 0.05);
  EXPECT_NEAR(effort(80 * kKmH / 10, 80 * kKmH), 3220.988, 0.0005);  // computed, unrounded
  EXPECT_NEAR(effort(80 * kKmH / 10, 40 * kKmH), 3105.247, 0.0005);
}

TEST(Grade, IsThatOfTheLecturesTractiveEffort) {
  // IIT Delhi, case A (seen): 200 N m at G/r = 15 1/m gives 3000 N, which carries 1262 kg up 25 %
  // with rolling resistance left out (gravity 9.8 m/s2; printed mass rounded to 1 kg).
  EXPECT_NEAR(grade_from_force(0, book_mass(1262, 9.8), 200 * 15, 0), 0.25, 0.25 * 0.0005);
  EXPECT_NEAR(grade_from_force(0, book_mass(1262.175, 9.8), 200 * 15, 0), 0.25, 1e-6);
}

TEST(Grade, FollowsFromThrustInClosedForm) {
  // sin = (phi - f sqrt(1 - phi^2 + f^2))/(1 + f^2) with f = 0.015, phi = 0.221677438 (computed).
  const double mass = 230;
  const double grade = grade_from_force(0.015, mass, 0.221677438 * mass * kGravity, 0);
  EXPECT_NEAR(grade, 0.211585171, 1e-6 * grade);
  EXPECT_NEAR(std::sin(std::atan(grade)), 0.207002331, 1e-8);
  EXPECT_NEAR(std::atan(grade) * 180 / kPi, 11.9467388, 1e-6);
}

TEST(DriveForce, IsLimitedByGripAndLiftAsInTheWorkedExample) {
  // Wheelbase 1.40 m, centre of gravity 0.68 m ahead of the rear contact and 0.60 m high (computed
  // from a_w = g b/h and a_t = mu g (p - b)/(p - mu h); Cossalter, Motorcycle Dynamics, from
  // memory).
  const auto acceleration = [](double grip) {
    return largest_drive_force({1.40, 0.60, 1.40 - 0.68, grip}, 1.0);
  };
  EXPECT_NEAR(acceleration(0.9), 7.389197, 5e-7);   // the tyre slips first
  EXPECT_NEAR(acceleration(2.0), 11.114203, 5e-7);  // the front wheel lifts first
  EXPECT_NEAR(acceleration(2.5), 11.114203, 5e-7);  // mu h/L = 1.07: grip never limits
  EXPECT_NEAR(acceleration(10.0), 11.114203, 5e-7);
  // Traction governs when mu < b/h.
  EXPECT_LT(acceleration(0.68 / 0.60 - 0.01), 11.114203 - 0.05);
  EXPECT_NEAR(acceleration(0.68 / 0.60), 11.114203, 5e-7);
}

TEST(AirDensity, IsThatOfTheStandardAtmosphere) {
  // ISO 2533:1975 (computed from T = 288.15 - 0.0065 z and its pressure law).
  constexpr double kTable[][2] = {{0, 1.22500},    {500, 1.16727},  {1000, 1.11164},
                                  {1500, 1.05807}, {2000, 1.00649}, {2500, 0.95686},
                                  {3000, 0.90912}};
  for (const auto& [altitude, density] : kTable) {
    EXPECT_NEAR(air_density(altitude, 288.15 - 0.0065 * altitude), density, 5.1e-6) << altitude;
  }
}

TEST(AirDensity, FollowsTheTemperatureOfTheDay) {
  // Dry air p/(R T) at 101.325 kPa (computed; 1.205 by Ehsani and 1.2 by NPTEL are its roundings).
  constexpr double kTable[][2] = {{0, 1.29227}, {20, 1.20411}, {25, 1.18391}, {35, 1.14549}};
  for (const auto& [celsius, density] : kTable) {
    EXPECT_NEAR(air_density(0, kZeroCelsius + celsius), density, 5.1e-6) << celsius;
  }
}

struct Tyre {
  double width, aspect, rim, diameter;  // mm, share, in, mm
};

// A tyre maker's page (seen): D = d_rim + 2 H with 25.4 mm to the inch, printed to 0.1 mm; the last
// three after the rule that an inch size without an aspect ratio has 100 % (same page, seen).
constexpr Tyre kTyres[] = {{120, 1.00, 18, 697.2},  {120, 0.90, 18, 673.2},
                           {120, 0.80, 18, 649.2},  {76.2, 1.00, 18, 609.6},
                           {88.9, 1.00, 18, 635.0}, {101.6, 1.00, 18, 660.4}};

TEST(Tyre, RollsTheCircumferenceOfItsMarking) {
  for (const Tyre& tyre : kTyres) {
    const double rolled = rolling_circumference(tyre.width * 1e-3, tyre.aspect, tyre.rim * 25.4e-3);
    EXPECT_NEAR(rolled, kPi * tyre.diameter * 1e-3, kPi * 0.05e-3) << tyre.diameter;
  }
}

TEST(Tyre, AgreesWithTheDesignDiametersOfTheStandard) {
  // ETRTO and ISO 5751 design diameters (from memory) use a rim table (18 is 457 mm), 0.2 to 0.4 mm
  // less than 25.4 mm to the inch.
  constexpr Tyre kDesign[] = {{80, 0.90, 18, 601},  {90, 0.90, 18, 619},  {100, 0.90, 18, 637},
                              {110, 0.90, 18, 655}, {100, 0.90, 19, 663}, {90, 0.90, 21, 695},
                              {80, 1.00, 17, 592},  {110, 0.80, 17, 608}, {140, 0.70, 17, 628},
                              {130, 0.90, 16, 640}, {100, 0.90, 10, 434}};
  for (const Tyre& tyre : kDesign) {
    const double rolled = rolling_circumference(tyre.width * 1e-3, tyre.aspect, tyre.rim * 25.4e-3);
    EXPECT_NEAR(rolled, kPi * tyre.diameter * 1e-3, kPi * 0.5e-3) << tyre.diameter;
  }
}

}  // namespace
}  // namespace sprocketry::model
