// The search beside the exhaustive one and beside NSGA-II of pagmo2 on one job, with the same
// evaluator, rules and threads, in one run:
//   peers_compare JOB.yaml [THREADS] [RUNS]
// The exhaustive front is compared with the search's before anything is printed, and what NSGA-II
// finds must be on that front or dominated by it. NSGA-II gets 1, 10 and 100 times the search's
// time; it is judged by the best of all the designs it evaluated, the median of RUNS seeds.

#include <sys/resource.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <limits>
#include <memory>
#include <optional>
#include <pagmo/algorithms/nsga2.hpp>
#include <pagmo/bfe.hpp>
#include <pagmo/population.hpp>
#include <pagmo/problem.hpp>
#include <pagmo/utils/hypervolume.hpp>
#include <string>
#include <utility>
#include <vector>

#include "design_problem.hpp"
#include "search/search.hpp"
#include "spec/load.hpp"

namespace {

using namespace sprocketry;
using Values = std::array<double, search::kMostObjectives>;

double seconds_since(std::chrono::steady_clock::time_point start) {
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

double median(std::vector<double> values) {
  std::ranges::sort(values);
  return values[values.size() / 2];
}

// CPU time in s of all threads so far.
double cpu_seconds() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  const auto seconds = [](const timeval& t) {
    return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
  };
  return seconds(usage.ru_utime) + seconds(usage.ru_stime);
}

struct Timed {
  search::Front front;
  std::vector<double> seconds;
  std::vector<double> cpu;
};

void run_once(const search::Setup& setup, const search::Space& space, search::Pruning pruning,
              int threads, Timed& timed) {
  search::SearchOptions options;
  options.threads = threads;
  options.pruning = pruning;
  const double cpu = cpu_seconds();
  const auto start = std::chrono::steady_clock::now();
  timed.front = search::search(setup, space, options);
  timed.seconds.push_back(seconds_since(start));
  timed.cpu.push_back(cpu_seconds() - cpu);
}

// The exact front as the yardstick, each objective's span over it as the unit.
class Yardstick {
 public:
  Yardstick(const search::Front& front, std::size_t objectives)
      : exact_(front.objectives), count_(objectives), archive_(objectives) {
    for (const Values& values : exact_) archive_.offer({values, {}});
    for (std::size_t i = 0; i < count_; ++i) {
      const auto [low, high] =
          std::ranges::minmax(exact_, {}, [i](const Values& values) { return values[i]; });
      span_[i] = high[i] > low[i] ? high[i] - low[i] : 1.0;
      reference_.push_back(high[i] + 0.01 * span_[i]);
    }
    volume_ = volume(exact_);
  }

  // True when nothing found betters or escapes the exact front.
  [[nodiscard]] bool covers(const std::vector<Values>& found) const {
    return std::ranges::all_of(found, [&](const Values& values) {
      return archive_.dominated(values.data()) || std::ranges::binary_search(exact_, values);
    });
  }

  [[nodiscard]] double share(const std::vector<Values>& found) const {
    const auto there = std::ranges::count_if(
        exact_, [&](const Values& values) { return std::ranges::binary_search(found, values); });
    return static_cast<double>(there) / static_cast<double>(exact_.size());
  }

  [[nodiscard]] double volume_share(const std::vector<Values>& found) const {
    return volume(found) / volume_;
  }

  // How much worse, in the worst objective and its span, the nearest found design is than a member
  // of the exact front: of all members the most.
  [[nodiscard]] double gap(const std::vector<Values>& found) const {
    double worst = 0;
    for (const Values& member : exact_) {
      double nearest = std::numeric_limits<double>::infinity();
      for (const Values& values : found) {
        double most = 0;
        for (std::size_t i = 0; i < count_; ++i) {
          most = std::max(most, (values[i] - member[i]) / span_[i]);
        }
        nearest = std::min(nearest, most);
      }
      worst = std::max(worst, nearest);
    }
    return worst;
  }

 private:
  [[nodiscard]] double volume(const std::vector<Values>& points) const {
    std::vector<pagmo::vector_double> inside;
    for (const Values& values : points) {
      pagmo::vector_double point(values.begin(),
                                 values.begin() + static_cast<std::ptrdiff_t>(count_));
      bool below = true;
      for (std::size_t i = 0; i < count_; ++i) below = below && point[i] < reference_[i];
      if (below) inside.push_back(std::move(point));
    }
    return inside.empty() ? 0.0 : pagmo::hypervolume(inside).compute(reference_);
  }

