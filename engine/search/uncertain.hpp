#pragma once

#include <span>
#include <string>
#include <vector>

#include "rules/selection.hpp"
#include "spec/load.hpp"

namespace sprocketry::search {

// An input that varies, and how.
struct Uncertain {
  parts::Input input;
  spec::Spread spread;
  bool usual = false;  // the spread is not stated: the usual one of a value that was assumed
};

// What the reader of a result is told about the usual spreads.
inline constexpr const char* kUsualSource = "common practice, no source";

// The inputs of a job that are uncertain and that one of these designs reads: those that `spread`
// names and, if `usual`, those that were assumed and have a usual spread. Inputs of the requirement
// first, then of parts, each by path.
std::vector<Uncertain> find_uncertain(const spec::Job& job, std::span<const parts::Input> inputs,
                                      std::span<const rules::Selection> designs, bool usual);

// Whether a design reads it: an input of the requirement, or of one of its parts or of an extra.
bool concerns(const parts::Input& input, const rules::Selection& design);

// The values of an input at such shares (inside (0, 1)) of its distribution. The distribution is
// cut off at what the input may be at all, what is cut off being spread over the rest in
// proportion: as if impossible values were drawn again.
std::vector<double> values_at(const Uncertain& uncertain, std::span<const double> shares);

}  // namespace sprocketry::search
