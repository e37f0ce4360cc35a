#include "search/dominance_forest.hpp"

#include <algorithm>
#include <utility>

#include "search/front_of.hpp"

namespace sprocketry::search {
namespace {

// How much is asked one by one, and how much larger a tree is at least than the next. With larger
// ratios a point is planted anew more often, with smaller ones more trees are asked.
constexpr std::size_t kMostLatest = 64;
constexpr std::size_t kRatio = 2;

std::vector<double> front_values(std::size_t objectives, const std::vector<double>& values) {
  const std::size_t count = values.size() / objectives;
  std::vector<std::vector<double>> columns(objectives, std::vector<double>(count));
  std::vector<const double*> pointers;
  for (std::size_t j = 0; j < objectives; ++j) {
    for (std::size_t i = 0; i < count; ++i) columns[j][i] = values[i * objectives + j];
    pointers.push_back(columns[j].data());
  }
  std::vector<double> kept;
  for (const std::uint32_t i : front_of(pointers, count)) {
    for (std::size_t j = 0; j < objectives; ++j) kept.push_back(columns[j][i]);
  }
  return kept;
}

}  // namespace

void DominanceForest::add(const double* point) {
  latest_.add(point);
  if (latest_.points() == kMostLatest) plant();
}

void DominanceForest::assign(const std::vector<double>& values) {
  latest_.clear();
  trees_.clear();
  if (!values.empty()) trees_.emplace_back(latest_.objectives(), values);
}

bool DominanceForest::covers(const double* point) const {
  for (const DominanceTree& tree : trees_) {
    if (tree.covers(point)) return true;
  }
  for (std::size_t b = 0; b < latest_.blocks(); ++b) {
    if (lanes::at_most(latest_.rows(b), latest_.objectives(), point) != 0) return true;
  }
  return false;
}

const double* DominanceForest::dominating(const double* point) const {
  for (const DominanceTree& tree : trees_) {
    if (const double* found = tree.dominating(point)) return found;
  }
  for (std::size_t b = 0; b < latest_.blocks(); ++b) {
    if (lanes::dominate(latest_.rows(b), latest_.objectives(), point)) return latest_.rows(b);
  }
  return nullptr;
}

void DominanceForest::plant() {
  const std::size_t objectives = latest_.objectives();
  std::vector<double> values;
  for (std::size_t p = 0; p < latest_.points(); ++p) {
    for (std::size_t j = 0; j < objectives; ++j) values.push_back(latest_.at(p, j));
  }
  latest_.clear();
  while (!trees_.empty() && trees_.back().points() < kRatio * values.size() / objectives) {
    const std::vector<double> more = trees_.back().values();
    values.insert(values.end(), more.begin(), more.end());
    trees_.pop_back();
  }
  trees_.emplace_back(objectives, front_values(objectives, values));
}

}  // namespace sprocketry::search
