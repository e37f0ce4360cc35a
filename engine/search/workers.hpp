#pragma once

#include <tbb/global_control.h>
#include <tbb/task_arena.h>

#include <utility>

namespace sprocketry::search {

// How many threads, that of the caller among them, the system lets this process have now, up to
// `wanted` (at least 1): a limit on processes or memory may refuse more.
int granted_threads(int wanted);

// Threads to work in while it lives: so many, or with 0 one for each core; fewer where the system
// grants no more, since the library that starts them would then end the program. More than cores
// are granted too, which the library would otherwise refuse with a word on standard error.
class Workers {
 public:
  explicit Workers(int threads);

  template <typename Work>
  void run(Work&& work) {
    arena_.execute(std::forward<Work>(work));
  }

 private:
  int threads_;
  tbb::global_control limit_;
  tbb::task_arena arena_;
};

}  // namespace sprocketry::search
