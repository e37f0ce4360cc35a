#pragma once

#include <array>
#include <cstddef>
#include <span>

namespace sprocketry::model {

// A few points that stand for many. For every f that is smooth on [low, high] the sum of
// d_i f(x_i) is the sum of weight_k f(at_k): f is interpolated at the Chebyshev points at_k, and
// weight_k sums d_i times the k-th interpolating polynomial of x_i. The weights do not depend on f,
// so that one that changes (with a pack's voltage) costs a few values instead of one for each
// point. With n points the error is about rho^-n of f, rho the ellipse around the interval in which
// f is analytic (Trefethen, Approximation Theory and Approximation Practice, chapter 8).
class StandIns {
 public:
  static constexpr std::size_t kMost = 16;
  static constexpr std::size_t kWidth = 4;  // how many points shares() takes at a time
  using Shares = std::array<std::array<double, kWidth>, kMost>;

  StandIns() = default;
  // Precondition: low <= high, count in 1..kMost.
  StandIns(double low, double high, std::size_t count);

  [[nodiscard]] std::size_t count() const { return count_; }
  [[nodiscard]] double at(std::size_t k) const { return at_[k]; }
  // Adds the weights of points x (inside the interval) that last `durations`; as many of both.
  void gather(std::span<const double> x, std::span<const double> durations,
              std::span<double> weights) const;
  // The weights of four points x that last `durations` one by one: result[k][point].
  void shares(const double* x, const double* durations, Shares& result) const;

 private:
  std::size_t count_ = 0;
  double middle_ = 0;
  double half_ = 1;
  std::array<double, kMost> at_{};
  const double* node_ = nullptr;      // on [-1, 1]
  const double* lagrange_ = nullptr;  // 1/product of the differences to the other nodes
};

// How many stand-ins leave about `error` of a function whose nearest singularity lies beyond the
// interval's end by `beyond` of its half-width; more than kMost when they would not do.
std::size_t stand_ins_needed(double beyond, double error);

}  // namespace sprocketry::model
