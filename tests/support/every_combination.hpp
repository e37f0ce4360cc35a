#pragma once

#include <cstddef>

#include "search/design.hpp"

namespace sprocketry::test {

// Visits every combination of the product, whatever rule rejects it, in the order of the options.
template <typename Visit>
void every_combination(const search::Space& s, const Visit& visit) {
  for (std::size_t m = 0; m < s.motors.size(); ++m)
    for (std::size_t c = 0; c < s.controllers.size(); ++c)
      for (std::size_t p = 0; p < s.packs.size(); ++p)
        for (std::size_t h = 0; h < s.chargers.size(); ++h)
          for (std::size_t k = 0; k < s.chains.size(); ++k)
            for (std::size_t f = 0; f < s.fronts.size(); ++f)
              for (std::size_t r = 0; r < s.rears.size(); ++r)
                visit(search::Combination{m, c, p, h, k, f, r});
}

}  // namespace sprocketry::test
