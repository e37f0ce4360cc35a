#pragma once

#include <string>
#include <string_view>

#include "document/node.hpp"

// What a person should write in place of what a Reader cannot take.
namespace sprocketry::parts {

// Where a map should stand: with the example "{max: 3500}" and the 4500 that was found,
// "write `price: {max: 4500}`"; an example of several keys does not say which of them was meant.
std::string map_hint(const document::Node& found, std::string_view key, std::string_view example);

// For an entry and the one before it in its map: "{max: 4,500}" has the keys `max` and `500`. ""
// where no comma cut a number in two.
std::string comma_hint(const document::Entry& before, const document::Entry& entry);

// For a column of a table that a row leaves empty or that is not there.
std::string table_hint(const std::string& column, std::string_view example);

}  // namespace sprocketry::parts
