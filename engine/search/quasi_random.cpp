#include "search/quasi_random.hpp"

#include <boost/random/sobol.hpp>
#include <random>
#include <stdexcept>

namespace sprocketry::search {

std::vector<std::vector<double>> quasi_random(std::size_t count, std::size_t dimensions,
                                              std::uint64_t seed) {
  if (dimensions > kMostDimensions) throw std::invalid_argument("too many dimensions");
  std::vector<std::vector<double>> columns(dimensions, std::vector<double>(count));
  if (dimensions == 0) return columns;
  boost::random::sobol sequence(dimensions);
  std::mt19937_64 words(seed);
  std::vector<std::uint64_t> shifts;
  for (std::size_t d = 0; d < dimensions; ++d) shifts.push_back(words());
  constexpr unsigned kUnused = 11;  // bits that a double has no room for
  for (std::size_t i = 0; i < count; ++i) {
    for (std::size_t d = 0; d < dimensions; ++d) {
      // The library leaves out the first point, the origin, without which no 2^k points lie evenly.
      const std::uint64_t bits = (i == 0 ? 0 : sequence()) ^ shifts[d];
      columns[d][i] = (static_cast<double>(bits >> kUnused) + 0.5) * 0x1p-53;
    }
  }
  return columns;
}

}  // namespace sprocketry::search
