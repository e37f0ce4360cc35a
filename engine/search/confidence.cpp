#include "search/confidence.hpp"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <limits>
#include <numeric>

#include "search/front_of.hpp"
#include "search/quasi_random.hpp"
#include "search/robust_sample.hpp"
#include "search/workers.hpp"

namespace sprocketry::search {
namespace {

// Values of all inputs at the points that the loaders accept, the first so many of the sequence.
struct AcceptedPoints {
  std::vector<parts::Replaced> points;
  std::size_t refused = 0;
  std::string why;  // the first that was refused was
};

parts::Replaced replaced_at(const std::vector<Uncertain>& inputs,
                            const std::vector<std::vector<double>>& values, std::size_t point) {
  parts::Replaced replaced;
  for (std::size_t i = 0; i < inputs.size(); ++i) {
    replaced.emplace(inputs[i].input.path, values[i][point]);
  }
  return replaced;
}

AcceptedPoints accepted_points(const SampleSource& source, const std::vector<Uncertain>& inputs,
                               const RobustOptions& options, Workers& workers) {
  const std::size_t most = 2 * options.samples;
  const auto shares = quasi_random(most, inputs.size(), options.seed);
  std::vector<std::vector<double>> values;
  for (std::size_t i = 0; i < inputs.size(); ++i) values.push_back(values_at(inputs[i], shares[i]));
  AcceptedPoints accepted;
  for (std::size_t tried = 0; tried < most && accepted.points.size() < options.samples;) {
    const std::size_t end = std::min(most, tried + options.samples - accepted.points.size());
    std::vector<std::string> words(end - tried);
    std::vector<char> loads(end - tried, 0);
    workers.run([&] {
      tbb::parallel_for(tried, end, [&](std::size_t p) {
        const auto job = sampled_job(source, replaced_at(inputs, values, p), words[p - tried]);
        loads[p - tried] = job ? 1 : 0;
      });
    });
    for (std::size_t p = tried; p < end; ++p) {
      if (loads[p - tried] != 0) {
        accepted.points.push_back(replaced_at(inputs, values, p));
        continue;
      }
      ++accepted.refused;
      if (accepted.why.empty()) accepted.why = words[p - tried];
    }
    tried = end;
  }
  return accepted;
}

std::vector<const double*> pointers_to(const std::vector<std::vector<double>>& columns) {
  std::vector<const double*> pointers;
  pointers.reserve(columns.size());
  for (const auto& column : columns) pointers.push_back(column.data());
  return pointers;
}

// How far the designs' confidence is known.
class Race {
 public:
  Race(const Plan& plan, const PlanIndex& index, const std::vector<Costs>& objectives,
       std::size_t count, const std::vector<parts::Replaced>& points)
      : plan_(plan),
        index_(index),
        objectives_(objectives),
        count_(count),
        points_(points),
        held_(objectives.size()),
        done_(objectives.size()) {}

  // Computes the next `samples` of some designs, which all have seen the same ones, or what is
  // left; false when stopped.
  bool advance(const std::vector<std::uint32_t>& designs, std::size_t samples, Workers& workers,
               const Watch* watch) {
    if (designs.empty()) return true;
    const std::size_t begin = done_[designs.front()];
    const std::size_t end = std::min(points_.size(), begin + samples);
    std::vector<std::vector<char>> holds(end - begin);
    workers.run([&] {
      tbb::parallel_for(begin, end, [&](std::size_t p) {
        if (watch != nullptr && watch->stopped()) return;
        std::string why;
        const auto job = sampled_job(plan_.source, points_[p], why);
        holds[p - begin] = holds_in(plan_, index_, *job, designs);
      });
    });
    if (watch != nullptr && watch->stopped()) return false;
    for (const std::vector<char>& sample : holds) {
      for (std::size_t i = 0; i < designs.size(); ++i) held_[designs[i]] += sample[i] ? 1U : 0U;
    }
    for (const std::uint32_t design : designs) done_[design] = end;
    evaluations_ += (end - begin) * designs.size();
    return true;
  }

  // Of some designs those that no other of all beats yet. One that has been beaten may still beat
  // others: what beats it beats them too.
  [[nodiscard]] std::vector<std::uint32_t> unbeaten(
      const std::vector<std::uint32_t>& designs) const {
    Archive archive(count_ + 1);
    for (std::uint32_t d = 0; d < held_.size(); ++d) archive.offer({with(d, held_[d]), {}});
    std::vector<std::uint32_t> left;
    for (const std::uint32_t d : designs) {
      const Costs best = with(d, held_[d] + points_.size() - done_[d]);
      if (!archive.dominated(best.data())) left.push_back(d);
    }
    return left;
  }

  // Of some designs, which all have seen the same samples, those on the front as it looks now.
  [[nodiscard]] std::vector<std::uint32_t> leaders(
      const std::vector<std::uint32_t>& designs) const {
    std::vector<std::vector<double>> columns(count_ + 1);
    for (const std::uint32_t d : designs) {
      const Costs costs = with(d, held_[d]);
      for (std::size_t k = 0; k <= count_; ++k) columns[k].push_back(costs[k]);
    }
    std::vector<std::uint32_t> places = front_of(pointers_to(columns), designs.size());
    std::ranges::sort(places);
    for (std::uint32_t& place : places) place = designs[place];
    return places;
  }

