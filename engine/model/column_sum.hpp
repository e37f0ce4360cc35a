#pragma once

#include <Eigen/Core>
#include <vector>

namespace sprocketry::model {

// Sum of a column, in its own unit; 0 for an empty one. In Eigen's order: added one by one, each
// term of a long ride would wait for the one before.
inline double column_sum(const std::vector<double>& column) {
  const auto count = static_cast<Eigen::Index>(column.size());
  return Eigen::Map<const Eigen::ArrayXd>(column.data(), count).sum();
}

}  // namespace sprocketry::model
