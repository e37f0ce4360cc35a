#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "search/design.hpp"
#include "search/watch.hpp"

namespace sprocketry::search {

// Evaluates every combination that passes the pairwise rules, in ascending order of the slots' ids,
// with so many threads (0: all), and hands each one's text to `write` in that order. `format`
// appends a design's text and is called from several threads at once. Ends early, with whole texts
// in that order and no gap, when `write` returns false or the watch stops it; false when it did.
bool enumerate(const Setup& setup, const Space& space, int threads,
               const std::function<void(const Design&, std::string&)>& format,
               const std::function<bool(std::string_view)>& write, const Watch* watch = nullptr);

}  // namespace sprocketry::search
