#include "search/resolution.hpp"

#include <algorithm>
#include <limits>

namespace sprocketry::search {
namespace {

using Vectors = std::vector<std::array<double, kMostObjectives>>;

// True when `kept` is worse than `other` by no more than the resolution anywhere.
bool matches(const std::array<double, kMostObjectives>& kept,
             const std::array<double, kMostObjectives>& other, std::size_t count,
             const Resolution& resolution) {
  for (std::size_t k = 0; k < count; ++k) {
    if (kept[k] > other[k] + resolution[k]) return false;
  }
  return true;
}

// How much worse than the best of its objective, counted in resolutions; the first left out, since
// being far along in it is what saves members. An objective without resolution counts in full.
double cost(const std::array<double, kMostObjectives>& values, std::size_t count,
            const Resolution& resolution) {
  double sum = 0;
  for (std::size_t k = 1; k < count; ++k) {
    sum += resolution[k] > 0 ? values[k] / resolution[k] : values[k];
  }
  return sum;
}

std::size_t choose(const Vectors& objectives, std::size_t unmatched, std::size_t count,
                   const Resolution& resolution) {
  std::size_t best = unmatched;
  double least = cost(objectives[unmatched], count, resolution);
  // What matches it is no farther along in the first objective than its resolution.
  const double last = objectives[unmatched][0] + resolution[0];
  for (std::size_t i = 0; i < objectives.size() && objectives[i][0] <= last; ++i) {
    if (!matches(objectives[i], objectives[unmatched], count, resolution)) continue;
    const double here = cost(objectives[i], count, resolution);
    if (here < least) {
      least = here;
      best = i;
    }
  }
  return best;
}

}  // namespace

std::vector<std::size_t> coarsened(const Vectors& objectives, std::size_t count,
                                   const Resolution& resolution) {
  std::vector<char> matched(objectives.size(), 0);
  std::vector<std::size_t> kept;
  for (std::size_t next = 0; next < objectives.size(); ++next) {
    if (matched[next]) continue;
    const std::size_t chosen = choose(objectives, next, count, resolution);
    kept.push_back(chosen);
    for (std::size_t i = next; i < objectives.size(); ++i) {
      if (matches(objectives[chosen], objectives[i], count, resolution)) matched[i] = 1;
    }
  }
  std::ranges::sort(kept);
  return kept;
}

void coarsen(Front& front, std::size_t count, const Resolution& resolution) {
  Front kept = front;
  kept.members.clear();
  kept.objectives.clear();
  for (const std::size_t i : coarsened(front.objectives, count, resolution)) {
    kept.members.push_back(front.members[i]);
    kept.objectives.push_back(front.objectives[i]);
  }
  kept.coarseness = Coarseness{resolution, front.members.size()};
  front = std::move(kept);
}

}  // namespace sprocketry::search
