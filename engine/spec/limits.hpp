#pragma once

#include <numbers>

#include "parts/limits.hpp"
#include "parts/values.hpp"

// What is believable for each quantity of a requirement, in SI; common practice, no source.
namespace sprocketry::spec::limits {

using parts::IntegerRule;
using parts::NumberRule;
using parts::QuantityRule;
using units::Dimension;

inline constexpr double kCelsius = parts::limits::kCelsius;

namespace bike {
inline constexpr QuantityRule kMass{Dimension::kMass, 20, 1000};
inline constexpr QuantityRule kMaxGrossMass{Dimension::kMass, 50, 3000, false, "330 kg"};
inline constexpr QuantityRule kWheelbase{Dimension::kLength, 0.5, 3, false, "1.35 m"};
inline constexpr QuantityRule kHeight{Dimension::kLength, 0.1, 2, false, "600 mm"};
inline constexpr QuantityRule kBehindFrontAxle{Dimension::kLength, 0, 3, true, "650 mm"};
inline constexpr QuantityRule kDragArea{Dimension::kArea, 0, 5};
inline constexpr NumberRule kRollingResistance{0, 0.5};
inline constexpr QuantityRule kAccessories{Dimension::kPower, 0, 5000};
inline constexpr QuantityRule kWheelInertia{Dimension::kInertia, 0, 50};
inline constexpr QuantityRule kRollout = parts::limits::tyre::kRollout;
inline constexpr QuantityRule kCentreDistance{Dimension::kLength, 0.1, 2};
inline constexpr QuantityRule kMaxDiameter{Dimension::kLength, 0.05, 1, false, "250 mm"};
inline constexpr QuantityRule kAcross{Dimension::kLength, -0.3, 0.5};
inline constexpr QuantityRule kSpacer{Dimension::kLength, 0, 0.1};
inline constexpr QuantityRule kArmLength{Dimension::kLength, 0.2, 1};
inline constexpr QuantityRule kShaftFromPivot{Dimension::kLength, -0.3, 0.3};
inline constexpr QuantityRule kArmAngle{Dimension::kAngle, -std::numbers::pi / 4,
                                        std::numbers::pi / 4};
inline constexpr NumberRule kPrimaryRatio{0.1, 20};
inline constexpr QuantityRule kPrimaryEfficiency{Dimension::kRatio, 0.5, 1};
inline constexpr QuantityRule kPivotDiameter{Dimension::kLength, 0.01, 0.2, false, "40 mm"};
}  // namespace bike

namespace road_load {
inline constexpr QuantityRule kConstant{Dimension::kForce, 0, 2000};
inline constexpr QuantityRule kLinear{Dimension::kForcePerSpeed, 0, 100};
inline constexpr QuantityRule kQuadratic{Dimension::kForcePerSpeedSquared, 0, 10};
inline constexpr QuantityRule kMass{Dimension::kMass, 20, 3000};
}  // namespace road_load

namespace load {
inline constexpr QuantityRule kRider{Dimension::kMass, 0, 500};
inline constexpr QuantityRule kLoad{Dimension::kMass, 0, 1000};
}  // namespace load

namespace conditions {
inline constexpr QuantityRule kAir{Dimension::kTemperature, kCelsius - 50, kCelsius + 60};
inline constexpr QuantityRule kAltitude{Dimension::kLength, -500, 6000, false, "300 m"};
inline constexpr QuantityRule kHeadwind{Dimension::kSpeed, -40, 40, false, "5 m/s"};
inline constexpr NumberRule kGrip{0, 3, true};
inline constexpr QuantityRule kStateOfCharge{Dimension::kRatio, 0, 1};
inline constexpr QuantityRule kWinding{Dimension::kTemperature, kCelsius - 50, kCelsius + 300};
inline constexpr QuantityRule kPackTemperature{Dimension::kTemperature, kCelsius - 30,
                                               kCelsius + 60};
inline constexpr QuantityRule kHealth{Dimension::kRatio, 0.5, 1};
}  // namespace conditions

namespace riding {
inline constexpr QuantityRule kSpeed{Dimension::kSpeed, 0.1, 150};
inline constexpr QuantityRule kStartSpeed{Dimension::kSpeed, 0, 150};
inline constexpr QuantityRule kGrade{Dimension::kRatio, -0.5, 0.6};
inline constexpr QuantityRule kDuration{Dimension::kTime, 0.1, 86400};
inline constexpr NumberRule kTraceTime{-1e9, 1e9};
inline constexpr NumberRule kTraceGrade{-50, 60};  // %
inline constexpr QuantityRule kTraceSpeed{Dimension::kSpeed, 0, 150};
}  // namespace riding

namespace must {
inline constexpr QuantityRule kAcceleration{Dimension::kTime, 0, 3600, true, "6 s"};
inline constexpr QuantityRule kRange{Dimension::kLength, 0, 1e7, true, "60 km"};
inline constexpr QuantityRule kHillStart{Dimension::kRatio, 0, 1};
inline constexpr QuantityRule kCurrent{Dimension::kCurrent, 0, 10000, true};
inline constexpr QuantityRule kMass{Dimension::kMass, 20, 3000};
inline constexpr QuantityRule kChargeTime{Dimension::kTime, 0, 3.6e6, true, "6 h"};
inline constexpr QuantityRule kKeepsUp{Dimension::kRatio, 0, 1};
inline constexpr QuantityRule kClassPower{Dimension::kPower, 0, 1e6, true, "11 kW"};
inline constexpr QuantityRule kClassPowerPerMass{Dimension::kPowerPerMass, 0, 1e5, true};
}  // namespace must

namespace charging {
inline constexpr QuantityRule kOutlet{Dimension::kPower, 50, 1e6, false, "1.4 kW"};
}

namespace choose {
inline constexpr QuantityRule kVoltageClass{Dimension::kVoltage, 1, 2000};
}  // namespace choose

}  // namespace sprocketry::spec::limits
