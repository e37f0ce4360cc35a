#include "search/alternatives.hpp"

#include <algorithm>
#include <cmath>

namespace sprocketry::search {
namespace {

using Values = std::array<double, kMostObjectives>;

// The values of a design, all to be made small.
Values values_of(const Setup& setup, const Design& design) {
  Values values{};
  for (std::size_t k = 0; k < setup.objectives.size(); ++k) {
    const spec::MetricInfo& info = *setup.objectives[k];
    const double value = info.value(design.metrics);
    values[k] = info.better == spec::Better::kLower ? value : -value;
  }
  return values;
}

struct Loss {
  double share = 0;
  std::size_t worst = 0;
};

Loss loss(const Values& from, const Values& to, std::size_t count) {
  Loss result;
  for (std::size_t k = 0; k < count; ++k) {
    const double worse = to[k] - from[k];
    if (!(worse > 0)) continue;
    // What is worse than nothing is worse beyond any share.
    const double share = worse / std::abs(from[k]);
    if (share > result.share) result = {share, k};
  }
  return result;
}

template <typename Options, typename Gone>
Space less(const Space& space, Options Space::*list, const Gone& gone) {
  Space rest = space;
  std::erase_if(rest.*list, gone);
  return rest;
}

// Takes the rest of a space, without a part, to its nearest designs.
Without nearest(const Setup& setup, std::string_view slot, std::string id, Space rest,
                const Values& from, std::size_t most, int threads) {
  Without without{slot, std::move(id), 0, {}, std::make_shared<const Space>(std::move(rest))};
  const std::size_t count = setup.objectives.size();
  const Front front = search(setup, *without.space, threads);
  without.front = front.members.size();
  std::vector<std::pair<Loss, std::size_t>> order;
  for (std::size_t i = 0; i < front.members.size(); ++i) {
    order.emplace_back(loss(from, front.objectives[i], count), i);
  }
  std::ranges::stable_sort(order, {}, [](const auto& entry) { return entry.first.share; });
  for (std::size_t i = 0; i < std::min(most, order.size()); ++i) {
    const auto& [lost, member] = order[i];
    without.nearest.push_back(
        {evaluate_design(setup, *without.space, front.members[member]), lost.share, lost.worst});
  }
  return without;
}

}  // namespace

std::vector<Without> find_alternatives(const Setup& setup, const Space& space,
                                       const Combination& combination, std::size_t most,
                                       int threads) {
  const Design design = evaluate_design(setup, space, combination);
  const rules::Selection& parts = design.parts;
  const Values from = values_of(setup, design);
  std::vector<Without> all;
  const auto add = [&](std::string_view slot, const std::string& id, Space rest) {
    all.push_back(nearest(setup, slot, id, std::move(rest), from, most, threads));
  };
  add("motor", parts.motor->id,
      less(space, &Space::motors, [&](const MotorOption& o) { return o.part == parts.motor; }));
  add("controller", parts.controller->id,
      less(space, &Space::controllers,
           [&](const ControllerOption& o) { return o.part == parts.controller; }));
  add("cell", parts.pack->cell_id, less(space, &Space::packs, [&](const PackOption& o) {
        return o.part.cell_id == parts.pack->cell_id;
      }));
  if (parts.charger) {
    add("charger", parts.charger->id, less(space, &Space::chargers, [&](const ChargerOption& o) {
          return o.part == parts.charger;
        }));
  }
  add("chain", parts.chain->id,
      less(space, &Space::chains, [&](const ChainOption& o) { return o.part == parts.chain; }));
  add("front_sprocket", parts.front->id,
      less(space, &Space::fronts, [&](const FrontOption& o) { return o.family == parts.front; }));
  add("rear_sprocket", parts.rear->id,
      less(space, &Space::rears, [&](const RearOption& o) { return o.family == parts.rear; }));
  return all;
}

}  // namespace sprocketry::search
