#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "model/throttle_bands.hpp"
#include "search/design.hpp"

namespace sprocketry::search {

// A design with another option in one slot, all else as it is; the chain gets the links it needs.
struct Change {
  std::string_view slot;        // "motor", ..., "front_sprocket"
  std::string from;             // "keld-150", "hub-420-78:12"
  std::string to;               //
  std::string design;           // its id
  Money price_change = 0;       // of the whole design
  std::vector<double> figures;  // of spec::metric_table() in output units; NaN: does not exist
  std::vector<std::string> rejected_by;
};

// Every change of one slot to another option of `space`, slot by slot in the order of options.
// `design` is the combination of `picked`.
std::vector<Change> single_changes(const Setup& setup, const Space& space, const Space& picked,
                                   const Combination& combination, const Design& design);

// A smaller change than this share of a figure goes unnoticed; our choice.
inline constexpr double kNoticed = 0.01;

// Which change betters one figure by at least kNoticed and breaks no rule: indices into a list of
// changes.
struct Mover {
  const spec::MetricInfo* metric = nullptr;
  double now = 0;                       // output unit; NaN: does not exist
  std::optional<std::size_t> cheapest;  // of equal prices the one that betters it more
  std::optional<std::size_t> furthest;  // of equal figures the cheaper one
};
// One per metric of spec::metric_table(), in that order.
std::vector<Mover> movers(const Design& design, const std::vector<Change>& changes);

// The changes that break no rule, the cheapest first, of equal prices in the order of the list; at
// most `most`. What a design that breaks a rule needs.
std::vector<std::size_t> repairs(const std::vector<Change>& changes, std::size_t most);

// What holds a design's full throttle back, from rest to its top speed.
std::vector<model::ThrottleBand> throttle_bands(const Setup& setup, const Space& space,
                                                const Combination& combination,
                                                const Design& design);

}  // namespace sprocketry::search
