#include "workers.hpp"

#include <sys/resource.h>
#include <tbb/info.h>

#include <algorithm>
#include <future>
#include <new>
#include <system_error>
#include <thread>
#include <vector>

namespace sprocketry::search {
int granted_threads(int wanted) {
  std::promise<void> end;
  const std::shared_future<void> ended(end.get_future());
  std::vector<std::thread> granted;
  // All live until the end, so that they are counted together.
  try {
    granted.reserve(static_cast<std::size_t>(wanted));
    for (int i = 1; i < wanted; ++i) granted.emplace_back([ended] { ended.wait(); });
  } catch (const std::system_error&) {  // so many, then
  } catch (const std::bad_alloc&) {     // the same
  }
  end.set_value();
  for (std::thread& thread : granted) thread.join();
  return static_cast<int>(granted.size()) + 1;
}

namespace {

// Each thread takes tens of megabytes of addresses for itself, most of them only in the work.
bool has_few_addresses() {
  rlimit limit{};
  return getrlimit(RLIMIT_AS, &limit) == 0 && limit.rlim_cur != RLIM_INFINITY;
}

// Where some are refused the process is close to a limit, which the work itself comes closer to:
// half of what is left, and no more than have a core.
int threads_for(int wanted) {
  const int cores = tbb::info::default_concurrency();
  const int asked = has_few_addresses() ? std::min(wanted, cores) : wanted;
  const int granted = granted_threads(asked);
  return granted == asked ? asked : std::clamp(granted / 2, 1, cores);
}

}  // namespace

Workers::Workers(int threads)
    : threads_(threads_for(threads > 0 ? threads : tbb::info::default_concurrency())),
      limit_(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(threads_)),
      arena_(threads_) {}

}  // namespace sprocketry::search
