#include "search/side.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "search/pick.hpp"

namespace sprocketry::search {
namespace {

// What dominance compares; a figure that does not exist is worse than any.
std::array<double, kMostObjectives> objectives_of(const Setup& setup, const spec::Metrics& m) {
  std::array<double, kMostObjectives> values{};
  for (std::size_t i = 0; i < setup.objectives.size(); ++i) {
    const spec::MetricInfo& info = *setup.objectives[i];
    const double value = info.value(m);
    values[i] = std::isnan(value)                     ? std::numeric_limits<double>::infinity()
                : info.better == spec::Better::kLower ? value + 0.0
                                                      : 0.0 - value;
  }
  return values;
}

// The front with price as one more aim; nothing when it is one already or there is no room.
std::optional<Front> search_by_price(const spec::Job& job, const Space& space, int threads) {
  const auto& aims = job.requirement.objectives;
  if (std::ranges::find(aims, "price") != aims.end()) return std::nullopt;
  if (aims.size() >= kMostObjectives) return std::nullopt;
  Setup setup = make_setup(job.requirement);
  setup.objectives.push_back(spec::find_metric("price"));
  return search(setup, space, threads);
}

template <typename Option>
void free_sprocket(std::vector<Option>& options, const std::string& family, int teeth) {
  for (Option& option : options) {
    if (option.family->id == family && option.teeth == teeth) option.price = 0;
  }
}

template <typename Option>
void free_part(std::vector<Option>& options, const std::string& id) {
  for (Option& option : options) {
    if (option.part != nullptr && option.part->id == id) option.price = 0;
  }
}

// Picks with the slots that they leave open as the bike that runs has them.
std::vector<std::string> completed(std::vector<std::string> picks, const Running& running) {
  const rules::Selection& s = running.design.parts;
  const bool whole = std::ranges::any_of(
      picks, [](const std::string& pick) { return pick.find('=') == std::string::npos; });
  if (whole) return picks;
  const auto keep = [&](const std::string& slot, const std::string& id) {
    const bool named = std::ranges::any_of(
        picks, [&](const std::string& pick) { return pick.starts_with(slot + '='); });
    if (!named) picks.push_back(slot + '=' + id);
  };
  keep("motor", s.motor->id);
  keep("controller", s.controller->id);
  keep("pack", s.pack->id);
  if (s.charger != nullptr) keep("charger", s.charger->id);
  keep("chain", s.chain->id);
  keep("front_sprocket", s.front->id);
  keep("front_teeth", std::to_string(s.front_teeth));
  keep("rear_sprocket", s.rear->id);
  keep("rear_teeth", std::to_string(s.rear_teeth));
  return picks;
}

}  // namespace

tl::expected<Running, std::string> make_running(std::unique_ptr<spec::Job> job,
                                                const std::vector<std::string>& picks) {
  Running running;
  const Setup setup = make_setup(job->requirement);
  auto picked = pick(*job, setup, picks, "--today");
  if (!picked) return tl::unexpected(picked.error());
  running.space = std::move(picked->space);
  running.design = evaluate_design(setup, running.space, picked->combination);
  running.design.outside_choose = picked->outside_choose;
  running.job = std::move(job);
  return running;
}

bool same_primary(const spec::Bike& a, const spec::Bike& b) {
  if (!a.primary || !b.primary) return !a.primary && !b.primary;
  return a.primary->ratio == b.primary->ratio && a.primary->mass == b.primary->mass &&
         a.primary->efficiency == b.primary->efficiency;
}

void count_running(const Design& running, Space& space) {
  const rules::Selection& s = running.parts;
  free_part(space.motors, s.motor->id);
  free_part(space.controllers, s.controller->id);
  if (s.charger != nullptr) free_part(space.chargers, s.charger->id);
  for (const parts::Extra* extra : running.extras) free_part(space.extras, extra->id);
  for (PackOption& pack : space.packs) {
    if (pack.part.id == s.pack->id) pack.price = 0;
  }
  for (ChainOption& chain : space.chains) {
    if (chain.part->id == s.chain->id && running.chain.fit) {
      chain.running_links = running.chain.fit->links;
    }
  }
  free_sprocket(space.fronts, s.front->id, s.front_teeth);
  free_sprocket(space.rears, s.rear->id, s.rear_teeth);
}

Design Side::design(std::size_t member) const {
  return evaluate_design(setup, space, front.members[member]);
}

tl::expected<Side, std::string> make_side(std::unique_ptr<spec::Job> job,
                                          const std::vector<std::string>& picks,
                                          const Running* running, int threads,
                                          std::string_view option) {
  Side side;
  if (running != nullptr && same_primary(running->job->requirement.bike, job->requirement.bike) &&
      job->requirement.bike.primary) {
    job->requirement.bike.primary->price = 0;
  }
  side.setup = make_setup(job->requirement);
  side.is_pick = !picks.empty();
  if (side.is_pick) {
    auto picked = pick(*job, side.setup, running ? completed(picks, *running) : picks, option);
    if (!picked) return tl::unexpected(picked.error());
    side.space = std::move(picked->space);
    if (running != nullptr) count_running(running->design, side.space);
    side.front.members = {picked->combination};
    const Design design = side.design(0);
    side.front.objectives = {objectives_of(side.setup, design.metrics)};
    for (const std::string_view rule : design.rejected_by()) side.rejected_by.emplace_back(rule);
  } else {
    side.space = make_space(*job);
    if (running != nullptr) count_running(running->design, side.space);
    side.front = search(side.setup, side.space, threads);
    side.by_price = search_by_price(*job, side.space, threads);
  }
  side.job = std::move(job);
  return side;
}

std::size_t balanced_member(const Front& front, std::size_t count) {
  const auto& values = front.objectives;
  std::vector<double> sums(values.size(), 0.0);
  for (std::size_t k = 0; k < count; ++k) {
    const auto [low, high] = std::ranges::minmax(values, {}, [&](const auto& v) { return v[k]; });
    const double span = high[k] - low[k];
    if (!(span > 0)) continue;
    for (std::size_t i = 0; i < values.size(); ++i) sums[i] += (values[i][k] - low[k]) / span;
  }
  return static_cast<std::size_t>(std::ranges::min_element(sums) - sums.begin());
}

}  // namespace sprocketry::search
