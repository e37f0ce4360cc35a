#pragma once

#include <optional>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "search/robust.hpp"
#include "search/search.hpp"

namespace sprocketry::search {

// More feasible designs than this are refused: each is computed over the samples.
inline constexpr std::size_t kMostConfident = 200'000;

struct ConfidenceWork {
  const spec::Job& job;
  const spec::WrittenJob& written;  // what it was loaded from, its diagnostics still alive
  const Setup& setup;
  const Space& space;
};

// The front of the requirement's objectives and, as the last one, confidence: the share of samples
// in which every rule and demand holds, as robust() computes it for all feasible designs at once.
// Front::objectives has it, in negated percent, behind the others.
//
// Exact for these samples: every feasible design takes part. A design is left out early only when
// another is nowhere worse in the objectives, somewhere better, and can no longer be less
// confident: it has at least as many samples held as the first could still reach. The account is
// that of a search without confidence; Account::pruned stays 0. The answer does not depend on the
// number of threads. Nothing when `watch` (may be null) asked for an end. The error is a message
// for a person: as robust()'s, or too many feasible designs.
tl::expected<std::optional<Front>, std::string> search_confident(const ConfidenceWork& work,
                                                                 const RobustOptions& options,
                                                                 Watch* watch);

// A setup whose objectives have confidence as the last one, for reports of such a front.
Setup with_confidence(Setup setup);

}  // namespace sprocketry::search
