#pragma once

#include <ostream>

#include "report/json_writer.hpp"
#include "search/design.hpp"

namespace sprocketry::report {

// "charging": the whole charge from the wall and what riding costs; null without a charger.
void write_charging(JsonWriter& json, const search::Design& design);

// "7.4 h from the wall ... ", for one line of text; empty without a charger.
std::string charging_text(const search::Design& design, const spec::Requirement& requirement);

}  // namespace sprocketry::report
