#pragma once

#include <string>
#include <vector>

#include "document/node.hpp"
#include "parts/catalogue.hpp"

namespace sprocketry::parts {

// A field of an entry that says something else than before.
struct FieldChange {
  std::string field;  // "current.peak", "no_load.0.voltage"
  std::string from;   // as written; "not given", with what is assumed instead
  std::string to;
};

// An entry of a parts list as it was and as it is, and what was assumed where a field is left out
// (keys "motors.hollin-48.current.for", without the entry's own path).
struct EntryAt {
  const document::Node& node;
  std::vector<Default> assumed;
};

// Every field that means something else, in the order of the fields then, new ones last. Values are
// compared by what they measure, to 1 part in 10^12 (conversions round): "72 km/h" and "20 m/s" are
// the same, so are "yes" and "true", 12 and 12.0, {from: 12, to: 14} and [12, 13, 14], an amount
// and a {base} without a share per tooth, a list of words in another order, a default left out or
// written.
std::vector<FieldChange> field_changes(const EntryAt& then, const EntryAt& now);

// What was assumed of one entry, keys shortened to its fields.
std::vector<Default> assumed_of(const std::vector<Default>& all, const std::string& list,
                                const std::string& name);

}  // namespace sprocketry::parts
