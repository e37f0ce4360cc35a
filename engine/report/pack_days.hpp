#pragma once

#include <ostream>

#include "report/json_writer.hpp"
#include "report/text.hpp"
#include "search/pack_days.hpp"

namespace sprocketry::report {

// "pack_days": what the design does with its pack new, cold, aged.
void write_pack_days(JsonWriter& json, const search::PackDays& days);

// The same as columns of a table.
struct PackDayTable {
  std::vector<Column> columns;
  std::vector<std::vector<std::string>> rows;
};
PackDayTable pack_day_table(const search::PackDays& days, const spec::Job& job);

// The table with a line that says what it rests on.
void write_pack_days_text(std::ostream& out, const search::PackDays& days, const spec::Job& job,
                          Colour colour);

// ", the cells at 5 degC and at 90 % of their capacity" behind what is led in by `before` (", the
// cells "); "" for new ones at their rated temperature.
std::string pack_state_text(const model::CellState& state, const std::string& before);

// One sentence: what cold and age are computed with.
std::string pack_day_note();

}  // namespace sprocketry::report
