#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <vector>

#include "search/points.hpp"

namespace sprocketry::search {

// Rejects points of three objectives by all the others at once: cells of the first two objectives,
// in each the lowest third objective among the cells that lie lower in both. One look-up a point;
// what ties in a cell is left for others to decide.
class CoverGrid {
 public:
  explicit CoverGrid(const Points& points);

  // Puts the indices of the points that the grid leaves into `indices`, which has room for all;
  // how many they are.
  std::size_t survivors(const Points& points, std::span<std::uint32_t> indices) const {
    std::size_t count = 0;
    for (std::size_t i = 0; i < cells_.size(); ++i) {
      indices[count] = static_cast<std::uint32_t>(i);
      count += static_cast<std::size_t>(!dominates(cells_[i], points.columns[2][i]));
    }
    return count;
  }

  // Takes out of `places` those of other points that one of the grid's dominates.
  void drop(Columns columns, std::vector<std::uint32_t>& places) const;

 private:
  static constexpr std::size_t kSide = 256;

  [[nodiscard]] std::size_t cell(double first, double second) const;
  [[nodiscard]] bool dominates(std::size_t cell, double third) const {
    // Infinity also stands for no point at all.
    return lowest_[cell] <= third && third < std::numeric_limits<double>::infinity();
  }

  std::array<double, kSide> first_;   // bounds between the cells
  std::array<double, kSide> second_;  //
  std::vector<std::uint16_t> cells_;  // of each point, first objective * kSide + second
  std::vector<double> lowest_;        // in the cells lower in both
};

}  // namespace sprocketry::search
