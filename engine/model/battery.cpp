#include "model/battery.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>
#include <utility>

namespace sprocketry::model {
namespace {

// The usable window's states of charge at which the curve's slope changes, ends included,
// ascending.
std::vector<double> window_breaks(const Cell& cell) {
  std::vector<double> breaks{cell.usable_to};
  for (const OpenCircuitPoint& p : cell.open_circuit) {
    if (p.state_of_charge > cell.usable_to && p.state_of_charge < cell.usable_from) {
      breaks.push_back(p.state_of_charge);
    }
  }
  breaks.push_back(cell.usable_from);
  return breaks;
}

// A discrete measure that integrates polynomials of the voltage up to degree 19 over the window
// exactly, since the voltage is linear in the state of charge between breaks.
std::vector<ChargeNode> discrete_measure(const Cell& cell) {
  const std::vector<double> breaks = window_breaks(cell);
  std::vector<ChargeNode> measure;
  for (std::size_t i = 1; i < breaks.size(); ++i) {
    const double middle = 0.5 * (breaks[i] + breaks[i - 1]);
    const double half = 0.5 * (breaks[i] - breaks[i - 1]);
    const auto add = [&](double position, double weight) {
      measure.push_back(
          {open_circuit_voltage(cell.open_circuit, middle + half * position), half * weight});
    };
    // The rule is symmetric; its positive half is what the library keeps.
    using Rule = boost::math::quadrature::gauss<double, 10>;
    for (std::size_t k = 0; k < Rule::abscissa().size(); ++k) {
      add(-Rule::abscissa()[k], Rule::weights()[k]);
      add(Rule::abscissa()[k], Rule::weights()[k]);
    }
  }
  return measure;
}

constexpr double kNodeError = 1e-8;

// n Gauss nodes leave about rho^(-2n) of a function that is analytic inside the Bernstein ellipse
// rho of the window (Trefethen, SIAM Review 50, 2008). The ride's charge has its first singularity
// where a point meets the matched load; at three quarters of the middle voltage it sags by a sixth.
int charge_node_count(double low, double high) {
  const double half = 0.5 * (high - low);
  if (!(half > 0)) return 1;
  const double distance = std::max(1.01, 0.125 * (high + low) / half);
  const double rho = distance + std::sqrt(distance * distance - 1.0);
  const double count = std::ceil(-0.5 * std::log(kNodeError) / std::log(rho));
  return static_cast<int>(std::clamp(count, 2.0, static_cast<double>(kMostChargeNodes)));
}

// The voltage of the singularity nearest to the window that so many nodes stand.
double reach(double low, double high, std::size_t nodes) {
  const double rho = std::pow(kNodeError, -0.5 / static_cast<double>(nodes));
  return 0.5 * (low + high) - 0.25 * (high - low) * (rho + 1.0 / rho);
}

// Gauss quadrature of the measure that the window induces on the voltage: exact for polynomials in
// E of degree 2n - 1, so it converges geometrically for the ride's charge, which is analytic in E.
// Recurrence by Stieltjes' procedure, nodes as eigenvalues of the Jacobi matrix (Golub and Welsch,
// Math. Comp. 23, 1969).
std::vector<ChargeNode> charge_nodes(const Cell& cell, double low, double high) {
  const std::vector<ChargeNode> measure = discrete_measure(cell);
  double width = 0;
  for (const ChargeNode& m : measure) width += m.weight;
  std::vector<double> previous(measure.size(), 0.0);
  std::vector<double> current(measure.size(), 1.0 / std::sqrt(width));
  const int most = charge_node_count(low, high);
  Eigen::VectorXd diagonal(most);
  Eigen::VectorXd off_diagonal(most);
  double beta = 0;
  int count = 0;
  while (count < most) {
    double alpha = 0;
    for (std::size_t i = 0; i < measure.size(); ++i) {
      alpha += measure[i].weight * measure[i].voltage * current[i] * current[i];
    }
    diagonal[count] = alpha;
    double norm = 0;
    for (std::size_t i = 0; i < measure.size(); ++i) {
      const double next = (measure[i].voltage - alpha) * current[i] - beta * previous[i];
      previous[i] = current[i];
      current[i] = next;
      norm += measure[i].weight * next * next;
    }
    beta = std::sqrt(norm);
    off_diagonal[count] = beta;
    ++count;
    // A flat curve has fewer distinct voltages than nodes: what is left is rounding.
    if (beta < 1e-9 * std::abs(alpha)) break;
    for (double& value : current) value /= beta;
  }
  Eigen::MatrixXd jacobi = Eigen::MatrixXd::Zero(count, count);
  for (int i = 0; i < count; ++i) {
    jacobi(i, i) = diagonal[i];
    if (i + 1 < count) jacobi(i, i + 1) = jacobi(i + 1, i) = off_diagonal[i];
  }
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solver(jacobi);
  std::vector<ChargeNode> nodes;
  for (int i = 0; i < count; ++i) {
    const double first = solver.eigenvectors()(0, i);
    nodes.push_back({solver.eigenvalues()[i], width * first * first});
  }
  return nodes;
}

void set_nodes(Pack& pack) {
  const Cell& cell = pack.cell;
  const double low = open_circuit_voltage(cell.open_circuit, cell.usable_to);
  const double high = open_circuit_voltage(cell.open_circuit, cell.usable_from);
  pack.nodes = charge_nodes(cell, low, high);
  pack.nodes_reach = reach(low, high, pack.nodes.size());
}

}  // namespace

double open_circuit_voltage(const std::vector<OpenCircuitPoint>& curve, double state_of_charge) {
  const auto above =
      std::ranges::lower_bound(curve, state_of_charge, {}, &OpenCircuitPoint::state_of_charge);
  if (above == curve.begin()) return curve.front().voltage;
  if (above == curve.end()) return curve.back().voltage;
  const OpenCircuitPoint& low = *(above - 1);
  const double part =
      (state_of_charge - low.state_of_charge) / (above->state_of_charge - low.state_of_charge);
  return low.voltage + part * (above->voltage - low.voltage);
}

double state_of_charge_above(const std::vector<OpenCircuitPoint>& curve, double voltage) {
  const auto above = std::ranges::upper_bound(curve, voltage, {}, &OpenCircuitPoint::voltage);
  if (above == curve.begin()) return 0.0;
  if (above == curve.end()) return 1.0;
  const OpenCircuitPoint& low = *(above - 1);
  const double part = (voltage - low.voltage) / (above->voltage - low.voltage);
  return low.state_of_charge + part * (above->state_of_charge - low.state_of_charge);
}

Pack make_pack(const Cell& cell, int series, int parallel, double link_resistance,
               double board_current) {
  Pack pack;
  pack.cell = cell;
  set_nodes(pack);
  return resized(std::move(pack), series, parallel, link_resistance, board_current);
}

Pack resized(Pack pack, int series, int parallel, double link_resistance, double board_current) {
  const Cell& cell = pack.cell;
  pack.series = series;
  pack.parallel = parallel;
  pack.resistance = series * cell.resistance / parallel + link_resistance;
  pack.full_voltage = series * cell.full_voltage;
  pack.empty_voltage = series * cell.empty_voltage;
  pack.nominal_voltage = series * cell.nominal_voltage;
  pack.continuous_current = parallel * cell.continuous_current;
  pack.current_limit = std::min(parallel * cell.peak_current, board_current);
  pack.charge_current = parallel * cell.charge_current;
  pack.capacity = parallel * cell.capacity;
  return pack;
}

Pack filled_to(const Pack& pack, double state_of_charge) {
  Pack result = pack;
  result.cell.usable_from = state_of_charge;
  set_nodes(result);
  return result;
}

}  // namespace sprocketry::model
