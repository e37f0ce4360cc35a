#include "search/swaps.hpp"

#include <algorithm>
#include <tuple>

namespace sprocketry::search {
namespace {

bool rejects(const Design& design, std::string_view rule) {
  return std::ranges::any_of(design.rows, [&](const rules::Row& row) {
    return row.rule == rule && row.kind == rules::Kind::kReject && !row.unchecked && !row.holds;
  });
}

// Whether a fit rule rejects `other` that does not reject `present`.
bool fits_worse(const Setup& setup, const Design& other, const Design& present) {
  return std::ranges::any_of(setup.fit, [&](const rules::Check& check) {
    return rejects(other, check.rule->name) && !rejects(present, check.rule->name);
  });
}

// Whether `choose` leaves every part of a selection in.
bool is_chosen(const Space& chosen, const rules::Selection& s) {
  const auto has = [](const auto& options, const auto& matches) {
    return std::ranges::any_of(options, matches);
  };
  return has(chosen.motors, [&](const auto& o) { return o.part == s.motor; }) &&
         has(chosen.controllers, [&](const auto& o) { return o.part == s.controller; }) &&
         has(chosen.packs, [&](const auto& o) { return o.part.id == s.pack->id; }) &&
         has(chosen.chargers, [&](const auto& o) { return o.part == s.charger; }) &&
         has(chosen.chains, [&](const auto& o) { return o.part == s.chain; }) &&
         has(chosen.fronts,
             [&](const auto& o) { return o.family == s.front && o.teeth == s.front_teeth; }) &&
         has(chosen.rears,
             [&](const auto& o) { return o.family == s.rear && o.teeth == s.rear_teeth; });
}

OutOfReach out_of_reach(const spec::Requirement& requirement, const Design& present, int teeth) {
  const double pitch = present.parts.chain->model.pitch;
  OutOfReach beyond;
  beyond.teeth = teeth;
  beyond.centre_distance =
      model::centre_distance(pitch, teeth, present.parts.rear_teeth, present.chain.fit->links)
          .value_or(model::kNone);
  const auto run =
      chain_run(requirement, present.parts.chain->model, teeth, present.parts.rear_teeth);
  if (run.fit) beyond.links = run.fit->links;
  return beyond;
}

std::size_t index_of(const Space& space, const FrontOption& front) {
  const auto found = std::ranges::find_if(space.fronts, [&](const FrontOption& o) {
    return o.family == front.family && o.teeth == front.teeth;
  });
  return static_cast<std::size_t>(found - space.fronts.begin());
}

}  // namespace

bool Swaps::any_other_holds() const {
  return std::ranges::any_of(
      swaps, [](const Swap& swap) { return !swap.present && swap.design.rejected_by().empty(); });
}

Swaps find_swaps(const spec::Job& job, const Setup& setup, const Space& space,
                 const Combination& combination) {
  const Space chosen = make_space(job);
  Swaps result;
  result.space = space;
  result.space.fronts = whole_catalogue(job).fronts;
  Combination other = combination;
  const std::size_t now = index_of(result.space, space.fronts[combination.front]);
  other.front = now;
  result.present = evaluate_design(setup, result.space, other);
  result.present.outside_choose = !is_chosen(chosen, result.present.parts);
  if (!result.present.chain.fit) return result;
  for (other.front = 0; other.front < result.space.fronts.size(); ++other.front) {
    const FrontOption& front = result.space.fronts[other.front];
    const bool own_family = front.family == result.present.parts.front;
    Design design = evaluate_design(setup, result.space, other, result.present.chain.fit->links);
    if (!design.chain.fit) {
      if (!own_family) continue;
      result.beyond.push_back(out_of_reach(*setup.requirement, result.present, front.teeth));
      continue;
    }
    if (!own_family && fits_worse(setup, design, result.present)) continue;
    design.outside_choose = !is_chosen(chosen, design.parts);
    result.swaps.push_back({std::move(design), front.price, other.front == now});
  }
  std::ranges::stable_sort(result.swaps, {}, [](const Swap& s) {
    return std::tuple(s.design.parts.front_teeth, std::string_view(s.design.parts.front->id));
  });
  return result;
}

}  // namespace sprocketry::search
