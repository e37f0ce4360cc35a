#pragma once

#include <map>
#include <optional>
#include <vector>

#include "search/design.hpp"

namespace sprocketry::search {

// The order of ids: what decides between designs that are equal otherwise.
bool comes_first(const Combination& a, const Combination& b);

// A design by the value of one demand and the value of one aim, both so that less is better.
struct Tradeoff {
  double demand = 0;
  double aim = 0;
  Combination design;
};

// What giving way in one demand buys in one aim: of all that was added, the designs that none
// betters in both values, ascending in the demand's. Of equal designs the first by id is kept, so
// that the order in which they are added does not matter.
class Gains {
 public:
  void add(const Tradeoff& next);
  void add(const Gains& other);

  // The first step whose aim is less than `aim`: the least relaxation that buys anything.
  [[nodiscard]] std::optional<Tradeoff> first_below(double aim) const;
  // The least aim that a demand's value of at most `demand` buys, if any step is within it.
  [[nodiscard]] std::optional<Tradeoff> within(double demand) const;
  // The least aim of all.
  [[nodiscard]] std::optional<Tradeoff> last() const;

 private:
  struct Step {
    double aim = 0;
    Combination design;
  };
  std::map<double, Step> steps_;  // by the demand's value; the aim falls along it
};

}  // namespace sprocketry::search
