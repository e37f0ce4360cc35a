#include "model/stand_ins.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>

#include "model/constants.hpp"

namespace sprocketry::model {
namespace {

constexpr std::size_t kMost = StandIns::kMost;
using Four = Eigen::Array4d;

struct Nodes {
  std::array<double, kMost> node{};
  std::array<double, kMost> lagrange{};

  Nodes() = default;
  explicit Nodes(std::size_t count) {
    const double n = static_cast<double>(count);
    for (std::size_t k = 0; k < count; ++k) {
      const double angle = (2.0 * static_cast<double>(k) + 1.0) * kPi / (2.0 * n);
      node[k] = std::cos(angle);
      // The nodes are the roots of T_n, whose derivative is n sin(n angle)/sin(angle).
      const double sign = k % 2 == 0 ? 1.0 : -1.0;
      lagrange[k] = sign * std::sin(angle) * std::exp2(n - 1.0) / n;
    }
  }
};

const Nodes& nodes(std::size_t count) {
  static const auto kTable = [] {
    std::array<Nodes, kMost + 1> table;
    for (std::size_t n = 1; n <= kMost; ++n) table[n] = Nodes(n);
    return table;
  }();
  return kTable[count];
}

}  // namespace

StandIns::StandIns(double low, double high, std::size_t count) : count_(count) {
  middle_ = 0.5 * (low + high);
  // Points that are all the same still need an interval.
  half_ = std::max({0.5 * (high - low), 1e-6 * std::abs(middle_), 1e-12});
  const Nodes& table = nodes(count);
  node_ = table.node.data();
  lagrange_ = table.lagrange.data();
  for (std::size_t k = 0; k < count; ++k) at_[k] = middle_ + half_ * node_[k];
}

void StandIns::gather(std::span<const double> x, std::span<const double> durations,
                      std::span<double> weights) const {
  // Sums of d T_n(x), four points at a time, and from them the weights by the polynomials'
  // orthogonality on the nodes.
  std::array<Four, kMost> sum;
  for (std::size_t n = 0; n < count_; ++n) sum[n].setZero();
  const double per_half = 1.0 / half_;
  const auto take = [&](const double* points, const double* lasting) {
    const Four twice = (Eigen::Map<const Four>(points) - middle_) * (2.0 * per_half);
    Four before = Eigen::Map<const Four>(lasting);
    Four now = 0.5 * twice * before;
    sum[0] += before;
    for (std::size_t n = 1; n < count_; ++n) {
      sum[n] += now;
      const Four next = twice * now - before;
      before = now;
      now = next;
    }
  };
  std::size_t i = 0;
  for (; i + kWidth <= x.size(); i += kWidth) take(x.data() + i, durations.data() + i);
  if (i < x.size()) {
    std::array<double, kWidth> points{};
    std::array<double, kWidth> lasting{};
    points.fill(middle_);
    std::copy(x.begin() + static_cast<std::ptrdiff_t>(i), x.end(), points.begin());
    std::copy(durations.begin() + static_cast<std::ptrdiff_t>(i), durations.end(), lasting.begin());
    take(points.data(), lasting.data());
  }
  std::array<double, kMost> total{};
  for (std::size_t n = 0; n < count_; ++n) total[n] = sum[n].sum();
  for (std::size_t k = 0; k < count_; ++k) {
    // Clenshaw's recurrence for total_0/2 + sum of total_n T_n.
    double later = 0;
    double next = 0;
    for (std::size_t n = count_ - 1; n > 0; --n) {
      const double now = total[n] + 2.0 * node_[k] * next - later;
      later = next;
      next = now;
    }
    weights[k] += (total[0] + 2.0 * (node_[k] * next - later)) / static_cast<double>(count_);
  }
}

void StandIns::shares(const double* x, const double* durations, Shares& result) const {
  const Four position = (Eigen::Map<const Four>(x) - middle_) * (1.0 / half_);
  Four product = Eigen::Map<const Four>(durations);
  for (std::size_t k = 0; k < count_; ++k) {
    Eigen::Map<Four>(result[k].data()) = product * lagrange_[k];
    product *= position - node_[k];
  }
  product.setOnes();
  for (std::size_t k = count_; k-- > 0;) {
    Eigen::Map<Four>(result[k].data()) *= product;
    product *= position - node_[k];
  }
}

std::size_t stand_ins_needed(double beyond, double error) {
  const double distance = 1.0 + beyond;
  const double rho = distance + std::sqrt(distance * distance - 1.0);
  const double count = std::ceil(-std::log(error) / std::log(rho));
  if (!(beyond > 0) || !(count <= static_cast<double>(kMost))) return kMost + 1;
  return std::max<std::size_t>(2, static_cast<std::size_t>(std::max(count, 0.0)));
}

}  // namespace sprocketry::model
