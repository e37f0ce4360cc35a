#pragma once

#include <string>
#include <vector>

#include "parts/changes.hpp"
#include "parts/load.hpp"
#include "search/stand_ins.hpp"

namespace sprocketry::search {

// A locked part as today's files have it.
struct PartDrift {
  enum class State { kSame, kChanged, kGone };
  std::string list;  // "motors"
  std::string name;
  State state = State::kSame;
  std::vector<parts::FieldChange> changes;
  bool owned = false;
  // Of a part that is gone:
  std::string nearest;   // the nearest name in its list, "" when none is near
  bool renamed = false;  // `nearest` has the very same data
  std::string missing;   // what is gone when it is not the whole entry: "12 teeth"
  std::vector<StandIn> stand_ins;

  // Nobody chose it, and nothing stands in for it: today's parts files say which a bike needs.
  [[nodiscard]] bool is_extra() const { return list == "extras"; }
  // Gone, and not in the workshop already.
  [[nodiscard]] bool unobtainable() const { return state == State::kGone && !owned; }
};

// Each of the parts that were kept (`then`) beside today's entry of its name. `owned` are the ids
// of the requirement.
std::vector<PartDrift> part_drifts(const std::vector<parts::WrittenPart>& then,
                                   const std::vector<parts::Default>& assumed_then,
                                   const parts::WrittenParts& now,
                                   const std::vector<parts::Default>& assumed_now,
                                   const std::vector<std::string>& owned);

}  // namespace sprocketry::search
