#pragma once

#include <optional>
#include <vector>

#include "model/charge_window.hpp"
#include "model/drive.hpp"
#include "model/ride.hpp"

namespace sprocketry::model {

// Integral in 1/C over a window of 1/charge d soc of a ride that falls behind, of a cell that
// weighs no current. The driving points are those of `work`, sorted into easy ones and hard ones
// (see ChargeLaw::sort_out()), whose demand is at most what tyre and phase limit leave.
//
// The charge is a sum over the points, each of which meets one limit after the other as the voltage
// rises (limit_laws.hpp). On the battery limit all draw the same; the followed ones differ in their
// power alone and those on full duty in their back EMF, so each of these two kinds goes by a few
// stand-ins (stand_ins.hpp). A point's share is moved from kind to kind at the voltages where its
// limit changes, and the sum's kinks there are allowed for by the rule (kinked_rule.hpp): every
// node costs a few roots however many points the ride has. Relative error below 1e-6.
//
// Nothing where a point nearly meets the pack's matched load somewhere in the window, or goes
// beyond it: the stand-ins do not serve there.
std::optional<double> swept_inverse_charge(const DriveLimits& limits, const PackSide& side,
                                           const ChargeWindow& window, RideWork& work);

// Adds cuts in V ever closer to the voltage `from` where the current of a point begins that lasts
// at least the main share of a ride: near it the charge is small, and its inverse as steep as 1/(E
// - from).
inline constexpr double kMainShare = 1.0 / 8.0;
void add_graded_cuts(double from, const ChargeWindow& window, std::vector<double>& cuts);

}  // namespace sprocketry::model
