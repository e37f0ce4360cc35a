#pragma once

#include <array>
#include <cstddef>

#include "search/archive.hpp"

namespace sprocketry::search {

// Asks two archives, one that rests and one that grows, whether they dominate a point. Points asked
// one after the other are near each other and mostly dominated by the same members, so the blocks
// of members that did so last are asked first.
class Shade {
 public:
  explicit Shade(std::size_t objectives) : objectives_(objectives) {}

  // Takes other archives, which hold at least what the ones before did or dominate it: then what
  // the remembered members dominate these do too, and no answer depends on what is remembered.
  void fall(const Archive& resting, const Archive& growing) {
    resting_ = &resting;
    growing_ = &growing;
  }

  // True when a member is nowhere worse than the values and somewhere better. No NaN.
  [[nodiscard]] bool dominated(const double* values);

 private:
  static constexpr std::size_t kRemembered = 4;
  using Rows = std::array<double, kLanes * kMostObjectives>;

  std::size_t objectives_;
  const Archive* resting_ = nullptr;
  const Archive* growing_ = nullptr;
  std::array<Rows, kRemembered> remembered_{};  // the latest first
  std::size_t count_ = 0;
};

}  // namespace sprocketry::search
