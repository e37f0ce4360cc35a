#pragma once

#include <numbers>

#include "parts/values.hpp"

// What is believable for each quantity of a part, in SI: wide enough for anything that was ever
// built for the job, narrow enough to catch a slipped unit or decimal. Common practice, no source.
namespace sprocketry::parts::limits {

using units::Dimension;

inline constexpr double kPerRpm = std::numbers::pi / 30.0;  // rad/s of one rpm
inline constexpr double kAmpereHour = 3600.0;               // C
inline constexpr double kCelsius = 273.15;                  // K at 0 degC

// Of all parts.
inline constexpr QuantityRule kPartMass{Dimension::kMass, 0, 500};
inline constexpr QuantityRule kPeakDuration{Dimension::kTime, 0.1, 3600, false, "60 s"};

inline constexpr QuantityRule kEdge{Dimension::kLength, 1e-3, 3};

namespace motor {
inline constexpr QuantityRule kMass{Dimension::kMass, 0.1, 500};
inline constexpr QuantityRule kSpeedConstant{Dimension::kSpeedConstant, 0.5 * kPerRpm,
                                             10000 * kPerRpm};
inline constexpr QuantityRule kResistance{Dimension::kResistance, 1e-6, 100};
inline constexpr QuantityRule kVoltage{Dimension::kVoltage, 1, 2000};
inline constexpr QuantityRule kNoLoadCurrent{Dimension::kMotorCurrent, 0, 1000};
inline constexpr QuantityRule kMaxSpeed{Dimension::kRotationalSpeed, 10 * kPerRpm,
                                        100000 * kPerRpm};
inline constexpr QuantityRule kCurrent{Dimension::kMotorCurrent, 0.1, 10000};
inline constexpr QuantityRule kThermalResistance{Dimension::kThermalResistance, 1e-5, 100};
inline constexpr QuantityRule kHeatCapacity{Dimension::kHeatCapacity, 1, 1e7};
inline constexpr QuantityRule kMaxWinding{Dimension::kTemperature, kCelsius + 50, kCelsius + 300};
inline constexpr QuantityRule kRotorInertia{Dimension::kInertia, 0, 10};
inline constexpr QuantityRule kShaftDiameter{Dimension::kLength, 1e-3, 0.2, false, "22 mm"};
inline constexpr QuantityRule kKey{Dimension::kLength, 0, 0.05, false, "6 mm"};
inline constexpr QuantityRule kShaftLength{Dimension::kLength, 1e-3, 1, false, "40 mm"};
}  // namespace motor

namespace controller {
inline constexpr QuantityRule kVoltage{Dimension::kVoltage, 1, 2000};
inline constexpr QuantityRule kBatteryCurrent{Dimension::kCurrent, 0.1, 10000};
inline constexpr QuantityRule kMotorCurrent{Dimension::kMotorCurrent, 0.1, 10000};
inline constexpr QuantityRule kEfficiency{Dimension::kRatio, 0.5, 1};
inline constexpr QuantityRule kCapacitance{Dimension::kCapacitance, 1e-7, 1};
}  // namespace controller

namespace cell {
inline constexpr QuantityRule kMass{Dimension::kMass, 0.001, 500};
inline constexpr QuantityRule kCapacity{Dimension::kCharge, 0.01 * kAmpereHour,
                                        10000 * kAmpereHour};
inline constexpr QuantityRule kResistance{Dimension::kResistance, 1e-7, 10};
inline constexpr QuantityRule kVoltage{Dimension::kVoltage, 0.5, 1000};
inline constexpr QuantityRule kCurrent{Dimension::kCurrent, 0.01, 10000};
inline constexpr QuantityRule kStateOfCharge{Dimension::kRatio, 0, 1};
inline constexpr NumberRule kPeukertExponent{1, 2};
inline constexpr NumberRule kPeukertHours{0.01, 1000};
inline constexpr QuantityRule kChargeEfficiency{Dimension::kRatio, 0.5, 1};
inline constexpr QuantityRule kColdTemperature{Dimension::kTemperature, kCelsius - 40,
                                               kCelsius + 15};
inline constexpr NumberRule kColdResistance{1, 20};
inline constexpr QuantityRule kColdCapacity{Dimension::kRatio, 0.1, 1};
inline constexpr QuantityRule kLinkResistance{Dimension::kResistance, 0, 10};
inline constexpr IntegerRule kSeries{1, 1000};
inline constexpr IntegerRule kParallel{1, 1000};
}  // namespace cell

namespace charger {
inline constexpr QuantityRule kEfficiency{Dimension::kRatio, 0.5, 1};
inline constexpr QuantityRule kVoltage{Dimension::kVoltage, 1, 2000};
inline constexpr QuantityRule kCurrent{Dimension::kCurrent, 0.01, 10000};
}  // namespace charger

namespace chain {
inline constexpr QuantityRule kPitch{Dimension::kLength, 2e-3, 0.08, false, "12.7 mm"};
inline constexpr QuantityRule kRoller{Dimension::kLength, 1e-3, 0.06, false, "8.51 mm"};
inline constexpr QuantityRule kWidth{Dimension::kLength, 1e-3, 0.06, false, "7.75 mm"};
inline constexpr QuantityRule kPin{Dimension::kLength, 5e-4, 0.04, false, "4.45 mm"};
inline constexpr QuantityRule kTensileStrength{Dimension::kForce, 100, 1e6};
inline constexpr QuantityRule kMassPerLength{Dimension::kMassPerLength, 0.01, 20};
inline constexpr QuantityRule kLoss{Dimension::kRatio, 0, 0.5};
inline constexpr NumberRule kFriction{0, 1};
inline constexpr QuantityRule kMaxSpeed{Dimension::kSpeed, 0.1, 100};
inline constexpr IntegerRule kLinks{10, 10000};
}  // namespace chain

namespace sprocket {
inline constexpr IntegerRule kTeeth{5, 200};
inline constexpr QuantityRule kBore{Dimension::kLength, 1e-3, 0.2, false, "22 mm"};
inline constexpr QuantityRule kHubDiameter{Dimension::kLength, 1e-3, 0.5, false, "40 mm"};
inline constexpr QuantityRule kHubLength{Dimension::kLength, 1e-3, 0.5, false, "30 mm"};
// From the smallest to the largest row of the table of set screws.
inline constexpr QuantityRule kSetScrew{Dimension::kLength, 1.524e-3, 25.4e-3, false, "8 mm"};
inline constexpr IntegerRule kSetScrews{1, 8};
inline constexpr QuantityRule kKeyStrength{Dimension::kPressure, 50e6, 2e9};
inline constexpr QuantityRule kBoltCircle{Dimension::kLength, 0.01, 0.5, false, "110 mm"};
inline constexpr IntegerRule kBolts{2, 20};
inline constexpr QuantityRule kMassPerTooth{Dimension::kMass, 0, 10, false, "12 g"};
}  // namespace sprocket

namespace tyre {
inline constexpr QuantityRule kRollout{Dimension::kLength, 0.5, 4, false, "1.95 m"};
}

namespace extra {
inline constexpr QuantityRule kVoltage{Dimension::kVoltage, 0, 2000};
inline constexpr QuantityRule kCurrent{Dimension::kCurrent, 0, 10000};
}  // namespace extra

}  // namespace sprocketry::parts::limits
