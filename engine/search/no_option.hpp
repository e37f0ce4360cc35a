#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "search/space.hpp"

namespace sprocketry::search {

// A slot that nothing can fill, and what to do about it.
struct NoOption {
  std::string_view slot;  // "front sprocket"
  std::string why;        // a clause that ends without a full stop
  std::string where;      // "Write under `choose`, for example"
  std::string what;       // lines of YAML to write there; "" when `where` says all
};

// The slots of the space of a job that have no option, in the order of a design's id; empty when
// there is something to combine.
std::vector<NoOption> slots_without_option(const spec::Job& job, const Space& space);

// The same as lines for a person, the first one "no option for: pack"; "" when there is none.
std::string no_option_text(const spec::Job& job, const Space& space);

}  // namespace sprocketry::search
