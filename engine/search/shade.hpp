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

// By what share of their size values must at least be made worse for one of eight members (rows of
// eight per objective) to be nowhere above them; infinite when no share does. At or below 0 when
// one is nowhere above them as they are.
double least_share(const double* rows, const double* values, std::size_t objectives);

// Asks two archives, one that rests and one that grows, whether they dominate a point. Points asked
// one after the other are near each other and mostly dominated by the same members, so the blocks
// of members that did so last are asked first.
//
// With a share s above 0 it asks whether they dominate the point improved by that share in every
// objective (see improved()), below 0 whether they dominate it made worse by it.
class Shade {
 public:
  Shade(std::size_t objectives, double share) : objectives_(objectives), share_(share) {}

  // From now on with another share; what is remembered stays true.
  void set_share(double share) { share_ = share; }

  // Takes other archives, which hold at least what the ones before did or dominate it: then what
  // the remembered members dominate these do too, and no answer depends on what is remembered.
  void fall(const Archive& resting, const Archive& growing) {
    resting_ = &resting;
    growing_ = &growing;
  }

  // True when a member is nowhere worse than the values and somewhere better. No NaN.
  [[nodiscard]] bool dominated(const double* values) { return dominating(values) != nullptr; }
  // Eight members, one of them such a one, as rows of eight per objective (see lanes.hpp), or null.
  // They stay until the next question.
  [[nodiscard]] const double* dominating(const double* values);

  [[nodiscard]] double share() const { return share_; }

 private:
  [[nodiscard]] const double* asked(const double* values);

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
