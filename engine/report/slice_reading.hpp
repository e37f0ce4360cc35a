#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "document/json.hpp"
#include "report/part_ids.hpp"
#include "search/search.hpp"
#include "search/slice.hpp"

namespace sprocketry::report {

struct SliceMember {
  std::array<double, search::kMostObjectives> costs{};  // higher-is-better objectives negated
  PartIds parts;
  std::string_view text;  // as it stands in the document
};

struct SliceObjective {
  std::string name;
  std::string unit;
  bool lower_is_better = true;

  friend bool operator==(const SliceObjective&, const SliceObjective&) = default;
};

// What `search --slice --format json` wrote, read back. Views point into the source.
struct SliceFront {
  document::JsonNode root;
  search::Slice slice;
  std::string question;
  bool exact = true;
  search::Account account;
  std::vector<SliceObjective> objectives;
  std::vector<SliceMember> members;
  std::map<std::string_view, std::string_view> cells;  // of the packs
};

// Reads it. Everything that merging relies on is checked: counts that add up, a number for each
// objective of each member. Nothing is returned when an error was reported.
std::optional<SliceFront> read_slice_front(const document::Source& source,
                                           document::Diagnostics& diagnostics);

}  // namespace sprocketry::report
