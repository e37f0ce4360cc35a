// The archive alone, on random points of three shapes: uniform in a cube (a tiny front), a shell
// (in three objectives 1.7 % of 10^6 are on the front) and a sphere (all are). Before a set is
// timed its front is checked: up to 10^4 points against every pair compared, above by the other
// algorithm, the tree: each point off the front is dominated by one on it, none on it is. Build
// with -DSPROCKETRY_BENCHMARKS=ON in release; see README.md here.

#include <benchmark/benchmark.h>
#include <tbb/task_arena.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <memory>
#include <numbers>
#include <string>
#include <tuple>
#include <vector>

#ifdef SPROCKETRY_PAGMO
#include <pagmo/utils/hypervolume.hpp>
#endif

#include "search/archive.hpp"
#include "search/front_of.hpp"
#include "support/plain_front.hpp"

namespace {

using namespace sprocketry;

enum class Shape { kUniform, kShell, kSphere };

// splitmix64 (Steele, Lea, Flood 2014).
class Random {
 public:
  double uniform() {
    std::uint64_t z = (state_ += 0x9e3779b97f4a7c15u);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return static_cast<double>((z ^ (z >> 31)) >> 11) * 0x1p-53;
  }
  // Box and Muller (1958).
  double normal() {
    const double radius = std::sqrt(-2 * std::log(1 - uniform()));
    return radius * std::cos(2 * std::numbers::pi * uniform());
  }

