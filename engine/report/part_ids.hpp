#pragma once

#include <compare>
#include <optional>
#include <set>
#include <string>
#include <string_view>

#include "rules/selection.hpp"

namespace sprocketry::report {

// A design by the ids of its parts, in the order in which equally good designs stand on a front.
struct PartIds {
  std::string motor, controller, pack;
  std::string charger;  // rules::kNoCharger for none
  std::string chain;
  std::string front;
  int front_teeth = 0;
  std::string rear;
  int rear_teeth = 0;

  // NOLINTNEXTLINE(modernize-use-nullptr): the check mistakes the comparison with 0 for a pointer.
  friend auto operator<=>(const PartIds&, const PartIds&) = default;
};

PartIds part_ids(const rules::Selection& parts);
// Of a design's id; nothing when it is none.
std::optional<PartIds> part_ids(std::string_view design_id);
// The same id again.
std::string design_id(const PartIds& parts);

// Which of the catalogue's defaults ("motors.hollin-48.rotor_inertia") are of parts in use.
class PartsInUse {
 public:
  // `cell` is that of the pack.
  void add(const PartIds& parts, std::string_view cell);
  [[nodiscard]] bool has_default(std::string_view key) const;

 private:
  std::set<std::string, std::less<>> prefixes_;
};

// Whether a default is a part's and not the requirement's.
bool is_of_a_part(std::string_view key);

}  // namespace sprocketry::report
