#pragma once

#include <atomic>
#include <chrono>
#include <csignal>
#include <functional>
#include <optional>
#include <thread>

namespace sprocketry::cli {

// While it lives, Ctrl-C (SIGINT) and SIGTERM and the end of a time limit call `stop` once, from
// another thread, instead of ending the program; one more, a moment later, ends it at once. Make it
// before any other thread, which then leaves these signals alone, and keep it until the answer is
// written: a stop that is told twice in a moment must not end the program on its way out.
class Stopper {
 public:
  Stopper(std::function<void()> stop, std::optional<std::chrono::duration<double>> limit);
  ~Stopper();
  // From now on there is nothing left to stop: a signal ends the program at once.
  void let_end() { over_ = true; }
  Stopper(const Stopper&) = delete;
  Stopper& operator=(const Stopper&) = delete;

 private:
  void wait(std::optional<std::chrono::duration<double>> limit);

  std::function<void()> stop_;
  std::atomic<bool> ended_ = false;
  std::atomic<bool> over_ = false;
  std::atomic<bool> stopped_ = false;
  sigset_t waited_{};
  sigset_t before_{};
  std::thread thread_;
};

}  // namespace sprocketry::cli
