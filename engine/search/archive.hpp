#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace sprocketry::search {

inline constexpr std::size_t kMostObjectives = 6;

// A combination by its place: level of a LevelGrid, drive of a Compatible, charger of the space.
struct Key {
  std::uint64_t level = 0;
  std::uint32_t charger = 0;
  std::uint32_t drive = 0;

  friend auto operator<=>(const Key&, const Key&) = default;
};

// Objectives of a combination, all to be made small (higher-is-better ones negated).
struct Member {
  std::array<double, kMostObjectives> objectives{};
  Key key;
};

// The non-dominated members of all that was offered, equal vectors all kept. What it holds depends
// only on the set that was offered, not on the order. One per piece of work; merge with offer().
class Archive {
 public:
  explicit Archive(std::size_t objectives) : objectives_(objectives) {}

  // Keeps the member unless one already kept dominates it; drops those it dominates. No NaN.
  void offer(const Member& member);
  void merge(const Archive& other);
  // True when a member dominates these values (as many as objectives, all to be minimised).
  [[nodiscard]] bool dominated(const double* values) const;
  [[nodiscard]] const std::vector<Member>& members() const { return members_; }

 private:
  [[nodiscard]] bool dominates(const Member& a, const Member& b) const;

  std::size_t objectives_;
  std::vector<Member> members_;
};

// True when a is nowhere worse than b in the first `count` objectives and somewhere better.
bool dominates(const Member& a, const Member& b, std::size_t count);

}  // namespace sprocketry::search
