#include "search/fit_counts.hpp"

#include <algorithm>

namespace sprocketry::search {
namespace {

// How many combinations pass the pairwise checks that are wanted.
template <typename Wanted>
Count passing(const Setup& setup, const Space& space, const Wanted& wanted) {
  Setup some = setup;
  const auto unwanted = [&](const rules::Check& check) { return !wanted(check); };
  std::erase_if(some.electrical, unwanted);
  std::erase_if(some.fit, unwanted);
  return make_compatible(some, space).combinations();
}

}  // namespace

std::vector<RuleCount> fit_counts(const Setup& setup, const Space& space, Count compatible) {
  std::vector<const rules::Rule*> asked;
  for (const auto* stage : {&setup.electrical, &setup.fit}) {
    for (const rules::Check& check : *stage) {
      if (asked.empty() || asked.back() != check.rule) asked.push_back(check.rule);
    }
  }
  std::vector<RuleCount> counts;
  for (const rules::Rule* rule : asked) {
    const auto is_this = [&](const rules::Check& check) { return check.rule == rule; };
    const auto is_other = [&](const rules::Check& check) { return check.rule != rule; };
    RuleCount& count = counts.emplace_back();
    count.rule = rule;
    count.rejects = space.combinations() - passing(setup, space, is_this);
    if (count.rejects > 0) count.alone = passing(setup, space, is_other) - compatible;
  }
  return counts;
}

}  // namespace sprocketry::search
