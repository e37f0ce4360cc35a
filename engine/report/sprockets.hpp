#pragma once

#include <ostream>

#include "report/json_writer.hpp"
#include "rules/hub.hpp"
#include "search/design.hpp"

namespace sprocketry::report {

// The sprocket and hub numbers of a design.
rules::SprocketNumbers sprocket_numbers(const search::Design& design,
                                        const spec::Requirement& requirement);

// "sprockets" and "hub" of a design: sizes in mm, stresses in MPa, torques in N m; null where a
// field that it takes is not given.
void write_sprockets(JsonWriter& json, const search::Design& design,
                     const spec::Requirement& requirement);

// The same for people, beyond what the lines on the gearing say.
void write_sprocket_work(std::ostream& out, const search::Design& design,
                         const spec::Requirement& requirement);

}  // namespace sprocketry::report
