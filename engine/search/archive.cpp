#include "search/archive.hpp"

#include <algorithm>
#include <utility>

namespace sprocketry::search {

bool dominates(const Member& a, const Member& b, std::size_t count) {
  bool better = false;
  for (std::size_t i = 0; i < count; ++i) {
    if (a.objectives[i] > b.objectives[i]) return false;
    better = better || a.objectives[i] < b.objectives[i];
  }
  return better;
}

bool Archive::dominates(const Member& a, const Member& b) const {
  return search::dominates(a, b, objectives_);
}

void Archive::offer(const Member& member) {
  for (std::size_t i = 0; i < members_.size(); ++i) {
    if (!dominates(members_[i], member)) continue;
    // One that dominates much is asked early: neighbours in the search are alike.
    std::swap(members_[i], members_[i / 2]);
    return;
  }
  std::erase_if(members_, [&](const Member& kept) { return dominates(member, kept); });
  members_.push_back(member);
}

bool Archive::dominated(const double* values) const {
  Member member;
  std::copy_n(values, objectives_, member.objectives.begin());
  return std::ranges::any_of(members_, [&](const Member& m) { return dominates(m, member); });
}

void Archive::merge(const Archive& other) {
  for (const Member& member : other.members_) offer(member);
}

}  // namespace sprocketry::search
