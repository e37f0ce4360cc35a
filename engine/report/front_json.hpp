#pragma once

#include <ostream>
#include <string_view>

#include "report/design_json.hpp"
#include "search/search.hpp"

namespace sprocketry::report {

// A searched job with all that its reports read. References must outlive it.
struct Result {
  const spec::Job& job;
  const search::Setup& setup;
  const search::Space& space;
  const search::Front& front;
};

// Share in % of the combinations that pass the pairwise rules which a stopped search has rejected,
// evaluated or shown to be worse.
double settled_percent(const search::Account& account);

// Members of the whole front, also where only some were kept.
std::size_t whole_front(const search::Front& front);

// The parts of every member, in the front's order.
std::vector<rules::Selection> selections(const search::Space& space, const search::Front& front);

// The whole front as one JSON document, streamed: one design is evaluated and written at a time.
void write_front_json(std::ostream& out, const Result& result, std::string_view version,
                      RuleRows rows);

}  // namespace sprocketry::report
