// The bounded search beside the exhaustive one on the same job, threads and evaluator, in one run:
//   search_compare JOB.yaml [THREADS]
// The fronts are compared before any figure is printed.

#include <sys/resource.h>

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <string>

#include "search/search.hpp"
#include "spec/load.hpp"

namespace {

using namespace sprocketry;

struct Timed {
  search::Front front;
  double seconds = 0;
};

Timed timed(const search::Setup& setup, const search::Space& space, search::Pruning pruning,
            int threads) {
  search::SearchOptions options;
  options.threads = threads;
  options.pruning = pruning;
  const auto start = std::chrono::steady_clock::now();
  Timed result{search::search(setup, space, options), 0};
  const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - start;
  result.seconds = taken.count();
  return result;
}

void print(const char* name, const Timed& timed) {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  std::printf("%-10s %9.3f s  %12.0f evaluated  %12.0f pruned  front %zu  peak so far %ld MiB\n",
              name, timed.seconds, static_cast<double>(timed.front.account.evaluated),
              static_cast<double>(timed.front.account.pruned), timed.front.members.size(),
              usage.ru_maxrss / 1024);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) {
    std::fputs("search_compare JOB.yaml [THREADS]\n", stderr);
    return 2;
  }
  document::Diagnostics diagnostics;
  const auto job = spec::load_job(argv[1], {}, diagnostics);
  if (!job) {
    std::fputs(diagnostics.text().c_str(), stderr);
    return 2;
  }
  const int threads = argc > 2 ? std::atoi(argv[2]) : 0;
  const search::Setup setup = search::make_setup(job->requirement);
  const search::Space space = search::make_space(*job);
  const Timed bounded = timed(setup, space, search::Pruning::kAlways, threads);
  print("bounded", bounded);
  const Timed exhaustive = timed(setup, space, search::Pruning::kNever, threads);
  if (bounded.front.objectives != exhaustive.front.objectives) {
    std::fputs("the fronts differ\n", stderr);
    return 1;
  }
  print("exhaustive", exhaustive);
  std::printf("the same front; the bounded search is %.1f times as fast\n",
              exhaustive.seconds / bounded.seconds);
  return 0;
}
