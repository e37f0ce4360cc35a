#pragma once

#include <ostream>
#include <span>
#include <string>
#include <vector>

#include "report/text.hpp"
#include "search/robust.hpp"

namespace sprocketry::report {

// An answer of `robust` with what its reports read. References must outlive it.
struct RobustAnswer {
  const spec::Job& job;
  std::span<const rules::Selection> designs;
  const search::Robustness& robustness;
  std::size_t front = 0;  // members of the front that the designs are of; 0: one that was picked
};

// The measurable inputs that matter most: indices of those whose weight (see RobustDesign) is at
// least a twentieth, at most `most`, the largest first.
std::vector<std::size_t> measure_first(const search::Robustness& robustness,
                                       std::span<const double> weights, std::size_t most);

// Assumed values of what the designs read that do not vary.
std::vector<parts::Default> held_fixed(const RobustAnswer& answer);

// The spreads that the requirement states of parts that none of the designs has.
std::vector<std::string> unused_spreads(const RobustAnswer& answer);

// For people: of several designs a table and what to measure first, of one every rule and figure.
void write_robust_text(std::ostream& out, const RobustAnswer& answer, Colour colour);
void write_robust_json(std::ostream& out, const RobustAnswer& answer);

}  // namespace sprocketry::report
