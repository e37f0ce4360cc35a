#pragma once

#include <array>
#include <cstddef>
#include <memory>
#include <vector>

namespace sprocketry::search {

// The front of pairs (y, z): along it y rises and z falls. Kept in runs of at most kMost steps, so
// that a step added to a long staircase moves few others.
class Staircase {
 public:
  // True when a step is nowhere above (y, z); an equal one counts.
  [[nodiscard]] bool covers(double y, double z) const;

  // Adds a step that is not covered and drops those it covers.
  void add(double y, double z);

 private:
  static constexpr std::size_t kMost = 128;
  struct Run {
    std::size_t size = 0;
    std::array<double, kMost> y;
    std::array<double, kMost> z;
  };

  [[nodiscard]] std::size_t run_of(double y) const;
  void erase_run(std::size_t run);
  void split(std::size_t run);

  std::vector<double> first_y_;  // of each run
  std::vector<std::unique_ptr<Run>> runs_;
};

}  // namespace sprocketry::search
