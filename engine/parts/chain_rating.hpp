#pragma once

#include <string_view>

#include "model/chain_capacity.hpp"
#include "model/constants.hpp"

namespace sprocketry::parts {

// Constants of the published power rating of a size, or nullptr: motorcycle chain of the same pitch
// is another chain and has no rating table in the open.
const model::ChainRating* find_chain_rating(std::string_view size);

// What the rating tables print and therefore where the equations may be used: speeds of the smaller
// sprocket (Shigley, 9th ed., Table 17-20, from memory) and its tooth counts (a published table of
// ASME B29.1, seen).
inline constexpr double kLeastRatedSpeed = 50 * 2.0 * model::kPi / 60.0;       // rad/s
inline constexpr double kGreatestRatedSpeed = 3000 * 2.0 * model::kPi / 60.0;  // rad/s
inline constexpr int kLeastRatedTeeth = 11;
inline constexpr int kMostRatedTeeth = 45;

}  // namespace sprocketry::parts
