#pragma once

#include <memory>
#include <optional>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "search/search.hpp"
#include "spec/load.hpp"

namespace sprocketry::search {

// A bike that runs today: a design whose parts are there already.
struct Running {
  std::unique_ptr<spec::Job> job;
  Space space;
  Design design;
};
tl::expected<Running, std::string> make_running(std::unique_ptr<spec::Job> job,
                                                const std::vector<std::string>& picks);

// Whether both bikes have the same stage before the chain.
bool same_primary(const spec::Bike& a, const spec::Bike& b);

// Sets the prices of a space to what is still to be paid by somebody whose bike runs with these
// parts: nothing for a part of it (a chain that is not longer than its own, a sprocket of that
// family and tooth count with its fabrication), all else as it was.
void count_running(const Design& running, Space& space);

// One side of a comparison: what a requirement offers, which is its front, or one picked design.
struct Side {
  std::unique_ptr<spec::Job> job;
  Setup setup;
  Space space;
  Front front;  // of a pick: that design alone, whether or not a rule rejects it
  bool is_pick = false;
  std::vector<std::string> rejected_by;  // of a pick
  // The designs that may be best at some budget, where `front` cannot say so because price is none
  // of its aims; nothing where there is no room for a seventh aim.
  std::optional<Front> by_price;

  [[nodiscard]] Design design(std::size_t member) const;
};

// The side of a search (no picks) or of one pick. With `running` its parts count nothing, nor does
// its stage before the chain, and slots that the picks leave open stay as they are. `option` is the
// word that was typed for the picks, for messages.
tl::expected<Side, std::string> make_side(std::unique_ptr<spec::Job> job,
                                          const std::vector<std::string>& picks,
                                          const Running* running, int threads,
                                          std::string_view option = "--pick");

// The member of a front that gives away least: the least sum of distances from the best of each of
// `count` objectives, each in proportion to the objective's span over the front; of several the
// first. The front must not be empty.
std::size_t balanced_member(const Front& front, std::size_t count);

}  // namespace sprocketry::search
