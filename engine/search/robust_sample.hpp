#pragma once

#include <cstdint>
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

// Which designs of a plan share a motor, controller and pack, and which a drive with its links.
struct PlanIndex {
  struct Drive {
    std::size_t chain = 0, front = 0, rear = 0;
    std::optional<int> links;
  };
  std::vector<std::size_t> levels;      // the first design of each
  std::vector<Drive> drives;            //
  std::vector<std::uint32_t> level_of;  // per design
  std::vector<std::uint32_t> drive_of;  // per design
};
PlanIndex make_index(const Plan& plan);

// For each of some of the plan's designs 1 when every rejecting check holds in a sampled job, as
// evaluate_all() would say it, else 0; a design is dropped at the first check that fails.
std::vector<char> holds_in(const Plan& plan, const PlanIndex& index, const spec::Job& job,
                           std::span<const std::uint32_t> designs);

}  // namespace sprocketry::search
