#pragma once

#include <cstddef>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "document/node.hpp"

namespace sprocketry::document {

// A table read from CSV (RFC 4180: commas, double quotes, quoted line ends; a UTF-8 byte order mark
// and any of LF, CR LF and CR are accepted; lines that begin with '#' and lines of nothing but
// blanks and commas are skipped). The first row names the columns. Blanks around a quoted cell are
// allowed; a quote inside a cell that does not begin with one is an ordinary character.
struct CsvTable {
  struct Cell {
    std::string text;  // surrounding blanks removed unless quoted
    Mark mark;         // of the first character, or of the opening quote
    bool quoted = false;
  };
  std::vector<Cell> header;
  std::vector<std::vector<Cell>> rows;  // every row as long as the header
};

// Reports (and returns nothing for) a file that cannot be read, is empty, has an unterminated
// quote or text behind a closing one, a row longer or shorter than the header, a column named twice
// or without a name, more than 1000 columns, bytes that are not text or more than kMaxFileSize of
// them. `mentioned` is the place that names the file.
std::optional<CsvTable> load_csv(const std::filesystem::path& path, const std::string& shown_name,
                                 const Mark& mentioned, Diagnostics& diagnostics);
std::optional<CsvTable> parse_csv(const Source& source, Diagnostics& diagnostics);

// A table as a list of maps: column names are keys joined by dots ("current.peak", and
// "no_load.0.voltage" for list items, counted from 0 without a gap); empty cells, and lists and
// maps of nothing but empty cells, are left out. A cell that begins with '[' or '{' is composed as
// YAML, so that a curve fits into a cell; a mark inside it ignores that a quote in a quoted cell
// was doubled. Keys are marked in the header, values at their cells. Returns nothing when it
// reported a column whose name is no path or contradicts another, or a cell that is not YAML.
std::optional<Node> csv_to_node(const CsvTable& table, const Mark& list_mark,
                                Diagnostics& diagnostics);

// The items of that list one by one: a whole tree takes many times the room of its text. False,
// before the first of them, when it reported something.
bool each_csv_item(const CsvTable& table, Diagnostics& diagnostics,
                   const std::function<void(Node&&)>& use);
// How many they are: the rows with anything in them.
std::size_t count_csv_items(const CsvTable& table);

}  // namespace sprocketry::document
