#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "search/dominance_forest.hpp"
#include "search/lanes.hpp"

namespace sprocketry::search {

// A combination by its place: level of a LevelGrid, drive of a Compatible, charger of the space.
struct Key {
  std::uint64_t level = 0;
  std::uint32_t charger = 0;
  std::uint32_t drive = 0;

  // NOLINTNEXTLINE(modernize-use-nullptr): the check mistakes the comparison with 0 for a pointer.
  friend auto operator<=>(const Key&, const Key&) = default;
};

// Of a member that another process has, which only serves to beat others.
inline constexpr Key kElsewhere{~std::uint64_t{0}, ~std::uint32_t{0}, ~std::uint32_t{0}};

// Objectives of a combination, all to be made small (higher-is-better ones negated).
struct Member {
  std::array<double, kMostObjectives> objectives{};
  Key key;
};

// The non-dominated members of all that was offered, equal vectors all kept, for one to six
// objectives. What it holds depends only on the set that was offered, not on order or timing. One
// per piece of work; merged ones hold the front of all that was offered to either.
//
// A member that none before it dominates is kept, and those it dominates stay until there are as
// many newly kept as were left the last time; then the front of all is taken. So memory stays
// within a few times the largest front, and an offer costs little more than dominated().
class Archive {
 public:
  explicit Archive(std::size_t objectives) : objectives_(objectives), forest_(objectives) {}

  // Keeps the member unless one already kept dominates it; drops those it dominates. No NaN.
  void offer(const Member& member);
  void merge(const Archive& other);

  // Members kept, some of which others may dominate until members() is asked.
  [[nodiscard]] std::size_t size() const { return members_.size(); }

  // In order of the objectives, equal ones by key.
  [[nodiscard]] const std::vector<Member>& members();

  // True when something offered is nowhere worse than these values (as many as objectives, all to
  // be made small) and somewhere better: with bounds of a partial combination as values, none of
  // its completions is on the front then. Several threads may ask at once.
  [[nodiscard]] bool dominated(const double* values) const { return forest_.dominates(values); }
  // Eight of the points, one of which dominates the values, as rows of eight per objective, or
  // null. They stay until something is offered.
  [[nodiscard]] const double* dominating(const double* values) const {
    return forest_.dominating(values);
  }

 private:
  void settle();

  std::size_t objectives_;
  std::vector<Member> members_;  // a front, then what was kept since
  std::size_t settled_ = 0;      // members of that front
  DominanceForest forest_;
};

// True when a is nowhere worse than b in the first `count` objectives and somewhere better.
bool dominates(const Member& a, const Member& b, std::size_t count);

}  // namespace sprocketry::search
