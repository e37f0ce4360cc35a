#include "search/hypervolume.hpp"

#include <algorithm>
#include <queue>
#include <set>
#include <span>

namespace sprocketry::search {
namespace {

double box(const Values& point, const Values& reference) {
  double volume = 1;
  for (std::size_t k = 0; k < point.size(); ++k) {
    volume *= std::max(0.0, reference[k] - point[k]);
  }
  return volume;
}

bool at_most(const Values& a, const Values& b) {
  return std::equal(a.begin(), a.end(), b.begin(), [](double x, double y) { return x <= y; });
}

// The corners of the boxes that `point`'s box shares with the others', without those whose box lies
// in another's.
std::vector<Values> shared(const Values& point, std::span<const Values> others) {
  std::vector<Values> corners;
  for (const Values& other : others) {
    Values corner(point.size());
    std::ranges::transform(point, other, corner.begin(),
                           [](double x, double y) { return std::max(x, y); });
    if (std::ranges::any_of(corners, [&](const Values& c) { return at_most(c, corner); })) continue;
    std::erase_if(corners, [&](const Values& c) { return at_most(corner, c); });
    corners.push_back(std::move(corner));
  }
  return corners;
}

double volume_of(std::span<const Values> points, const Values& reference) {
  double sum = 0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const std::vector<Values> rest = shared(points[i], points.subspan(i + 1));
    sum += box(points[i], reference) - volume_of(rest, reference);
  }
  return sum;
}

// A candidate with what it added when it was last asked, the set having `asked_at` points then.
struct Candidate {
  double gain = 0;
  std::size_t index = 0;
  std::size_t asked_at = 0;

  friend bool operator<(const Candidate& a, const Candidate& b) {
    return a.gain != b.gain ? a.gain < b.gain : a.index > b.index;
  }
};

}  // namespace

double hypervolume(const std::vector<Values>& points, const Values& reference) {
  return volume_of(points, reference);
}

double exclusive_volume(const Values& point, const std::vector<Values>& others,
                        const Values& reference) {
  return box(point, reference) - volume_of(shared(point, others), reference);
}

std::vector<std::size_t> widest(const std::vector<Values>& points, const Values& reference,
                                const std::vector<std::size_t>& first, std::size_t most) {
  std::set<std::size_t> chosen(first.begin(), first.end());
  std::vector<Values> kept;
  kept.reserve(most);
  for (const std::size_t index : chosen) kept.push_back(points[index]);
  std::priority_queue<Candidate> queue;
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (!chosen.contains(i)) queue.push({box(points[i], reference), i, 0});
  }
  while (chosen.size() < most && !queue.empty()) {
    Candidate top = queue.top();
    queue.pop();
    if (top.asked_at < kept.size()) {
      top.gain = exclusive_volume(points[top.index], kept, reference);
      top.asked_at = kept.size();
      queue.push(top);
      continue;
    }
    chosen.insert(top.index);
    kept.push_back(points[top.index]);
  }
  return {chosen.begin(), chosen.end()};
}

}  // namespace sprocketry::search
