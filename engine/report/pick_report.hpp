#pragma once

#include <ostream>
#include <vector>

#include "report/text.hpp"
#include "search/single_changes.hpp"
#include "spec/load.hpp"

namespace sprocketry::report {

// What `explain --pick` says of one design.
struct PickReport {
  const search::Design* design = nullptr;
  std::vector<model::ThrottleBand> bands;
  std::vector<search::Change> changes;  // all of one part
  std::vector<search::Mover> movers;    // indices into `changes`
  std::vector<std::size_t> repairs;     // of a design that breaks a rule
};

// How a limit of full throttle is called in files: "controller motor current".
std::string_view name_of(model::ThrottleLimit limit);

// For people, and as JSON (specs/schema/explain_pick.schema.json).
void write_pick_text(std::ostream& out, const PickReport& report, const spec::Job& job,
                     Colour colour);
void write_pick_json(std::ostream& out, const PickReport& report, const spec::Job& job);

}  // namespace sprocketry::report
