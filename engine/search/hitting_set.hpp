#pragma once

#include <cstdint>
#include <vector>

namespace sprocketry::search {

// A smallest set of bits that has a bit in common with each of the masks; of several the one found
// first in ascending order of bits. Each mask has at least one bit; no masks need no bit.
std::uint64_t smallest_hitting_set(std::vector<std::uint64_t> masks);

}  // namespace sprocketry::search