  std::vector<Values> exact_;
  std::size_t count_;
  search::Archive archive_;
  Values span_{};
  pagmo::vector_double reference_;
  double volume_ = 0;
};

struct Reached {
  double seconds = 0, cpu = 0, evaluations = 0, share = 0, volume = 0, gap = 0;
};

constexpr std::array kTimes = {1.0, 10.0, 100.0};
using Course = std::array<Reached, kTimes.size()>;

// One run of NSGA-II, looked at after each of the times. An empty course: it found what the exact
// front lacks.
std::optional<Course> nsga2_course(const std::shared_ptr<benchmarks::DesignBoard>& board,
                                   const Yardstick& yardstick, double unit, unsigned seed) {
  constexpr unsigned kPopulation = 120;  // the best of 60, 120, 240, 400 at most of the times
  constexpr double kCrossover = 0.95;
  constexpr double kMutation = 1.0 / 7.0;  // one slot a child, as is usual
  board->reset();
  const double cpu_before = cpu_seconds();
  const auto start = std::chrono::steady_clock::now();
  pagmo::nsga2 method(1, kCrossover, 10.0, kMutation, 50.0, seed);
  method.set_bfe(pagmo::bfe{});
  const pagmo::problem problem{benchmarks::DesignProblem(board)};
  pagmo::population population(problem, pagmo::bfe{}, kPopulation, seed);
  Course course;
  double looking = 0;  // time spent on judging
  double looking_cpu = 0;
  for (std::size_t stage = 0; stage < kTimes.size(); ++stage) {
    while (seconds_since(start) - looking < kTimes[stage] * unit) {
      population = method.evolve(population);
    }
    const double now = seconds_since(start);
    const double cpu = cpu_seconds() - cpu_before;
    std::vector<Values> found;
    for (const search::Member& member : board->front()) found.push_back(member.objectives);
    if (!yardstick.covers(found)) return std::nullopt;
    course[stage] = {now - looking,
                     cpu - looking_cpu,
                     static_cast<double>(population.get_problem().get_fevals()),
                     yardstick.share(found),
                     yardstick.volume_share(found),
                     yardstick.gap(found)};
    looking += seconds_since(start) - now;
    looking_cpu += cpu_seconds() - cpu_before - cpu;
  }
  return course;
}

void print_row(const std::string& name, const Reached& unit, const Reached& r) {
  std::printf("| %s | %.3g s | %.3g s | %.3g | %.3g | %.3g %% | %.5g %% | %.2g %% |\n",
              name.c_str(), r.seconds, r.cpu, r.seconds / unit.seconds, r.evaluations,
              100 * r.share, 100 * r.volume, 100 * r.gap);
}

Reached exact(const Timed& timed) {
  return {median(timed.seconds),
          median(timed.cpu),
          static_cast<double>(timed.front.account.evaluated),
          1,
          1,
          0};
}

int run(const spec::Job& job, int threads, unsigned runs) {
  const search::Setup setup = search::make_setup(job.requirement);
  const search::Space space = search::make_space(job);
  Timed bounded;
  Timed exhaustive;
  for (int turn = 0; turn < 5; ++turn) {
    run_once(setup, space, search::Pruning::kAlways, threads, bounded);
    run_once(setup, space, search::Pruning::kNever, threads, exhaustive);
    if (bounded.front.objectives != exhaustive.front.objectives) {
      std::fputs("the bounded and the exhaustive search differ\n", stderr);
      return 1;
    }
  }
  const Reached unit = exact(bounded);
  const Yardstick yardstick(bounded.front, setup.objectives.size());
  const search::Compatible compatible = search::make_compatible(setup, space);
  const auto board = std::make_shared<benchmarks::DesignBoard>(setup, space, compatible, threads);
  std::vector<Course> courses;
  for (unsigned seed = 1; seed <= runs; ++seed) {
    const auto course = nsga2_course(board, yardstick, unit.seconds, seed);
    if (!course) {
      std::fputs("NSGA-II found a design that the exact front lacks\n", stderr);
      return 1;
    }
    courses.push_back(*course);
  }
  const search::Account& account = bounded.front.account;
  std::printf("%.3g combinations, %.3g compatible, %zu on the front\n\n",
              static_cast<double>(account.combinations), static_cast<double>(account.compatible),
              bounded.front.members.size());
  std::puts(
      "| | time | CPU | times ours | evaluated | of the front found | hypervolume | worst gap |\n"
      "|---|---|---|---|---|---|---|---|");
  print_row("search", unit, unit);
  print_row("exhaustive", unit, exact(exhaustive));
  for (std::size_t stage = 0; stage < kTimes.size(); ++stage) {
    const auto middle = [&](double Reached::*member) {
      std::vector<double> values(courses.size());
      std::ranges::transform(courses, values.begin(),
                             [&](const Course& course) { return course[stage].*member; });
      return median(std::move(values));
    };
    print_row("NSGA-II, " + std::to_string(static_cast<int>(kTimes[stage])) + "x", unit,
              {middle(&Reached::seconds), middle(&Reached::cpu), middle(&Reached::evaluations),
               middle(&Reached::share), middle(&Reached::volume), middle(&Reached::gap)});
  }
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) {
    std::fputs("peers_compare JOB.yaml [THREADS] [RUNS]\n", stderr);
    return 2;
  }
  document::Diagnostics diagnostics;
  const auto job = spec::load_job(argv[1], {}, diagnostics);
  if (!job) {
    std::fputs(diagnostics.text().c_str(), stderr);
    return 2;
  }
  const int threads = argc > 2 ? std::atoi(argv[2]) : 0;
  const int runs = argc > 3 ? std::atoi(argv[3]) : 3;
  return run(*job, threads, static_cast<unsigned>(std::max(runs, 1)));
}
