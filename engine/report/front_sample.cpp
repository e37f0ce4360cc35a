#include "report/front_sample.hpp"

#include <algorithm>
#include <numeric>
#include <set>

namespace sprocketry::report {
namespace {

// Puts `chosen` into the middle of its widest gap; of several the first. Precondition: both ends
// are chosen and something between them is not.
void split_widest_gap(std::set<std::size_t>& chosen) {
  std::size_t middle = 0;
  std::size_t widest = 0;
  for (auto left = chosen.begin(), right = std::next(left); right != chosen.end();
       ++left, ++right) {
    if (*right - *left <= widest) continue;
    widest = *right - *left;
    middle = *left + widest / 2;
  }
  chosen.insert(middle);
}

// The members that must be seen.
std::set<std::size_t> landmarks(const Result& r) {
  const auto& values = r.front.objectives;
  std::set<std::size_t> chosen = {0, values.size() - 1, balanced(r)};
  for (std::size_t k = 0; k < r.setup.objectives.size(); ++k) {
    const auto best = std::ranges::min_element(values, {}, [&](const auto& v) { return v[k]; });
    chosen.insert(static_cast<std::size_t>(best - values.begin()));
  }
  return chosen;
}

}  // namespace

std::size_t balanced(const Result& r) {
  const auto& values = r.front.objectives;
  std::vector<double> sums(values.size(), 0.0);
  for (std::size_t k = 0; k < r.setup.objectives.size(); ++k) {
    const auto [low, high] = std::ranges::minmax(values, {}, [&](const auto& v) { return v[k]; });
    const double span = high[k] - low[k];
    if (!(span > 0)) continue;
    for (std::size_t i = 0; i < values.size(); ++i) sums[i] += (values[i][k] - low[k]) / span;
  }
  return static_cast<std::size_t>(std::ranges::min_element(sums) - sums.begin());
}

std::vector<std::size_t> spread(const Result& r, std::size_t most) {
  const std::size_t size = r.front.members.size();
  if (size <= most) {
    std::vector<std::size_t> all(size);
    std::iota(all.begin(), all.end(), std::size_t{0});
    return all;
  }
  std::set<std::size_t> chosen = landmarks(r);
  // The finest even division that leaves room; landmarks that fall on it leave room for more.
  for (std::size_t parts = most - 1; parts > 1; --parts) {
    std::set<std::size_t> trial = chosen;
    for (std::size_t i = 0; i <= parts; ++i) trial.insert(i * (size - 1) / parts);
    if (trial.size() > most) continue;
    chosen = std::move(trial);
    break;
  }
  while (chosen.size() < most) split_widest_gap(chosen);
  return {chosen.begin(), chosen.end()};
}

}  // namespace sprocketry::report
