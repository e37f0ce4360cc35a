#pragma once

#include <ostream>

#include "report/json_writer.hpp"
#include "search/design.hpp"

namespace sprocketry::report {

// What pulls at the chain and what it holds, as members of "chain": strength and pulls in N,
// the power that it carries at the fastest cruise (without one: at the continuous rating) and its
// published rating in kW, speeds of the front sprocket in rpm; null where there is no such figure.
void write_chain_load(JsonWriter& json, const search::Design& design);

// The same for people, in one line for the pull and one for the speed's variation.
void write_chain_load(std::ostream& out, const search::Design& design);

}  // namespace sprocketry::report
