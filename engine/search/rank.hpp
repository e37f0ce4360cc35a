#pragma once

#include <span>
#include <vector>

namespace sprocketry::search {

// The ranks of values, equal ones sharing the mean of theirs, moved and scaled so that they sum to
// 0 and their squares to 1; all 0 when all values are equal. No NaN. The scalar product of two is
// Spearman's rank correlation, -1 to 1.
std::vector<double> unit_ranks(std::span<const double> values);

double rank_correlation(std::span<const double> unit_ranks, std::span<const double> others);

// The value below which a share (0..1) of the sorted values lies, linear between two of them
// (Hyndman and Fan 1996, definition 7). At least one value; infinite ones give an infinite answer
// where they take part.
double quantile(std::span<const double> sorted, double share);

}  // namespace sprocketry::search
