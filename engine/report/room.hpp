#pragma once

#include <ostream>

#include "report/json_writer.hpp"
#include "search/design.hpp"

namespace sprocketry::report {

// How the cells stand in the frame's rooms: a member "room", null when a size is not stated.
void write_room(JsonWriter& json, const search::Design& design,
                const spec::Requirement& requirement);
// The same for people; nothing when a size is not stated.
void write_room_text(std::ostream& out, const search::Design& design,
                     const spec::Requirement& requirement);

}  // namespace sprocketry::report
