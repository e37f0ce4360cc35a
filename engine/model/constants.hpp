#pragma once

#include <numbers>

namespace sprocketry::model {

inline constexpr double kPi = std::numbers::pi;

// Standard acceleration of gravity, m/s2 (ISO 80000-3:2019).
inline constexpr double kGravity = 9.80665;

// 0 degC in kelvin (ISO 80000-5:2019).
inline constexpr double kZeroCelsius = 273.15;

// Temperature at which a motor's winding resistance is stated, K (25 degC).
inline constexpr double kWindingReference = kZeroCelsius + 25.0;

// Temperature coefficient of copper's resistance, 1/K (0.00393 at 20 degC in the handbooks; applied
// from 25 degC, where data sheets state the resistance).
inline constexpr double kCopperCoefficient = 0.00393;

}  // namespace sprocketry::model
