#pragma once

#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <vector>

#include "search/design.hpp"

namespace sprocketry::search {

// A pick made into one combination of a space that holds it.
struct Picked {
  Space space;  // the picked option alone in every slot, or the one that fits
  Combination combination;
  bool outside_choose = false;
};

// Turns picks ("motor=ID", "front_teeth=12", or a whole design id) into one combination. A slot
// left out is filled in when only one option of `choose` fits the rest by the pairwise rules. The
// error is a message for a person: an unknown slot or id with the nearest one, or the options of
// each slot that is still open. `option` is the word that was typed for the picks, for messages;
// empty when nobody typed them.
tl::expected<Picked, std::string> pick(const spec::Job& job, const Setup& setup,
                                       const std::vector<std::string>& picks,
                                       std::string_view option = "--pick");

}  // namespace sprocketry::search
