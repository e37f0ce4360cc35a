#include "progress.hpp"

#include <unistd.h>

#include <chrono>
#include <cstdio>

namespace sprocketry::cli {
namespace {

// Not by std::cerr: that would first flush std::cout, which another thread is writing to and which
// waits for its reader.
void show(const std::string& text) { std::fputs(text.c_str(), stderr); }

}  // namespace

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
    show('\r' + line);
  }
  if (width > 0) show('\r' + std::string(width, ' ') + '\r');
}

}  // namespace sprocketry::cli
