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
// before any other thread, which then leaves these signals alone.
class Stopper {
 public:
  Stopper(std::function<void()> stop, std::optional<std::chrono::duration<double>> limit);
  ~Stopper();
  Stopper(const Stopper&) = delete;
  Stopper& operator=(const Stopper&) = delete;

 private:
  void wait(std::optional<std::chrono::duration<double>> limit);

  std::function<void()> stop_;
  std::atomic<bool> ended_ = false;
  sigset_t waited_{};
  sigset_t before_{};
  std::thread thread_;
};

}  // namespace sprocketry::cli
