// The search against the plainest possible one: every combination of the product evaluated whole,
// each counted under the first rule that rejects it, then every pair compared.

#include "search/search.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>
#include <string>

#include "exactness/random_job.hpp"
#include "search/design.hpp"
#include "support/every_combination.hpp"

namespace sprocketry::test {
namespace {

using search::Combination;

struct Plain {
  std::vector<std::pair<std::string, std::vector<double>>> front;  // id, objectives as printed
  std::map<std::string, std::uint64_t> rejected;
  std::uint64_t combinations = 0;
  std::uint64_t passed = 0;
};

bool dominates(const std::vector<double>& a, const std::vector<double>& b,
               const std::vector<const spec::MetricInfo*>& objectives) {
  bool better = false;
  for (std::size_t i = 0; i < objectives.size(); ++i) {
    const bool lower = objectives[i]->better == spec::Better::kLower;
    if (lower ? a[i] > b[i] : a[i] < b[i]) return false;
    if (a[i] != b[i]) better = true;
  }
  return better;
}

Plain plain_search(const search::Setup& setup, const search::Space& space) {
  Plain result;
  std::vector<std::pair<std::string, std::vector<double>>> passing;
  every_combination(space, [&](const Combination& combination) {
    ++result.combinations;
    const search::Design design = search::evaluate_design(setup, space, combination);
    const auto rejected_by = design.rejected_by();
    if (!rejected_by.empty()) {
      ++result.rejected[std::string(rejected_by.front())];
      return;
    }
    ++result.passed;
    std::vector<double> objectives;
    for (const auto* info : setup.objectives) objectives.push_back(info->value(design.metrics));
    passing.emplace_back(rules::design_id(design.parts), objectives);
  });
  for (const auto& candidate : passing) {
    bool beaten = false;
    for (const auto& other : passing) {
      beaten = beaten || dominates(other.second, candidate.second, setup.objectives);
    }
    if (!beaten) result.front.push_back(candidate);
  }
  std::ranges::sort(result.front);
  return result;
}

std::vector<std::string> ids(const search::Setup& setup, const search::Space& space,
                             const search::Front& front) {
  std::vector<std::string> list;
  for (const Combination& c : front.members) {
    list.push_back(rules::design_id(search::evaluate_design(setup, space, c).parts));
  }
  return list;
}

int cases() {
  // The full count is for a release; see tests/README.md.
  const char* asked = std::getenv("SPROCKETRY_EXACTNESS_CASES");
  return asked ? std::atoi(asked) : 2000;
}

// Searches the space and holds front and account against the plain search's.
void expect_as_plain(const search::Setup& setup, const search::Space& space, const Plain& plain,
                     int threads) {
  const search::Front front = search::search(setup, space, threads);
  ASSERT_EQ(static_cast<std::uint64_t>(front.account.combinations), plain.combinations);
  ASSERT_EQ(static_cast<std::uint64_t>(front.account.evaluated), plain.passed);
  for (std::size_t rule = 0; rule < front.account.rejected.size(); ++rule) {
    const std::string name(rules::rule_table()[rule].name);
    const auto counted = plain.rejected.find(name);
    ASSERT_EQ(static_cast<std::uint64_t>(front.account.rejected[rule]),
              counted == plain.rejected.end() ? std::uint64_t{0} : counted->second)
        << name;
  }
  std::vector<std::string> expected;
  for (const auto& member : plain.front) expected.push_back(member.first);
  std::vector<std::string> found = ids(setup, space, front);
  std::ranges::sort(found);
  ASSERT_EQ(found, expected);
}

TEST(Exactness, SearchFindsWhatEveryPairComparedFinds) {
  std::uint64_t fronts = 0;
  std::uint64_t members = 0;
  std::uint64_t too_strong = 0;
  for (int i = 0; i < cases(); ++i) {
    SCOPED_TRACE("seed " + std::to_string(i));
    const spec::Job job = random_job(static_cast<std::uint64_t>(i));
    const search::Setup setup = search::make_setup(job.requirement);
    const search::Space space = search::make_space(job);
    const Plain plain = plain_search(setup, space);
    ASSERT_NO_FATAL_FAILURE(expect_as_plain(setup, space, plain, 1 + i % 2));
    if (const auto pulled = plain.rejected.find("chain peak pull");
        pulled != plain.rejected.end()) {
      too_strong += pulled->second;
    }
    if (!plain.front.empty()) ++fronts;
    members += plain.front.size();
  }
  // Random spaces that are all infeasible would prove nothing.
  EXPECT_GT(static_cast<int>(fronts) * 8, cases());
  EXPECT_GT(members, fronts);
  EXPECT_GT(too_strong, fronts);
}

// The ranges of all that meets every rule but that of the range, which was left out.
std::vector<double> ranges(const search::Setup& setup, const search::Space& space) {
  std::vector<double> result;
  every_combination(space, [&](const Combination& combination) {
    const search::Design design = search::evaluate_design(setup, space, combination);
    const double range = design.metrics.performance.range;
    if (design.rejected_by().empty() && std::isfinite(range)) result.push_back(range);
  });
  return result;
}

// A demand for range is settled by bounds where they tell; here it lies where they do not.
TEST(Exactness, DemandsForARangeThatSomeBikeJustHasAreAsEveryPairCompared) {
  const std::vector<double> nudges = {0, 1e-12, -1e-12, 1e-7, -1e-7, 0.003, -0.003, 0.02, -0.02};
  int asked = 0;
  int rejecting = 0;
  for (int i = 0; i < cases() / 4; ++i) {
    SCOPED_TRACE("seed " + std::to_string(i));
    spec::Job job = random_job(static_cast<std::uint64_t>(i));
    job.requirement.must.range.reset();
    const search::Space space = search::make_space(job);
    const std::vector<double> all = ranges(search::make_setup(job.requirement), space);
    if (all.empty()) continue;
    const auto at = static_cast<std::size_t>(i);
    job.requirement.must.range = all[at % all.size()] * (1 + nudges[at % nudges.size()]);
    const search::Setup setup = search::make_setup(job.requirement);
    const Plain plain = plain_search(setup, space);
    ASSERT_NO_FATAL_FAILURE(expect_as_plain(setup, space, plain, 1));
    ++asked;
    rejecting += plain.rejected.contains("must range") ? 1 : 0;
  }
  EXPECT_GT(asked, cases() / 20);
  EXPECT_GT(rejecting, asked / 3);
}

TEST(Exactness, ThreadsDoNotChangeFrontOrAccount) {
  for (int i = 0; i < 200; ++i) {
    SCOPED_TRACE("seed " + std::to_string(i));
    const spec::Job job = random_job(static_cast<std::uint64_t>(i));
    const search::Setup setup = search::make_setup(job.requirement);
    const search::Space space = search::make_space(job);
    const search::Front one = search::search(setup, space, 1);
    const search::Front four = search::search(setup, space, 4);
    ASSERT_EQ(ids(setup, space, one), ids(setup, space, four));
    ASSERT_EQ(one.account.rejected, four.account.rejected);
  }
}

}  // namespace
}  // namespace sprocketry::test
