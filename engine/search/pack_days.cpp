#include "search/pack_days.hpp"

#include "model/constants.hpp"

namespace sprocketry::search {
namespace {

constexpr double kCold = model::kZeroCelsius;
constexpr double kAged = 0.8;

// The one combination as a space of its own, its pack's cells in that state.
Space single(const spec::Job& job, const Space& space, const Combination& c,
             const spec::Requirement& requirement) {
  Space one;
  one.requirement = &requirement;
  one.motors = {space.motors[c.motor]};
  one.controllers = {space.controllers[c.controller]};
  const PackOption& pack = space.packs[c.pack];
  one.packs = {{parts::make_pack_part(*job.catalogue.find_cell(pack.part.cell_id), pack.part.id,
                                      pack.part.model.series, pack.part.model.parallel,
                                      requirement.conditions.pack),
                pack.price}};
  one.chargers = {space.chargers[c.charger]};
  one.chains = {space.chains[c.chain]};
  one.fronts = {space.fronts[c.front]};
  one.rears = {space.rears[c.rear]};
  one.extras = space.extras;
  return one;
}

Design on_day(const spec::Job& job, const Space& space, const Combination& c,
              const model::CellState& state) {
  spec::Requirement requirement = job.requirement;
  requirement.conditions.pack = state;
  const Setup setup = make_setup(requirement);
  const Space one = single(job, space, c, requirement);
  Design design = evaluate_design(setup, one, Combination{});
  design.parts.pack = &space.packs[c.pack].part;
  return design;
}

}  // namespace

PackDays pack_days(const spec::Job& job, const Space& space, const Combination& c) {
  constexpr double kRated = model::kRatedTemperature;
  PackDays days{{{"new", {kRated, 1.0}, {}},
                 {"cold", {kCold, 1.0}, {}},
                 {"aged", {kRated, kAged}, {}},
                 {"cold and aged", {kCold, kAged}, {}}}};
  for (PackDay& day : days) day.design = on_day(job, space, c, day.state);
  return days;
}

}  // namespace sprocketry::search
