#include "search/staircase.hpp"

#include <algorithm>

namespace sprocketry::search {
namespace {

// How many of the first `size` ascending values are at or below the given one. Without branches:
// which half is next is a toss-up.
std::size_t count_at_most(const double* values, std::size_t size, double value) {
  const double* first = values;
  while (size > 1) {
    const std::size_t half = size / 2;
    first = first[half - 1] <= value ? first + half : first;
    size -= half;
  }
  return static_cast<std::size_t>(first - values) + (size == 1 && *first <= value ? 1 : 0);
}

template <typename Array>
void move_values(Array& values, std::size_t from, std::size_t end, std::size_t to) {
  const auto at = [&](std::size_t i) { return values.begin() + static_cast<std::ptrdiff_t>(i); };
  if (to > from) {
    std::copy_backward(at(from), at(end), at(to + end - from));
  } else if (to < from) {
    std::copy(at(from), at(end), at(to));
  }
}

}  // namespace

// The last run that begins at or below y; the first one when none does.
std::size_t Staircase::run_of(double y) const {
  const std::size_t count = count_at_most(first_y_.data(), first_y_.size(), y);
  return count == 0 ? 0 : count - 1;
}

bool Staircase::covers(double y, double z) const {
  if (runs_.empty()) return false;
  const Run& run = *runs_[run_of(y)];
  const std::size_t count = count_at_most(run.y.data(), run.size, y);
  return count > 0 && run.z[count - 1] <= z;
}

void Staircase::add(double y, double z) {
  if (runs_.empty()) {
    runs_.push_back(std::make_unique<Run>());
    first_y_.push_back(y);
  }
  std::size_t r = run_of(y);
  if (runs_[r]->size == kMost) {
    split(r);
    r = run_of(y);
  }
  Run& run = *runs_[r];
  std::size_t place = count_at_most(run.y.data(), run.size, y);
  if (place > 0 && run.y[place - 1] == y) --place;
  std::size_t end = place;
  while (end < run.size && run.z[end] >= z) ++end;
  const bool to_the_end = end == run.size;
  move_values(run.y, end, run.size, place + 1);
  move_values(run.z, end, run.size, place + 1);
  run.size = run.size - (end - place) + 1;
  run.y[place] = y;
  run.z[place] = z;
  first_y_[r] = run.y[0];
  if (!to_the_end) return;
  while (r + 1 < runs_.size()) {
    Run& next = *runs_[r + 1];
    std::size_t covered = 0;
    while (covered < next.size && next.z[covered] >= z) ++covered;
    if (covered < next.size) {
      move_values(next.y, covered, next.size, 0);
      move_values(next.z, covered, next.size, 0);
      next.size -= covered;
      first_y_[r + 1] = next.y[0];
      return;
    }
    erase_run(r + 1);
  }
}

void Staircase::erase_run(std::size_t run) {
  runs_.erase(runs_.begin() + static_cast<std::ptrdiff_t>(run));
  first_y_.erase(first_y_.begin() + static_cast<std::ptrdiff_t>(run));
}

void Staircase::split(std::size_t run) {
  Run& full = *runs_[run];
  auto upper = std::make_unique<Run>();
  constexpr std::size_t kHalf = kMost / 2;
  upper->size = kMost - kHalf;
  std::copy(full.y.begin() + kHalf, full.y.end(), upper->y.begin());
  std::copy(full.z.begin() + kHalf, full.z.end(), upper->z.begin());
  full.size = kHalf;
  const auto after = static_cast<std::ptrdiff_t>(run + 1);
  first_y_.insert(first_y_.begin() + after, upper->y[0]);
  runs_.insert(runs_.begin() + after, std::move(upper));
}

}  // namespace sprocketry::search
