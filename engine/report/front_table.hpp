#pragma once

#include <string>
#include <vector>

#include "report/front_json.hpp"
#include "report/text.hpp"

namespace sprocketry::report {

// A front as a table for people: number, objectives, other speeds, gearing, parts.
struct FrontTable {
  std::vector<Column> columns;
  std::vector<std::vector<std::string>> rows;  // one per member asked for
  // "charger tidal-4, chain linkage-420": parts that all of these members share and that therefore
  // have no column. Empty for one member.
  std::string shared;
};

// The table of some members (indices). Each is evaluated for it.
FrontTable front_table(const Result& result, const std::vector<std::size_t>& members);

}  // namespace sprocketry::report
