#include "parts/chain_rating.hpp"

#include <algorithm>
#include <array>

namespace sprocketry::parts {
namespace {

struct RatedSize {
  std::string_view size;
  model::ChainRating rating;
};

// A sheet of constants (seen); only these reproduce the printed tables, a restatement that swaps
// the roller constants of #25 and #41 does not.
constexpr std::array kRated = {
    RatedSize{"25", {0.004, 29}}, RatedSize{"35", {0.004, 29}}, RatedSize{"41", {0.0022, 3.4}},
    RatedSize{"40", {0.004, 17}}, RatedSize{"50", {0.004, 17}}, RatedSize{"60", {0.004, 17}},
    RatedSize{"80", {0.004, 17}},
};

}  // namespace

const model::ChainRating* find_chain_rating(std::string_view size) {
  const auto* const found = std::ranges::find(kRated, size, &RatedSize::size);
  return found == kRated.end() ? nullptr : &found->rating;
}

}  // namespace sprocketry::parts
