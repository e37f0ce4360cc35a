#include "search/gains.hpp"

#include <iterator>
#include <tuple>

namespace sprocketry::search {
namespace {

auto order(const Combination& c) {
  return std::tuple(c.motor, c.controller, c.pack, c.charger, c.chain, c.front, c.rear);
}

}  // namespace

bool comes_first(const Combination& a, const Combination& b) { return order(a) < order(b); }

void Gains::add(const Tradeoff& next) {
  auto after = steps_.upper_bound(next.demand);
  if (after != steps_.begin()) {
    const auto before = std::prev(after);
    if (before->second.aim < next.aim) return;
    if (before->second.aim == next.aim) {
      const bool earlier =
          before->first == next.demand && comes_first(next.design, before->second.design);
      if (earlier) before->second.design = next.design;
      return;
    }
  }
  while (after != steps_.end() && after->second.aim >= next.aim) after = steps_.erase(after);
  steps_.insert_or_assign(next.demand, Step{next.aim, next.design});
}

void Gains::add(const Gains& other) {
  for (const auto& [demand, step] : other.steps_) add({demand, step.aim, step.design});
}

std::optional<Tradeoff> Gains::first_below(double aim) const {
  for (const auto& [demand, step] : steps_) {
    if (step.aim < aim) return Tradeoff{demand, step.aim, step.design};
  }
  return std::nullopt;
}

std::optional<Tradeoff> Gains::within(double demand) const {
  const auto after = steps_.upper_bound(demand);
  if (after == steps_.begin()) return std::nullopt;
  const auto& [value, step] = *std::prev(after);
  return Tradeoff{value, step.aim, step.design};
}

std::optional<Tradeoff> Gains::last() const {
  if (steps_.empty()) return std::nullopt;
  const auto& [demand, step] = *std::prev(steps_.end());
  return Tradeoff{demand, step.aim, step.design};
}

}  // namespace sprocketry::search
