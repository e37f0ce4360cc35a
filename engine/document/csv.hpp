#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "document/node.hpp"

namespace sprocketry::document {

// A table read from CSV (RFC 4180: commas, double quotes, quoted line ends; a UTF-8 byte order mark
// and CRLF are accepted; blank lines and lines that begin with '#' are skipped). The first row
// names the columns.
struct CsvTable {
  struct Cell {
    std::string text;  // surrounding blanks removed unless quoted
    Mark mark;
  };
  std::vector<Cell> header;
  std::vector<std::vector<Cell>> rows;  // every row as long as the header
};

// Reports (and returns nothing for) a file that cannot be read, is empty, has an unterminated
// quote, a row longer or shorter than the header, a column named twice or without a name, or bytes
// that are not text.
std::optional<CsvTable> load_csv(const std::filesystem::path& path, const std::string& shown_name,
                                 const Mark& mentioned, Diagnostics& diagnostics);
std::optional<CsvTable> parse_csv(const Source& source, Diagnostics& diagnostics);

// A table as a list of maps: column names are keys joined by dots ("current.peak", and
// "no_load.0.voltage" for list items); empty cells are left out. A cell that begins with '[' or '{'
// is composed as YAML, so that a curve fits into a cell.
std::optional<Node> csv_to_node(const CsvTable& table, const Mark& list_mark,
                                Diagnostics& diagnostics);

}  // namespace sprocketry::document
