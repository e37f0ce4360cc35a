#pragma once

#include <condition_variable>
#include <functional>
#include <mutex>
#include <string>
#include <thread>

namespace sprocketry::cli {

// While it lives, says on standard error every second what is being done and for how long, on one
// line that is removed in the end. Silent during the first second, and always where standard error
// is not a terminal.
class Progress {
 public:
  // `text` is called from another thread, before this object dies.
  explicit Progress(std::function<std::string()> text);
  ~Progress();
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

 private:
  void run();

  std::function<std::string()> text_;
  std::mutex mutex_;
  std::condition_variable ends_;
  bool ended_ = false;
  std::thread thread_;
};

}  // namespace sprocketry::cli
