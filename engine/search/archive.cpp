#include "search/archive.hpp"

#include <algorithm>

#include "search/front_of.hpp"

namespace sprocketry::search {

bool dominates(const Member& a, const Member& b, std::size_t count) {
  bool better = false;
  for (std::size_t i = 0; i < count; ++i) {
    if (a.objectives[i] > b.objectives[i]) return false;
    better = better || a.objectives[i] < b.objectives[i];
  }
  return better;
}

void Archive::offer(const Member& member) {
  constexpr std::size_t kLeast = 256;
  if (dominated(member.objectives.data())) return;
  members_.push_back(member);
  forest_.add(member.objectives.data());
  if (members_.size() - settled_ >= std::max(kLeast, settled_)) settle();
}

void Archive::merge(const Archive& other) {
  for (const Member& member : other.members_) offer(member);
}

const std::vector<Member>& Archive::members() {
  if (members_.size() > settled_) settle();
  return members_;
}

void Archive::settle() {
  std::vector<std::vector<double>> columns(objectives_);
  std::vector<const double*> pointers;
  for (std::size_t i = 0; i < objectives_; ++i) {
    columns[i].reserve(members_.size());
    for (const Member& member : members_) columns[i].push_back(member.objectives[i]);
    pointers.push_back(columns[i].data());
  }
  std::vector<Member> front;
  for (const std::uint32_t place : front_of(pointers, members_.size())) {
    front.push_back(members_[place]);
  }
  const auto differ = [&](const Member& a, const Member& b) {
    return !std::equal(a.objectives.begin(),
                       a.objectives.begin() + static_cast<std::ptrdiff_t>(objectives_),
                       b.objectives.begin());
  };
  for (auto first = front.begin(); first != front.end();) {
    const auto last = std::find_if(first, front.end(),
                                   [&](const Member& member) { return differ(*first, member); });
    std::sort(first, last, [](const Member& a, const Member& b) { return a.key < b.key; });
    first = last;
  }
  members_ = std::move(front);
  settled_ = members_.size();
  std::vector<double> values;
  values.reserve(settled_ * objectives_);
  for (const Member& member : members_) {
    values.insert(values.end(), member.objectives.begin(),
                  member.objectives.begin() + static_cast<std::ptrdiff_t>(objectives_));
  }
  forest_.assign(values);
}

}  // namespace sprocketry::search
