#pragma once

#include <cstdint>

#include "spec/load.hpp"

namespace sprocketry::test {

// A small random requirement with its catalogue: ties, twins, low grip, hills, owned parts, extras
// that switch on with voltage, demands on any metric, two to six objectives. The same seed gives
// the same job on every platform (own integer arithmetic, no library distributions).
spec::Job random_job(std::uint64_t seed);

}  // namespace sprocketry::test
