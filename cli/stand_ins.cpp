#include "stand_ins.hpp"

#include <algorithm>

#include "commands.hpp"
#include "complain.hpp"
#include "options.hpp"
#include "picks.hpp"
#include "report/alternatives.hpp"

namespace sprocketry::cli {
namespace {

// The place of a design in a space, which may lack it.
std::optional<search::Combination> place_of(const search::Space& space,
                                            const rules::Selection& parts) {
  const auto index = [](const auto& options, const auto& is) {
    return static_cast<std::size_t>(std::ranges::find_if(options, is) - options.begin());
  };
  search::Combination c;
  c.motor = index(space.motors, [&](const auto& o) { return o.part == parts.motor; });
  c.controller =
      index(space.controllers, [&](const auto& o) { return o.part == parts.controller; });
  c.pack = index(space.packs, [&](const auto& o) { return o.part.id == parts.pack->id; });
  c.charger = index(space.chargers, [&](const auto& o) { return o.part == parts.charger; });
  c.chain = index(space.chains, [&](const auto& o) { return o.part == parts.chain; });
  c.front = index(space.fronts, [&](const auto& o) {
    return o.family == parts.front && o.teeth == parts.front_teeth;
  });
  c.rear = index(space.rears, [&](const auto& o) {
    return o.family == parts.rear && o.teeth == parts.rear_teeth;
  });
  const bool there = c.motor < space.motors.size() && c.controller < space.controllers.size() &&
                     c.pack < space.packs.size() && c.charger < space.chargers.size() &&
                     c.chain < space.chains.size() && c.front < space.fronts.size() &&
                     c.rear < space.rears.size();
  return there ? std::optional(c) : std::nullopt;
}

}  // namespace

int write_stand_ins(Output& output, const spec::Job& job, const search::Setup& setup,
                    const search::Space& space, const StandIns& options) {
  constexpr std::size_t kNearest = 3;
  const auto choice = picked(job, setup, {options.id}, "--stand-ins");
  if (!choice) return kBadInput;
  const search::Design wanted = search::evaluate_design(setup, choice->space, choice->combination);
  const auto place = place_of(space, wanted.parts);
  if (!place) {
    complain("--stand-ins: the requirement's `choose` leaves out a part of " + options.id);
    return kBadInput;
  }
  const search::Design design = search::evaluate_design(setup, space, *place);
  const auto list = search::find_alternatives(setup, space, *place, kNearest, options.threads);
  if (options.format == "json") {
    report::write_alternatives_json(output.stream(), design, list, setup, job,
                                    rule_rows(options.rules));
  } else {
    report::write_alternatives_text(output.stream(), design, list, setup, job, output.colour());
  }
  return output.finish(kDone);
}

}  // namespace sprocketry::cli
