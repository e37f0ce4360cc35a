#include "progress.hpp"

#include <unistd.h>

#include <chrono>
#include <iostream>

namespace sprocketry::cli {

Progress::Progress(std::function<std::string()> text) : text_(std::move(text)) {
  if (isatty(STDERR_FILENO)) thread_ = std::thread([this] { run(); });
}

Progress::~Progress() {
  if (!thread_.joinable()) return;
  {
    const std::lock_guard lock(mutex_);
    ended_ = true;
  }
  ends_.notify_one();
  thread_.join();
}

void Progress::run() {
  std::size_t width = 0;
  std::unique_lock lock(mutex_);
  for (int seconds = 1; !ends_.wait_for(lock, std::chrono::seconds(1), [&] { return ended_; });
       ++seconds) {
    std::string line = text_() + ", " + std::to_string(seconds) + " s";
    width = std::max(width, line.size());
    line.resize(width, ' ');
    std::cerr << '\r' << line << std::flush;
  }
  if (width > 0) std::cerr << '\r' << std::string(width, ' ') << '\r' << std::flush;
}

}  // namespace sprocketry::cli
