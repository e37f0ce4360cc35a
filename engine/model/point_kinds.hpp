#pragma once

#include <optional>

#include "model/charge_window.hpp"
#include "model/limit_laws.hpp"
#include "model/ride.hpp"
#include "model/stand_ins.hpp"

namespace sprocketry::model {

// The stand-ins by which a sweep's points go (charge_sweep.hpp): those that are followed, over
// their power at the pack in W, and those on full duty, over their back EMF in V; none of these
// when no point is ever on full duty.
struct PointKinds {
  StandIns followed;
  StandIns duty;
};

// Chooses them for the points of `sweep`, whose powers, back EMFs and changes of limits are noted.
// Pack resistance in ohm, accessories in W. Nothing where some load nearly is the pack's matched
// one in the window, or beyond it.
std::optional<PointKinds> choose_stand_ins(const LimitLaws& laws, const ChargeWindow& window,
                                           double resistance, double accessories,
                                           const SweepWork& sweep);

}  // namespace sprocketry::model
