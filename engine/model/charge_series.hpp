#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

namespace sprocketry::model {

// Charge of one pass of a ride as a power series, so that a further open-circuit voltage E costs a
// few multiplications instead of a root for each of the ride's points.
//
// At pack power t behind resistance R the current is 2 t/(E + sqrt(E^2 - 4 R t)) = (t/E) C(x) with
// x = R t/E^2 and C(x) = sum over n of Cat_n x^n, the generating function of the Catalan numbers
// (Graham, Knuth, Patashnik, Concrete Mathematics, 7.5). With q = t/t_most the charge of all points
// is (t_most/E) sum of Cat_n (R t_most/E^2)^n sum of duration q^(n+1): the inner sums, the moments,
// do not depend on E. All terms are positive, so nothing cancels.
class ChargeSeries {
 public:
  // Takes the moments of points at pack powers (W, at least 0) that last `durations` (s), and of
  // one more for the time that the ride stands or coasts. `most` is the largest of all these powers
  // in W, `resistance` is R in ohm, `lowest` the lowest open-circuit voltage in V that will be
  // asked; `work` is overwritten. Afterwards holds() tells whether the series converges fast enough
  // there; it does not for powers of 0.
  void take(std::span<const double> powers, std::span<const double> durations, double idle_power,
            double idle_duration, double most, double resistance, double lowest,
            std::vector<double>& work);
  void clear() { terms_ = 0; }

  // True when the rest may be asked.
  [[nodiscard]] bool holds() const { return terms_ > 0; }
  // Charges in C at each E (V, at least `lowest`), within 1e-12 relative. As many as voltages.
  void charges(std::span<const double> voltages, std::span<double> charges) const;
  // Energy in J that passes the pack's terminals; the same at every E.
  [[nodiscard]] double energy() const { return most_ * coefficient_[0]; }

 private:
  static constexpr std::size_t kMostTerms = 32;
  std::array<double, kMostTerms> coefficient_{};  // s, Cat_n x moment
  std::size_t terms_ = 0;
  double most_ = 0;        // W
  double resistance_ = 0;  // ohm
};

}  // namespace sprocketry::model
