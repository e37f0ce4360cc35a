#pragma once

#include <array>
#include <cmath>
#include <cstddef>

#include "search/archive.hpp"

namespace sprocketry::search {

// Objectives, all to be made small, made better by a share s of 0 to 0.5 of their size: v - s |v|.
// What is worse stays no better, v <= w gives improved(v) <= improved(w): of two neighbouring
// doubles the products differ by at most half of what the values do. So a bound's improved values
// bound those of all that it stands for.
inline std::array<double, kMostObjectives> improved(const double* values, std::size_t objectives,
                                                    double share) {
  std::array<double, kMostObjectives> result{};
  for (std::size_t k = 0; k < objectives; ++k) {
    result[k] = values[k] - share * std::abs(values[k]);
  }
  return result;
}

// Asks two archives, one that rests and one that grows, whether they dominate a point. Points asked
// one after the other are near each other and mostly dominated by the same members, so the blocks
// of members that did so last are asked first.
//
// With a share s above 0 it asks whether they dominate the point improved by that share in every
// objective (see improved()).
class Shade {
 public:
  Shade(std::size_t objectives, double share) : objectives_(objectives), share_(share) {}

  // Takes other archives, which hold at least what the ones before did or dominate it: then what
  // the remembered members dominate these do too, and no answer depends on what is remembered.
  void fall(const Archive& resting, const Archive& growing) {
    resting_ = &resting;
    growing_ = &growing;
  }

  // True when a member is nowhere worse than the values and somewhere better. No NaN.
  [[nodiscard]] bool dominated(const double* values);

  [[nodiscard]] double share() const { return share_; }

 private:
  [[nodiscard]] bool asked(const double* values);

  static constexpr std::size_t kRemembered = 4;
  using Rows = std::array<double, kLanes * kMostObjectives>;

  std::size_t objectives_;
  double share_;
  const Archive* resting_ = nullptr;
  const Archive* growing_ = nullptr;
  std::array<Rows, kRemembered> remembered_{};  // the latest first
  std::size_t count_ = 0;
};

}  // namespace sprocketry::search
