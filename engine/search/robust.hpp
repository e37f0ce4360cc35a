#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "search/design.hpp"
#include "search/uncertain.hpp"
#include "search/watch.hpp"

namespace sprocketry::search {

inline constexpr std::size_t kLeastSamples = 16;
inline constexpr std::size_t kMostSamples = 16384;

struct RobustOptions {
  std::size_t samples = 1000;
  std::uint64_t seed = 1;  // of the shift of the points
  bool usual = true;       // assumed values have their usual spreads
  int threads = 0;         // 0: all
};

// How a rejecting rule, or one item of it, fares over the samples.
struct RobustCheck {
  rules::Check check;
  std::string about;       // the item, "" when there is one only
  bool holds = true;       // as stated
  double share = 1;        // of the samples in which it does not reject
  std::vector<double> by;  // per input, rank correlation with the margin (a rule that can not be
                           // checked counts as held, one without a margin as missed by far)
};

// How a metric fares, in its output unit. A value that does not exist counts as the worst.
struct RobustFigure {
  const spec::MetricInfo* metric = nullptr;
  double stated = model::kNone;
  double low = model::kNone;  // the quantiles of 10, 50 and 90 %
  double middle = model::kNone;
  double high = model::kNone;
  std::vector<double> by;  // per input, rank correlation
};

struct RobustDesign {
  std::string id;
  bool holds = true;                  // every rule, as stated
  double confidence = 1;              // share of the samples in which every rule holds
  std::vector<RobustCheck> checks;    // that were checked at least once, in published order
  std::vector<RobustFigure> figures;  // that exist at least once, in the order of the table
  // Per input, 0 to 1: the mean squared rank correlation with the margins of the checks that fail
  // in some samples, each weighted by how many; where none fails, with the objectives.
  std::vector<double> weights;
};

struct Robustness {
  std::vector<Uncertain> inputs;
  std::size_t samples = 0;
  std::size_t refused = 0;  // points that were passed over because they cannot be
  std::vector<RobustDesign> designs;
  bool stopped = false;  // before the end: nothing else in here counts
};

// What is wrong with the uncertain inputs, for a person: there are none, or too many.
std::optional<std::string> wrong_inputs(const std::vector<Uncertain>& inputs,
                                        const RobustOptions& options);
// That so many samples could be taken only, so many were refused, the first for that reason.
std::string too_wide(std::size_t taken, std::size_t refused, const std::string& why);

// How sure the figures of designs are: samples of all uncertain inputs at once, quasi-random, the
// same for every design, each computed as `evaluate` computes it with the sampled values in place
// of the stated ones. What was bought stays: parts, extras, tooth counts and the chain's links. A
// sample that the loaders refuse (a peak rating below the continuous one) is passed over and the
// next point taken. The answer does not depend on the number of threads. The error is a message for
// a person: nothing is uncertain, or the spreads are too wide or too many. `written` is what the
// job was loaded from, its diagnostics still alive. `watch` may stop it at any moment.
tl::expected<Robustness, std::string> robust(const spec::Job& job, const spec::WrittenJob& written,
                                             std::span<const rules::Selection> designs,
                                             const RobustOptions& options,
                                             const Watch* watch = nullptr);

}  // namespace sprocketry::search
