#pragma once

#include <optional>

#include "model/charging.hpp"
#include "model/drive.hpp"
#include "rules/selection.hpp"
#include "spec/requirement.hpp"

namespace sprocketry::rules {

// A charge of the pack from where riding ends: the end of the usable window, or before it where the
// pack at rest meets the cut-off under load.
struct WholeCharge {
  double from = 0;  // state of charge, 0..1
  model::Charge charge;
};
// With the requirement's outlet; nothing without a charger. See model::charge().
std::optional<WholeCharge> whole_charge(const spec::Requirement& requirement,
                                        const Selection& parts);

// A charge that ends by so much of the state of charge below the top of the usable window is taken
// for a full one: the current of the tail's end leaves a little. Common practice, no source.
inline constexpr double kShortOfFull = 0.02;

}  // namespace sprocketry::rules
