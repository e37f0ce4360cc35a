#include "search/single_changes.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>

#include "search/evaluator.hpp"

namespace sprocketry::search {
namespace {

std::vector<double> figures_of(const spec::Metrics& metrics) {
  std::vector<double> figures;
  for (const spec::MetricInfo& info : spec::metric_table()) figures.push_back(info.value(metrics));
  return figures;
}

// What stays the same while slots are tried.
struct Start {
  const Setup& setup;
  const Space& picked;
  const Combination& combination;
  const Design& design;
};

template <typename Option>
void change_slot(const Start& start, std::string_view slot, const std::vector<Option>& options,
                 std::vector<Option> Space::*list, std::size_t Combination::*place,
                 std::vector<Change>& changes) {
  const std::string from = name_of((start.picked.*list)[start.combination.*place]);
  Space space = start.picked;
  space.*list = options;
  Combination next = start.combination;
  for (next.*place = 0; next.*place < options.size(); ++(next.*place)) {
    const std::string to = name_of(options[next.*place]);
    if (to == from) continue;
    const Design design = evaluate_design(start.setup, space, next);
    Change change{slot, from, to, rules::design_id(design.parts), 0, figures_of(design.metrics),
                  {}};
    change.price_change = design.metrics.price - start.design.metrics.price;
    for (const std::string_view rule : design.rejected_by()) change.rejected_by.emplace_back(rule);
    changes.push_back(std::move(change));
  }
}

// By how much a figure is better; 0 or less: it is not.
double better_by(const spec::MetricInfo& metric, double now, double then) {
  if (std::isnan(then)) return 0;
  if (std::isnan(now)) return std::numeric_limits<double>::infinity();
  return metric.better == spec::Better::kLower ? now - then : then - now;
}

}  // namespace

std::vector<Change> single_changes(const Setup& setup, const Space& space, const Space& picked,
                                   const Combination& combination, const Design& design) {
  const Start start{setup, picked, combination, design};
  std::vector<Change> changes;
  using S = Space;
  using C = Combination;
  change_slot(start, "motor", space.motors, &S::motors, &C::motor, changes);
  change_slot(start, "controller", space.controllers, &S::controllers, &C::controller, changes);
  change_slot(start, "pack", space.packs, &S::packs, &C::pack, changes);
  change_slot(start, "charger", space.chargers, &S::chargers, &C::charger, changes);
  change_slot(start, "chain", space.chains, &S::chains, &C::chain, changes);
  change_slot(start, "front_sprocket", space.fronts, &S::fronts, &C::front, changes);
  change_slot(start, "rear_sprocket", space.rears, &S::rears, &C::rear, changes);
  return changes;
}

std::vector<Mover> movers(const Design& design, const std::vector<Change>& changes) {
  std::vector<Mover> result;
  const std::vector<double> now = figures_of(design.metrics);
  for (std::size_t m = 0; m < now.size(); ++m) {
    const spec::MetricInfo& metric = spec::metric_table()[m];
    Mover mover{&metric, now[m], {}, {}};
    const auto gain = [&](std::size_t i) {
      return better_by(metric, now[m], changes[i].figures[m]);
    };
    const auto cheaper = [&](std::size_t i) {
      return std::tuple(changes[i].price_change, -gain(i));
    };
    const auto further = [&](std::size_t i) {
      return std::tuple(-gain(i), changes[i].price_change);
    };
    for (std::size_t i = 0; i < changes.size(); ++i) {
      const bool noticed = gain(i) > 0 && !(gain(i) < kNoticed * std::abs(now[m]));
      if (!noticed || !changes[i].rejected_by.empty()) continue;
      if (!mover.cheapest || cheaper(i) < cheaper(*mover.cheapest)) mover.cheapest = i;
      if (!mover.furthest || further(i) < further(*mover.furthest)) mover.furthest = i;
    }
    result.push_back(mover);
  }
  return result;
}

std::vector<std::size_t> repairs(const std::vector<Change>& changes, std::size_t most) {
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < changes.size(); ++i) {
    if (changes[i].rejected_by.empty()) found.push_back(i);
  }
  std::ranges::stable_sort(found, {}, [&](std::size_t i) { return changes[i].price_change; });
  found.resize(std::min(found.size(), most));
  return found;
}

std::vector<model::ThrottleBand> throttle_bands(const Setup& setup, const Space& space,
                                                const Combination& c, const Design& design) {
  const PreparedLevel level = prepare_level(setup, space, c.motor, c.controller, c.pack);
  const DriveOption drive = make_drive(space, c.chain, c.front, c.rear, design.chain);
  const model::Build build =
      model::make_build(level.level, drive.gearing,
                        make_rolling(setup, design.parts.motor->model, design.metrics.mass));
  return model::throttle_bands(build, setup.stance, setup.questions.ceiling,
                               design.metrics.performance.top_speed);
}

}  // namespace sprocketry::search
