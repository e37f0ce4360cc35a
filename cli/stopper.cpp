#include "stopper.hpp"

#include <pthread.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cmath>

namespace sprocketry::cli {
namespace {

// Ends the wait; nobody else sends it to that thread.
constexpr int kDone = SIGUSR1;

timespec rest_of(std::chrono::steady_clock::time_point end) {
  const std::chrono::duration<double> left = end - std::chrono::steady_clock::now();
  const double seconds = std::max(0.0, left.count());
  timespec rest{};
  rest.tv_sec = static_cast<time_t>(seconds);
  rest.tv_nsec = static_cast<long>((seconds - std::floor(seconds)) * 1e9);
  return rest;
}

// As if the signal had not been held back.
void end_by(int number) {
  std::signal(number, SIG_DFL);
  sigset_t only;
  sigemptyset(&only);
  sigaddset(&only, number);
  pthread_sigmask(SIG_UNBLOCK, &only, nullptr);
  raise(number);
}

}  // namespace

Stopper::Stopper(std::function<void()> stop, std::optional<std::chrono::duration<double>> limit)
    : stop_(std::move(stop)) {
  sigemptyset(&waited_);
  for (const int number : {SIGINT, SIGTERM, kDone}) sigaddset(&waited_, number);
  pthread_sigmask(SIG_BLOCK, &waited_, &before_);
  thread_ = std::thread([this, limit] { wait(limit); });
}

Stopper::~Stopper() {
  ended_ = true;
  pthread_kill(thread_.native_handle(), kDone);
  thread_.join();
  // The second of two signals may still be on its way.
  if (!stopped_) pthread_sigmask(SIG_SETMASK, &before_, nullptr);
}

void Stopper::wait(std::optional<std::chrono::duration<double>> limit) {
  // Beyond this a limit is none; it keeps the clock from overflowing.
  constexpr std::chrono::duration<double> kLong{1e9};
  const auto end = std::chrono::steady_clock::now() +
                   std::chrono::duration_cast<std::chrono::steady_clock::duration>(
                       std::min(limit.value_or(kLong), kLong));
  // `timeout` and shells send a signal to the process and to its group: twice in a moment is once.
  constexpr std::chrono::milliseconds kOnce{300};
  std::chrono::steady_clock::time_point first;
  while (true) {
    const timespec rest = rest_of(end);
    const int number = stopped_ || over_ || !limit ? sigwaitinfo(&waited_, nullptr)
                                                   : sigtimedwait(&waited_, nullptr, &rest);
    // The same signal from elsewhere means nothing.
    if (number == kDone && ended_) return;
    if (number == kDone || (number < 0 && errno != EAGAIN)) continue;
    const auto now = std::chrono::steady_clock::now();
    if (!stopped_ && !over_) {
      stopped_ = true;
      first = now;
      stop_();
    } else if (number > 0 && (!stopped_ || now - first > kOnce)) {
      end_by(number);
    }
  }
}

}  // namespace sprocketry::cli
