#include "model/charge_series.hpp"

#include <Eigen/Core>
#include <algorithm>

namespace sprocketry::model {
namespace {

// The quotient of successive Catalan numbers, Cat_(n+1)/Cat_n = 2 (2n + 1)/(n + 2), below 4.
template <std::size_t Count>
constexpr std::array<double, Count> catalan_quotients() {
  std::array<double, Count> result{};
  for (std::size_t n = 0; n < Count; ++n) {
    result[n] = 2.0 * (2.0 * static_cast<double>(n) + 1.0) / (static_cast<double>(n) + 2.0);
  }
  return result;
}

// How many terms leave a remainder below 1e-12 of the current at x, by a geometric series of
// quotient 4x from the first left out; 0 when more than `most` would be needed.
template <std::size_t Most>
std::size_t terms_needed(double x) {
  constexpr double kError = 1e-12;
  constexpr auto kQuotient = catalan_quotients<Most>();
  if (!(4.0 * x < 1.0)) return 0;
  const double enough = kError * (1.0 - 4.0 * x);
  double term = 1.0;
  for (std::size_t n = 0; n < Most; ++n) {
    if (term < enough) return n;
    term *= kQuotient[n] * x;
  }
  return 0;
}

}  // namespace

void ChargeSeries::take(std::span<const double> powers, std::span<const double> durations,
                        double idle_power, double idle_duration, double most, double resistance,
                        double lowest, std::vector<double>& work) {
  constexpr auto kQuotient = catalan_quotients<kMostTerms>();
  most_ = most;
  resistance_ = resistance;
  terms_ = most > 0 ? terms_needed<kMostTerms>(resistance * most / (lowest * lowest)) : 0;
  if (terms_ == 0) return;
  const auto count = static_cast<Eigen::Index>(powers.size());
  work.resize(powers.size());
  const Eigen::Map<const Eigen::ArrayXd> power(powers.data(), count);
  const Eigen::Map<const Eigen::ArrayXd> duration(durations.data(), count);
  Eigen::Map<Eigen::ArrayXd> product(work.data(), count);
  const double per_most = 1.0 / most;
  product = duration * (power * per_most);
  double idle = idle_duration * (idle_power * per_most);
  double catalan = 1.0;
  for (std::size_t n = 0;; ++n) {
    coefficient_[n] = catalan * (product.sum() + idle);
    if (n + 1 == terms_) break;
    product *= power * per_most;
    idle *= idle_power * per_most;
    catalan *= kQuotient[n];
  }
}

void ChargeSeries::charges(std::span<const double> voltages, std::span<double> charges) const {
  // Four voltages at a time, by Horner's scheme.
  constexpr std::size_t kWidth = 4;
  for (std::size_t k = 0; k < voltages.size(); k += kWidth) {
    const std::size_t width = std::min(kWidth, voltages.size() - k);
    std::array<double, kWidth> four{};
    for (std::size_t j = 0; j < kWidth; ++j) four[j] = voltages[k + std::min(j, width - 1)];
    const Eigen::Map<const Eigen::Array4d> voltage(four.data());
    const Eigen::Array4d x = resistance_ * most_ / (voltage * voltage);
    Eigen::Array4d sum = Eigen::Array4d::Constant(coefficient_[terms_ - 1]);
    for (std::size_t n = terms_ - 1; n > 0; --n) sum = sum * x + coefficient_[n - 1];
    sum *= most_ / voltage;
    Eigen::Map<Eigen::Array4d>(four.data()) = sum;
    std::copy_n(four.data(), width, charges.data() + k);
  }
}

}  // namespace sprocketry::model
