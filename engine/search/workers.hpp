#pragma once

#include <tbb/global_control.h>
#include <tbb/task_arena.h>

#include <optional>
#include <utility>

namespace sprocketry::search {

// Threads to work in while it lives: so many, or with 0 one for each core. More than cores are
// granted too, which the library would otherwise refuse with a word on standard error.
class Workers {
 public:
  explicit Workers(int threads) : arena_(threads > 0 ? threads : tbb::task_arena::automatic) {
    if (threads > 0) {
      limit_.emplace(tbb::global_control::max_allowed_parallelism,
                     static_cast<std::size_t>(threads));
    }
  }

  template <typename Work>
  void run(Work&& work) {
    arena_.execute(std::forward<Work>(work));
  }

 private:
  std::optional<tbb::global_control> limit_;
  tbb::task_arena arena_;
};

}  // namespace sprocketry::search