 private:
  std::uint64_t state_ = 1;
};

struct PointSet {
  std::vector<std::vector<double>> columns;
  std::vector<const double*> pointers;
  std::size_t count = 0;
  std::vector<std::uint32_t> front;
};

// The part of a ball of radius 1 with coordinates above 0, seen from (1, 1, ...): the outer 0.3 of
// its radius for the shell, its surface for the sphere.
void add_point(Shape shape, std::vector<std::vector<double>>& columns, Random& random) {
  if (shape == Shape::kUniform) {
    for (auto& column : columns) column.push_back(random.uniform());
    return;
  }
  double square = 0;
  for (auto& column : columns) {
    column.push_back(std::abs(random.normal()));
    square += column.back() * column.back();
  }
  const double radius = shape == Shape::kShell ? 1 - 0.3 * random.uniform() : 1.0;
  for (auto& column : columns) column.back() = 1 - column.back() * radius / std::sqrt(square);
}

bool is_plain_front(const PointSet& set) {
  test::PointList points(set.count);
  for (std::size_t i = 0; i < set.count; ++i) {
    for (const auto& column : set.columns) points[i].push_back(column[i]);
  }
  const std::vector<std::size_t> plain = test::plain_front(points);
  std::vector<bool> on(set.count);
  for (const std::size_t i : plain) on[i] = true;
  for (const std::uint32_t i : set.front) {
    if (!on[i]) return false;
  }
  return plain.size() == set.front.size();
}

bool tree_agrees(const PointSet& set) {
  std::vector<double> values;
  std::vector<bool> on(set.count);
  for (const std::uint32_t i : set.front) {
    on[i] = true;
    for (const auto& column : set.columns) values.push_back(column[i]);
  }
  const search::DominanceTree tree(set.columns.size(), values);
  std::array<double, search::kMostObjectives> point{};
  for (std::size_t i = 0; i < set.count; ++i) {
    for (std::size_t j = 0; j < set.columns.size(); ++j) point[j] = set.columns[j][i];
    if (tree.dominates(point.data()) == on[i]) return false;
  }
  return true;
}

#ifdef SPROCKETRY_PAGMO
// The front covers as much as all points do. Hypervolumes agree to rounding.
bool covers_the_same(const PointSet& set) {
  if (set.columns.size() > 3 || set.count > 100000) return true;
  const auto volume = [&](const std::vector<std::vector<double>>& points) {
    return pagmo::hypervolume(points, false).compute(std::vector<double>(set.columns.size(), 1.0));
  };
  const auto at = [&](std::size_t i) {
    std::vector<double> point;
    for (const auto& column : set.columns) point.push_back(column[i]);
    return point;
  };
  std::vector<std::vector<double>> all, front;
  for (std::size_t i = 0; i < set.count; ++i) all.push_back(at(i));
  for (const std::uint32_t i : set.front) front.push_back(at(i));
  return std::abs(volume(all) - volume(front)) < 1e-9;
}
#else
bool covers_the_same(const PointSet&) { return true; }
#endif

// The set of these arguments, its front checked. The last one is kept: each is asked for
// repeatedly.
const PointSet& point_set(Shape shape, std::size_t objectives, std::size_t count) {
  static std::tuple<Shape, std::size_t, std::size_t> known;
  static std::unique_ptr<PointSet> set;
  const std::tuple asked(shape, objectives, count);
  if (set && known == asked) return *set;
  set = std::make_unique<PointSet>();
  set->columns.resize(objectives);
  set->count = count;
  for (auto& column : set->columns) column.reserve(count);
  Random random;
  for (std::size_t i = 0; i < count; ++i) add_point(shape, set->columns, random);
  for (const auto& column : set->columns) set->pointers.push_back(column.data());
  set->front = search::front_of(set->pointers, count);
  if (!(count <= 10000 ? is_plain_front(*set) : tree_agrees(*set)) || !covers_the_same(*set)) {
    std::fputs("a front is wrong\n", stderr);
    std::exit(1);
  }
  known = asked;
  return *set;
}

void count_points(benchmark::State& state, const PointSet& set) {
  state.counters["points"] = benchmark::Counter(static_cast<double>(set.count),
                                                benchmark::Counter::kIsIterationInvariantRate);
  state.counters["front"] = static_cast<double>(set.front.size());
}

void bulk(benchmark::State& state, Shape shape, std::size_t objectives, std::size_t count,
          int threads) {
  const PointSet& set = point_set(shape, objectives, count);
  tbb::task_arena arena(threads);
  const auto pieces = static_cast<std::size_t>(threads);
  if (arena.execute([&] { return search::front_of(set.pointers, count, pieces); }) != set.front) {
    state.SkipWithError("pieces give another front");
    return;
  }
  for ([[maybe_unused]] auto _ : state) {
    arena.execute([&] { benchmark::DoNotOptimize(search::front_of(set.pointers, count, pieces)); });
  }
  count_points(state, set);
}

search::Member member(const PointSet& set, std::size_t i) {
  search::Member m;
  for (std::size_t j = 0; j < set.columns.size(); ++j) m.objectives[j] = set.columns[j][i];
  m.key.level = i;
  return m;
}

void streaming(benchmark::State& state, Shape shape, std::size_t objectives, std::size_t count) {
  const PointSet& set = point_set(shape, objectives, count);
  const auto stream = [&] {
    search::Archive archive(objectives);
    for (std::size_t i = 0; i < count; ++i) archive.offer(member(set, i));
    return archive.members();
  };
  const auto same = [](const search::Member& m, std::uint32_t i) { return m.key.level == i; };
  if (!std::ranges::equal(stream(), set.front, same)) {
    state.SkipWithError("offered one by one, another front");
    return;
  }
  for ([[maybe_unused]] auto _ : state) benchmark::DoNotOptimize(stream());
  count_points(state, set);
}

// Asked for points of the set, of which nearly all are dominated.
void dominated(benchmark::State& state, Shape shape, std::size_t objectives, std::size_t count) {
  const PointSet& set = point_set(shape, objectives, count);
  search::Archive archive(objectives);
  for (const std::uint32_t i : set.front) archive.offer(member(set, i));
  static_cast<void>(archive.members());
  for ([[maybe_unused]] auto _ : state) {
    std::size_t sum = 0;
    for (std::size_t i = 0; i < count; ++i) {
      sum += archive.dominated(member(set, i).objectives.data()) ? 1u : 0u;
    }
    if (sum + set.front.size() != count) state.SkipWithError("another number is dominated");
  }
  count_points(state, set);
}

void add_all() {
  const auto add = [](const std::string& name, auto run) {
    return benchmark::RegisterBenchmark(name.c_str(), run)->Unit(benchmark::kMillisecond);
  };
  struct Named {
    Shape shape;
    const char* name;
  };
  for (const Named& s : {Named{Shape::kUniform, "uniform"}, Named{Shape::kShell, "shell"},
                         Named{Shape::kSphere, "sphere"}}) {
    for (std::size_t objectives = 3; objectives <= 6; ++objectives) {
      // More objectives take longer a point: sets whose fronts are large stay smaller.
      const std::size_t most = objectives == 3 ? 10000000 : objectives == 4 ? 1000000 : 100000;
      for (std::size_t count = 10000; count <= most; count *= 10) {
        const std::string set =
            std::string(s.name) + "/" + std::to_string(objectives) + "/" + std::to_string(count);
        const auto run = [=, shape = s.shape](int threads) {
          return [=](benchmark::State& state) { bulk(state, shape, objectives, count, threads); };
        };
        add("bulk/" + set, run(1));
        if (count == 10000000) {
          add("bulk_two_threads/" + set, run(2))->MeasureProcessCPUTime()->UseRealTime();
        }
        if (s.shape == Shape::kSphere) continue;
        add("streaming/" + set, [=, shape = s.shape](benchmark::State& state) {
          streaming(state, shape, objectives, count);
        });
        add("dominated/" + set, [=, shape = s.shape](benchmark::State& state) {
          dominated(state, shape, objectives, count);
        });
      }
    }
  }
}

}  // namespace

int main(int argc, char** argv) {
  add_all();
  benchmark::Initialize(&argc, argv);
  benchmark::RunSpecifiedBenchmarks();
  return 0;
}
