#pragma once

#include <optional>

#include "model/charge_law.hpp"

namespace sprocketry::model {

// The range's quadrature leaves up to 1e-6; a bound stands back from it by this factor.
inline constexpr double kRangeSlack = 1.0 + 3e-6;

// Integral over the usable window, as far as the open-circuit voltage lies above the cut-off, of
// 1/charge d soc, in 1/C. See ride().
double inverse_charge_integral(ChargeLaw& law);

// Bounds of that integral in 1/C, at about an eighth of the work; nothing where the integral itself
// is as quick, as it is for every cell that weighs no current, or there is no window.
struct IntegralBounds {
  double least = 0;
  double most = 0;
};
std::optional<IntegralBounds> inverse_charge_bounds(ChargeLaw& law);

}  // namespace sprocketry::model
