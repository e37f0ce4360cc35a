#pragma once

#include <optional>
#include <span>
#include <vector>

#include "rules/rule.hpp"
#include "search/sampled_job.hpp"

namespace sprocketry::search {

// What one sample says of one design.
struct Outcome {
  std::vector<double> metrics;  // per metric of the table, output unit
  std::vector<double> margins;  // per rejecting check; +infinity where it could not be checked
  std::vector<bool> rejects;    // per rejecting check
  std::vector<bool> checked;    // per rejecting check
};
using Sample = std::vector<Outcome>;  // per design

// What stays the same over the samples.
struct Plan {
  SampleSource source;
  std::vector<rules::Check> rejecting;
  std::vector<Combination> combinations;
  std::vector<std::optional<int>> links;  // of the chain that is bought
  std::vector<std::vector<bool>> extras;  // of the catalogue, which are bought
  Sample stated;                          // with every input as it is
};
Plan make_plan(const spec::Job& job, const spec::WrittenJob& written,
               std::span<const rules::Selection> designs);

// All designs of the plan in a sampled job: the same figures and findings as evaluate_design(),
// without what only a report of one design reads.
Sample evaluate_all(const Plan& plan, const spec::Job& job);

}  // namespace sprocketry::search
