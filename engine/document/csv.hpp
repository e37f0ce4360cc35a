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
  // The place where so many rows begin: cells take many times the room of their text.
  struct Piece {
    std::size_t offset = 0;  // bytes
    std::size_t line = 0;
    std::size_t rows = 0;
  };
  const Source* source = nullptr;  // must outlive the table
  std::vector<Cell> header;
  std::vector<Piece> pieces;  // of 256 rows, the last one of what is left; rows are as long as the
                              // header
  std::size_t rows = 0;       // of all pieces
  std::size_t filled = 0;     // how many of them have anything in them
};

// Reports (and returns nothing for) a file that cannot be read, is empty, has an unterminated
// quote or text behind a closing one, a row longer or shorter than the header, a column named twice
// or without a name, more than 1000 columns, bytes that are not text or more than kMaxFileSize of
// them. `mentioned` is the place that names the file.
std::optional<CsvTable> load_csv(const std::filesystem::path& path, const std::string& shown_name,
                                 const Mark& mentioned, Diagnostics& diagnostics);
std::optional<CsvTable> parse_csv(const Source& source, Diagnostics& diagnostics);

// Gives `use` the cells of one row of a piece after the other, until it returns false. May be
// called by several threads at once.
void each_csv_row(const CsvTable& table, const CsvTable::Piece& piece,
                  const std::function<bool(const std::vector<CsvTable::Cell>&)>& use);
// All of them at once.
std::vector<std::vector<CsvTable::Cell>> all_cells(const CsvTable& table);

// A table as a list of maps: column names are keys joined by dots ("current.peak", and
// "no_load.0.voltage" for list items, counted from 0 without a gap); empty cells, and lists and
// maps of nothing but empty cells, are left out. A cell that begins with '[' or '{' is composed as
// YAML, so that a curve fits into a cell; a mark inside it ignores that a quote in a quoted cell
// was doubled. Keys are marked in the header, values at their cells. Returns nothing when it
// reported a column whose name is no path or contradicts another, or a cell that is not YAML.
std::optional<Node> csv_to_node(const CsvTable& table, const Mark& list_mark,
                                Diagnostics& diagnostics);

// What the header says about the shape of every row: a column, or the keys of a map, or the
// positions of a list.
struct CsvShape {
  std::string key;  // within the shape that holds this one
  Mark key_mark;
  std::optional<std::size_t> column;
  bool is_list = false;  // its parts' keys are positions
  std::vector<CsvShape> parts;
};

// Nothing when it reported a column whose name is no path or contradicts another.
std::optional<CsvShape> csv_shape(const CsvTable& table, Diagnostics& diagnostics);

// The items of that list one by one, those of a piece: a whole tree takes many times the room of
// its text. Each is gone after its call. False, perhaps after some of them, when a cell is not
// YAML; then report_csv_cells() says which. May be called by several threads at once.
bool each_csv_item(const CsvTable& table, const CsvShape& shape, const CsvTable::Piece& piece,
                   const std::function<void(const Node&)>& use);
// Reports the cells that are not YAML; false when there are any.
bool report_csv_cells(const CsvTable& table, Diagnostics& diagnostics);

}  // namespace sprocketry::document
