#include "search/part_drift.hpp"

#include <algorithm>

namespace sprocketry::search {
namespace {

// Whether two entries are the same but for their names.
bool same_but_name(const parts::WrittenPart& a, const parts::WrittenPart& b) {
  const auto nameless = [](document::Node node) {
    std::erase_if(node.entries, [](const document::Entry& entry) { return entry.key == "id"; });
    return node;
  };
  const document::Node one = nameless(a.node);
  const document::Node other = nameless(b.node);
  return parts::field_changes({one, {}}, {other, {}}).empty();
}

void find_nearest(const parts::WrittenPart& part, const std::vector<parts::WrittenPart>& today,
                  PartDrift& drift) {
  std::vector<std::string_view> names;
  for (const parts::WrittenPart& other : today) {
    if (other.list != part.list) continue;
    names.push_back(other.name);
    if (drift.renamed || !same_but_name(part, other)) continue;
    drift.nearest = other.name;
    drift.renamed = true;
  }
  if (drift.renamed) return;
  // A name that goes on, or was cut, is nearest: "hollin-48" and "hollin-48-mk2".
  const auto goes_on = std::ranges::find_if(names, [&](std::string_view name) {
    return name.starts_with(part.name) || part.name.starts_with(name);
  });
  const auto near = document::nearest(part.name, names);
  if (goes_on != names.end()) {
    drift.nearest = *goes_on;
  } else if (near) {
    drift.nearest = *near;
  }
}

bool is_owned(const std::vector<std::string>& owned, const std::string& name) {
  return std::ranges::any_of(
      owned, [&](const std::string& id) { return id == name || id.starts_with(name + ':'); });
}

}  // namespace

std::vector<PartDrift> part_drifts(const std::vector<parts::WrittenPart>& then,
                                   const std::vector<parts::Default>& assumed_then,
                                   const parts::WrittenParts& now,
                                   const std::vector<parts::Default>& assumed_now,
                                   const std::vector<std::string>& owned) {
  std::vector<PartDrift> drifts;
  for (const parts::WrittenPart& part : then) {
    PartDrift drift;
    drift.list = part.list;
    drift.name = part.name;
    drift.owned = is_owned(owned, part.name);
    if (const parts::WrittenPart* today = now.find(part.list, part.name)) {
      drift.changes =
          parts::field_changes({part.node, parts::assumed_of(assumed_then, part.list, part.name)},
                               {today->node, parts::assumed_of(assumed_now, part.list, part.name)});
      if (!drift.changes.empty()) drift.state = PartDrift::State::kChanged;
    } else {
      drift.state = PartDrift::State::kGone;
      find_nearest(part, now.entries, drift);
    }
    drifts.push_back(std::move(drift));
  }
  return drifts;
}

}  // namespace sprocketry::search