  [[nodiscard]] bool is_done(std::uint32_t design) const { return done_[design] == points_.size(); }
  [[nodiscard]] double percent(std::uint32_t design) const {
    return 100.0 * static_cast<double>(held_[design]) / static_cast<double>(points_.size());
  }
  [[nodiscard]] std::size_t evaluations() const { return evaluations_; }

 private:
  [[nodiscard]] Costs with(std::uint32_t design, std::size_t held) const {
    Costs costs = objectives_[design];
    costs[count_] = -static_cast<double>(held);
    return costs;
  }

  const Plan& plan_;
  const PlanIndex& index_;
  const std::vector<Costs>& objectives_;
  std::size_t count_;
  const std::vector<parts::Replaced>& points_;
  std::vector<std::size_t> held_;  // samples in which every rule holds
  std::vector<std::size_t> done_;  // samples computed
  std::size_t evaluations_ = 0;
};

void tell(Watch* watch, std::size_t all, std::size_t left) {
  if (watch == nullptr) return;
  watch->compatible = static_cast<double>(all);
  watch->settled = static_cast<double>(all - left);
}

// All samples of every design that may be on the front. First a few of all; then, twice, all
// samples of those that lead so far, which beat most of the others with few samples of these; then
// the rest side by side. False when stopped.
bool run_race(Race& race, std::size_t designs, std::size_t samples, Workers& workers,
              Watch* watch) {
  constexpr std::size_t kBlock = 64;
  constexpr int kRoundsOfLeaders = 2;
  std::vector<std::uint32_t> open(designs);
  std::iota(open.begin(), open.end(), 0U);
  const auto keep_open = [&] {
    open = race.unbeaten(open);
    std::erase_if(open, [&](std::uint32_t d) { return race.is_done(d); });
    tell(watch, designs, open.size());
  };
  tell(watch, designs, designs);
  if (!race.advance(open, kBlock, workers, watch)) return false;
  keep_open();
  for (int round = 0; round < kRoundsOfLeaders; ++round) {
    if (!open.empty() && !race.advance(race.leaders(open), samples, workers, watch)) return false;
    keep_open();
  }
  while (!open.empty()) {
    if (!race.advance(open, kBlock, workers, watch)) return false;
    keep_open();
  }
  return true;
}

// The front of the designs whose confidence is known; the others are beaten.
Front front_with(const Front& all, std::size_t count, const Race& race) {
  std::vector<std::uint32_t> known;
  std::vector<std::vector<double>> columns(count + 1);
  for (std::uint32_t d = 0; d < all.members.size(); ++d) {
    if (!race.is_done(d)) continue;
    known.push_back(d);
    for (std::size_t k = 0; k < count; ++k) columns[k].push_back(all.objectives[d][k]);
    columns[count].push_back(-race.percent(d));
  }
  Front front;
  front.account = all.account;
  for (const std::uint32_t place : front_of(pointers_to(columns), known.size())) {
    front.members.push_back(all.members[known[place]]);
    front.objectives.push_back(all.objectives[known[place]]);
    front.objectives.back()[count] = columns[count][place];
  }
  return front;
}

std::string too_many(std::size_t count) {
  return std::to_string(count) + " designs meet every rule and demand, and the objective " +
         "`confidence` computes each over the samples: at most " + std::to_string(kMostConfident) +
         "\nName fewer parts or tooth counts under `choose`, or ask for more under `must`.";
}

}  // namespace

tl::expected<std::optional<Front>, std::string> search_confident(const ConfidenceWork& work,
                                                                 const RobustOptions& options,
                                                                 Watch* watch) {
  const Front all = all_feasible(work.setup, work.space, options.threads, watch);
  if (!all.exact) return std::nullopt;
  if (all.members.empty()) return all;
  if (all.members.size() > kMostConfident) return tl::unexpected(too_many(all.members.size()));
  const std::vector<rules::Selection> designs = selections(work.space, all);
  const auto inputs = find_uncertain(work.job, work.written.inputs, designs, options.usual);
  if (const auto error = wrong_inputs(inputs, options)) return tl::unexpected(*error);
  const Plan plan = make_plan(work.job, work.written, designs);
  const PlanIndex index = make_index(plan);
  Workers workers(options.threads);
  const AcceptedPoints accepted = accepted_points(plan.source, inputs, options, workers);
  if (accepted.points.size() < options.samples) {
    return tl::unexpected(too_wide(accepted.points.size(), accepted.refused, accepted.why));
  }
  const std::size_t count = work.setup.objectives.size();
  Race race(plan, index, all.objectives, count, accepted.points);
  if (!run_race(race, designs.size(), options.samples, workers, watch)) return std::nullopt;
  Front front = front_with(all, count, race);
  front.sampling =
      Sampling{accepted.points.size(), accepted.refused, inputs.size(), race.evaluations()};
  return front;
}

Setup with_confidence(Setup setup) {
  setup.objectives.push_back(&spec::confidence_metric());
  return setup;
}

}  // namespace sprocketry::search
