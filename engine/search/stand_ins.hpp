#pragma once

#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "search/design.hpp"

namespace sprocketry::search {

// A design with one part exchanged.
struct StandIn {
  std::string part;        // "keld-200", "hub-420-78:12"
  std::string design;      // its id
  double movement = 0;     // mean share by which the figures move
  Money price_change = 0;  // of the whole design
  std::vector<std::string> rejected_by;
  std::vector<std::string> breaks;  // of these, what the design as it is does not break
};

// The mean share by which the metrics of the table move from one design to another; a metric that
// moves by more than itself, or exists in one of them only, counts as 1.
double movement(const spec::Metrics& from, const spec::Metrics& to);

// The best parts to put in place of one of a list ("motors", "cells", ...): at most `most`, those
// that break no rule first, then those that break none anew, then by how few they break anew and by
// how little the figures move, then by name. `space` has one
// option in each slot; of sprocket families the nearest tooth count stands for each. Parts named in
// `gone` are left out. Extras and tyres have no stand-ins.
std::vector<StandIn> stand_ins(const spec::Job& job, const Setup& setup, const Space& space,
                               const Design& design, std::string_view list,
                               const std::set<std::string, std::less<>>& gone, std::size_t most);

}  // namespace sprocketry::search
