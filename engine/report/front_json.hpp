#pragma once

#include <optional>
#include <ostream>
#include <string>
#include <string_view>

#include "report/design_json.hpp"
#include "search/search.hpp"
#include "search/slice.hpp"

namespace sprocketry::report {

// A searched job with all that its reports read. References must outlive it.
struct Result {
  const spec::Job& job;
  const search::Setup& setup;
  const search::Space& space;
  const search::Front& front;
};

// Of which slice of which question a front is.
struct SliceNote {
  search::Slice slice;
  std::string question;  // digest of all that the answer depends on
};

// How many members a front has, and how many of them or beside them are listed.
struct Sizes {
  std::size_t front = 0;
  std::optional<std::size_t> near = {};
  std::optional<std::size_t> kept = {};
};
// "count": the account of all combinations.
void write_count(JsonWriter& json, const search::Account& account, bool exact, const Sizes& sizes);

// Share in % of the combinations that pass the pairwise rules which a stopped search has rejected,
// evaluated or shown to be worse.
double settled_percent(const search::Account& account);

// Members of the whole front, also where only some were kept.
std::size_t whole_front(const search::Front& front);

// A member's confidence in percent; NaN where it is no objective.
double confidence(const Result& result, std::size_t member);

// The whole front as one JSON document, streamed: some designs are evaluated and written at a time,
// on so many threads (0: one for each core). With `slice` it also holds what merge_in() needs.
void write_front_json(std::ostream& out, const Result& result, std::string_view version,
                      RuleRows rows, const SliceNote* slice = nullptr, int threads = 1);

}  // namespace sprocketry::report
