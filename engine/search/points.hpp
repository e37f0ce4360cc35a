#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "search/lanes.hpp"

namespace sprocketry::search {

// One array of numbers per objective.
using Columns = std::span<const double* const>;
using Point = std::array<double, kMostObjectives>;

inline Point point_at(Columns columns, std::size_t place) {
  Point point{};
  for (std::size_t i = 0; i < columns.size(); ++i) point[i] = columns[i][place];
  return point;
}

// Some of the points of such columns, with the place each has there.
struct Points {
  std::vector<std::uint32_t> places;
  std::vector<std::vector<double>> columns;

  explicit Points(std::size_t objectives) : columns(objectives) {}

  [[nodiscard]] std::size_t count() const { return places.size(); }
  [[nodiscard]] std::vector<const double*> pointers() const {
    std::vector<const double*> pointers;
    for (const auto& column : columns) pointers.push_back(column.data());
    return pointers;
  }

  void add(Columns from, std::span<const std::uint32_t> more) {
    places.insert(places.end(), more.begin(), more.end());
    for (std::size_t i = 0; i < columns.size(); ++i) {
      for (const std::uint32_t place : more) columns[i].push_back(from[i][place]);
    }
  }

  void append(const Points& more) {
    places.insert(places.end(), more.places.begin(), more.places.end());
    for (std::size_t i = 0; i < columns.size(); ++i) {
      columns[i].insert(columns[i].end(), more.columns[i].begin(), more.columns[i].end());
    }
  }

  // Keeps the points of these indices, which ascend.
  void keep(std::span<const std::uint32_t> indices) {
    const auto pack = [&](auto& values) {
      for (std::size_t i = 0; i < indices.size(); ++i) values[i] = values[indices[i]];
      values.resize(indices.size());
    };
    pack(places);
    for (auto& column : columns) pack(column);
  }
};

}  // namespace sprocketry::search
