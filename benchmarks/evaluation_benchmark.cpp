// One full evaluation of a combination, all metrics, on one core; and the same top speed, pull-away
// and ride by fixed 10 ms time steps, as a spreadsheet would. The answers are compared before
// anything is timed. Build with -DSPROCKETRY_BENCHMARKS=ON in release; see README.md here.

#include <benchmark/benchmark.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>

#include "search/evaluator.hpp"
#include "search/pick.hpp"

namespace {

using namespace sprocketry;

struct Subject {
  spec::Job job;
  search::Setup setup;
  search::Space space;
  search::PreparedLevel level;
  search::DriveOption drive;
  search::ChargerOption charger;
  model::Build build;

  // A design of the demo on a ride of choice.
  Subject(const char* ride, const char* design) {
    document::Diagnostics diagnostics;
    auto loaded = spec::load_job(SPROCKETRY_SOURCE_DIR "/specs/demo.yaml",
                                 {std::string("ride={cycle: ") + ride + "}"}, diagnostics);
    if (!loaded) {
      std::fputs(diagnostics.text().c_str(), stderr);
      std::exit(1);
    }
    job = std::move(*loaded);
    setup = search::make_setup(job.requirement);
    auto picked = search::pick(job, setup, {design});
    if (!picked) {
      std::fputs(picked.error().c_str(), stderr);
      std::exit(1);
    }
    space = std::move(picked->space);
    const search::Combination& c = picked->combination;
    level = search::prepare_level(setup, space, c.motor, c.controller, c.pack);
    const auto run = search::chain_run(job.requirement, space.chains[c.chain].part->model,
                                       space.fronts[c.front].teeth, space.rears[c.rear].teeth);
    drive = search::make_drive(space, c.chain, c.front, c.rear, run);
    charger = space.chargers[c.charger];
    search::Evaluator evaluator(setup, space);
    const double mass = evaluator.full(level, drive, charger).mass;
    build = model::make_build(level.level, drive.gearing,
                              search::make_rolling(setup, *level.level.motor, mass));
  }
};

// From the demo's fronts: the first falls behind on the udds, the second follows it throughout.
constexpr const char* kSmall =
    "hollin-48/keld-200/marl-50x16s1p/drip-nmc-60/linkage-420/hub-420-78:13/ring-420:64";
constexpr const char* kStrong =
    "tessel-b8/duplo-250/slate-100x24s1p/tidal-4/linkage-420/hub-420-78:12/ring-420:50";

// Time to the pull-away's speed by Euler's steps.
double stepped_pull_away(const Subject& s) {
  constexpr double kStep = 0.01;
  const model::Rolling& r = s.build.rolling;
  const double inertia = model::effective_mass(r, s.build.gearing);
  double time = 0;
  for (double v = 0; v < s.setup.questions.pull_away_to; time += kStep) {
    const double force =
        model::drive_force(s.level.level.full, s.build.gearing, r.largest_force, v) -
        model::road_force(r.load, r.air, r.mass, 0, v);
    if (!(force > 0)) return model::kNone;
    v += kStep * force / inertia;
  }
  return time;
}

// Energy per distance of the ride in 10 ms steps of its own speed trace.
double stepped_consumption(const Subject& s) {
  constexpr double kStep = 0.01;
  const model::Profile& ride = s.job.requirement.ride;
  const model::Rolling& r = s.build.rolling;
  const model::DriveLimits& d = s.level.level.full;
  const double inertia = model::effective_mass(r, s.build.gearing);
  double energy = 0;
  double distance = 0;
  for (std::size_t i = 1; i < ride.size(); ++i) {
    const double span = ride[i].time - ride[i - 1].time;
    const double a = (ride[i].speed - ride[i - 1].speed) / span;
    for (int k = 0; (k + 0.5) * kStep < span; ++k) {
      const double t = (k + 0.5) * kStep;
      const double v = ride[i - 1].speed + a * t;
      const double force = inertia * a + model::road_force(r.load, r.air, r.mass, 0, v);
      const double current = v > 0 ? model::demanded_current(d, s.build.gearing, force, v) : 0.0;
      const double power =
          current * (current * d.resistance + d.torque_constant * s.build.gearing.ratio * v) /
              d.efficiency +
          s.setup.questions.accessories;
      const double drawn = model::battery_current(d.voltage, d.pack_resistance, power);
      energy += (d.voltage - drawn * d.pack_resistance) * drawn * kStep;
      distance += v * kStep;
    }
  }
  return energy / distance;
}

void full_evaluation(benchmark::State& state, const char* ride, const char* design) {
  const Subject s(ride, design);
  search::Evaluator evaluator(s.setup, s.space);
  const model::Performance p = evaluator.full(s.level, s.drive, s.charger).performance;
  if (std::abs(stepped_pull_away(s) / p.pull_away - 1) > 0.02 ||
      std::abs(stepped_consumption(s) / p.consumption - 1) > 0.02) {
    state.SkipWithError("the stepped answer differs by more than 2 %");
    return;
  }
  for ([[maybe_unused]] auto _ : state) {
    benchmark::DoNotOptimize(evaluator.full(s.level, s.drive, s.charger));
  }
}

// The rules between the pairwise ones and those of the ride, as a search asks them of each drive.
void strength_rules(benchmark::State& state, const char* ride, const char* design) {
  const Subject s(ride, design);
  search::Evaluator evaluator(s.setup, s.space);
  if (evaluator.strength_fail(s.level, s.drive)) {
    state.SkipWithError("the design is rejected before all its rules are asked");
    return;
  }
  for ([[maybe_unused]] auto _ : state) {
    benchmark::DoNotOptimize(evaluator.strength_fail(s.level, s.drive));
  }
}

void stepped(benchmark::State& state, const char* ride, const char* design) {
  const Subject s(ride, design);
  for ([[maybe_unused]] auto _ : state) {
    benchmark::DoNotOptimize(stepped_pull_away(s));
    benchmark::DoNotOptimize(stepped_consumption(s));
  }
}

BENCHMARK_CAPTURE(full_evaluation, r40_urban, "r40-urban", kSmall)->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(full_evaluation, udds_followed, "udds", kStrong)->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(full_evaluation, udds_behind, "udds", kSmall)->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(strength_rules, r40_urban, "r40-urban", kSmall)->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(stepped, r40_urban, "r40-urban", kSmall)->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(stepped, udds, "udds", kStrong)->Unit(benchmark::kMicrosecond);

}  // namespace
