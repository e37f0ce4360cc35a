#pragma once

#include <optional>
#include <ostream>
#include <string>

#include "report/text.hpp"
#include "search/compare.hpp"
#include "search/upgrade.hpp"

namespace sprocketry::report {

// Two sides compared. `label` says what the person asked for ("specs/demo.yaml with ...").
struct CompareAnswer {
  std::string label_a;
  std::string label_b;
  const search::Side& a;
  const search::Side& b;
  const search::Comparison& comparison;
  const search::Running* running = nullptr;  // the bike of today, which is then side A
  std::string_view version;
};

// One sentence with the numbers that decide.
std::string verdict(const CompareAnswer& answer);

// For people: the two fronts, who beats whom, by budget, what the money buys, what must be bought,
// the verdict, the cautions.
void write_compare_text(std::ostream& out, const CompareAnswer& answer, Colour colour);

// Everything, with both fronts whole and the upgrade to every design of B when a bike runs today.
void write_compare_json(std::ostream& out, const CompareAnswer& answer);

// What must be bought and changed to get from the running bike to a design, for people.
void write_upgrade_text(std::ostream& out, const search::Upgrade& upgrade,
                        const std::string& currency);

}  // namespace sprocketry::report
