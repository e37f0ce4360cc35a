#pragma once

#include <atomic>
#include <cstdint>

namespace sprocketry::search {

// What a search and whoever watches it tell each other. All members may be used from any thread.
struct Watch {
  std::atomic<bool> stop = false;        // set it, and the search ends soon with the best so far
  std::atomic<double> compatible = 0;    // combinations that pass the pairwise rules
  std::atomic<double> settled = 0;       // of these: rejected, evaluated or pruned so far
  std::atomic<std::uint64_t> front = 0;  // members of the best front so far

  [[nodiscard]] bool stopped() const { return stop.load(std::memory_order_relaxed); }
};

}  // namespace sprocketry::search
