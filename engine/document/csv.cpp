#include "document/csv.hpp"

#include <algorithm>
#include <unordered_map>
#include <utility>

#include "document/file.hpp"
#include "document/text.hpp"
#include "document/text_check.hpp"

namespace sprocketry::document {
namespace {

using Cell = CsvTable::Cell;
using Row = std::vector<Cell>;

constexpr std::size_t kMostFindings = 200;  // per table; the rest would not be read anyway
constexpr std::size_t kMostColumns = 1000;
constexpr std::size_t kRowsOfPiece = 256;
constexpr std::string_view kBlanks = " \t";

bool is_blank(char letter) { return letter == ' ' || letter == '\t'; }
bool ends_cell(char letter) { return letter == ',' || letter == '\n' || letter == '\r'; }

struct PlainLine {
  std::size_t end = 0;  // of its text
  std::size_t commas = 0;
};

// The line that begins at `start` if it is ASCII without a quote and ends with LF, CR LF or the
// text. Letters are counted in
// bytes and without a branch, so that the compiler takes 16 of them at once.
std::optional<PlainLine> plain_line(std::string_view text, std::size_t start) {
  constexpr std::size_t kStride = 128;  // a byte counts the commas among so many letters
  PlainLine line;
  for (line.end = start; line.end < text.size();) {
    const std::string_view ahead = text.substr(line.end, kStride);
    std::string_view piece = ahead.substr(0, ahead.find('\n'));
    const bool last = piece.size() < ahead.size();
    if (last && piece.ends_with('\r')) piece.remove_suffix(1);
    unsigned char commas = 0;
    unsigned char strange = 0;
    for (const char letter : piece) {
      const auto byte = static_cast<unsigned char>(letter);
      commas = static_cast<unsigned char>(commas + (byte == ',' ? 1 : 0));
      strange |= static_cast<unsigned char>((byte == '"' ? 1 : 0) | (byte == '\r' ? 1 : 0) |
                                            (byte & 0x80U));
    }
    if (strange != 0) return std::nullopt;
    line.commas += commas;
    line.end += piece.size();
    if (last) break;
  }
  return line;
}

// Walks over a clean text and keeps line and column.
class Reader {
 public:
  Reader(const Source& source, Diagnostics& diagnostics)
      : source_(source), text_(source.text), diagnostics_(&diagnostics) {
    at_ = byte_order_mark_length(text_);
    counted_ = at_;
  }
  // At rows that were read before and found sound.
  Reader(const Source& source, const CsvTable::Piece& piece)
      : source_(source),
        text_(source.text),
        at_(piece.offset),
        counted_(piece.offset),
        line_(piece.line) {}

  [[nodiscard]] bool done() const { return at_ == text_.size(); }
  [[nodiscard]] Mark mark() const { return {&source_, line_, column_}; }
  [[nodiscard]] CsvTable::Piece piece() const { return {at_, line_, 0}; }

  // Passes a plain line of so many cells; false, without a move, before any other.
  bool pass_plain_row(std::size_t width) {
    const auto line = plain_line(text_, at_);
    if (!line || line->commas + 1 != width) return false;
    at_ = line->end;
    pass_line_end();
    return true;
  }

  // The same, and reads its cells over those in `row`, which has so many. Here a column is a byte.
  bool read_plain_row(Row& row) {
    const auto line = plain_line(text_, at_);
    if (!line || line->commas + 1 != row.size()) return false;
    const std::size_t start = at_;
    for (Cell& cell : row) {
      while (at_ < line->end && is_blank(text_[at_])) ++at_;
      const std::size_t begin = at_;
      while (at_ < line->end && text_[at_] != ',') ++at_;
      std::size_t end = at_;
      while (end > begin && is_blank(text_[end - 1])) --end;
      cell.text.assign(text_, begin, end - begin);
      cell.mark = {&source_, line_, begin - start + 1};
      cell.quoted = false;
      ++at_;
    }
    at_ = line->end;
    pass_line_end();
    return true;
  }

  // Passes lines that hold no row; afterwards a row begins here, or the text is done.
  void skip_blank_lines() {
    while (!done()) {
      std::size_t filled = at_;
      while (filled < text_.size() && (is_blank(text_[filled]) || text_[filled] == ',')) ++filled;
      const bool comment = text_[at_] == '#';
      const bool blank = filled == text_.size() || is_line_end(filled);
      if (!comment && !blank) return;
      at_ = line_end(text_, at_);
      pass_line_end();
    }
  }

  // Reads one row and its line end over what is in `row`; false when a quote was reported.
  bool read_row(Row& row) {
    std::size_t count = 0;
    while (true) {
      if (count == row.size()) row.emplace_back();
      if (!read_cell(row[count++])) return false;
      if (done() || text_[at_] != ',') break;
      ++at_;
    }
    row.resize(count);
    advance_column();
    row_end_ = mark();
    pass_line_end();
    return true;
  }

  // Where the row that was read last ended.
  [[nodiscard]] const Mark& row_end() const { return row_end_; }

 private:
  [[nodiscard]] bool is_line_end(std::size_t offset) const {
    return text_[offset] == '\n' || text_[offset] == '\r';
  }

  // Counts the columns of what was passed since the last call; it holds no line end.
  void advance_column() {
    for (; counted_ < at_; ++counted_) {
      if ((static_cast<unsigned char>(text_[counted_]) & 0xC0U) != 0x80U) ++column_;
    }
  }

  void pass_line_end() {
    if (done()) return;
    at_ = skip_line_end(text_, at_);
    counted_ = at_;
    ++line_;
    column_ = 1;
  }

  bool read_cell(Cell& cell) {
    while (!done() && is_blank(text_[at_])) ++at_;
    advance_column();
    cell.mark = mark();
    cell.quoted = !done() && text_[at_] == '"';
    if (cell.quoted) return read_quoted(cell);
    const std::size_t begin = at_;
    while (!done() && !ends_cell(text_[at_])) ++at_;
    std::size_t end = at_;
    while (end > begin && is_blank(text_[end - 1])) --end;
    cell.text.assign(text_, begin, end - begin);
    return true;
  }

  bool read_quoted(Cell& cell) {
    cell.text.clear();
    ++at_;
    while (true) {
      const std::size_t stop = text_.find_first_of("\"\r\n", at_);
      if (stop == std::string_view::npos) {
        return fail(cell.mark, "a quote is not closed", "add the closing '\"'");
      }
      cell.text.append(text_, at_, stop - at_);
      at_ = stop;
      if (text_[at_] != '"') {
        advance_column();
        pass_line_end();
        cell.text += '\n';
      } else if (at_ + 1 < text_.size() && text_[at_ + 1] == '"') {
        cell.text += '"';
        at_ += 2;
      } else {
        ++at_;
        return expect_cell_end();
      }
    }
  }

  bool expect_cell_end() {
    at_ = std::min(text_.find_first_not_of(kBlanks, at_), text_.size());
    if (done() || ends_cell(text_[at_])) return true;
    advance_column();
    return fail(mark(), "text stands behind a closing quote",
                "put the whole cell in quotes, and double the quotes inside it");
  }

  bool fail(const Mark& where, std::string message, std::string hint) {
    diagnostics_->error(where, std::move(message), std::move(hint));
    return false;
  }

  const Source& source_;
  std::string_view text_;
  Diagnostics* diagnostics_ = nullptr;
  std::size_t at_ = 0;
  std::size_t counted_ = 0;  // up to here the columns are counted
  std::size_t line_ = 1;
  std::size_t column_ = 1;
  Mark row_end_;
};

// Returns how many errors it reported.
std::size_t check_header(const Row& header, Diagnostics& diagnostics) {
  if (header.size() > kMostColumns) {
    diagnostics.error(header[kMostColumns].mark,
                      "the table has more than " + std::to_string(kMostColumns) + " columns",
                      "turn it so that every row is one part or one instant");
    return 1;
  }
  std::size_t findings = 0;
  std::unordered_map<std::string_view, const Cell*> seen;
  for (const Cell& cell : header) {
    if (cell.text.empty()) {
      diagnostics.error(cell.mark, "a column without a name", "name it, or remove the column");
      ++findings;
      continue;
    }
    const auto [at, first] = seen.emplace(cell.text, &cell);
    if (first) continue;
    diagnostics.add({Severity::kError, cell.mark, "the column '" + cell.text + "' is named twice",
                     "keep one of the two", at->second->mark, "first named here"});
    ++findings;
  }
  const bool other_separator = header.size() == 1 && !header.front().quoted &&
                               header.front().text.find_first_of(";\t") != std::string::npos;
  if (findings == 0 && other_separator) {
    diagnostics.error(header.front().mark, "the columns are not separated by commas",
                      "save the table with commas between the cells");
    ++findings;
  }
  return findings;
}

std::string cells(std::size_t count) {
  return std::to_string(count) + (count == 1 ? " cell" : " cells");
}

void report_length(const Row& row, std::size_t expected, const Mark& row_end,
                   Diagnostics& diagnostics) {
  const bool too_long = row.size() > expected;
  diagnostics.error(too_long ? row[expected].mark : row_end,
                    "this row has " + cells(row.size()) + ", the header has " + cells(expected),
                    too_long ? "put a cell that holds a comma in double quotes"
                             : "leave a cell empty by a comma");
}

}  // namespace

void each_csv_row(const CsvTable& table, const CsvTable::Piece& piece,
                  const std::function<bool(const Row&)>& use) {
  Reader reader(*table.source, piece);
  Row row(table.header.size());
  for (std::size_t i = 0; i < piece.rows; ++i) {
    reader.skip_blank_lines();
    if (!reader.read_plain_row(row)) reader.read_row(row);
    if (!use(row)) return;
  }
}

std::vector<Row> all_cells(const CsvTable& table) {
  std::vector<Row> rows;
  rows.reserve(table.rows);
  for (const CsvTable::Piece& piece : table.pieces) {
    each_csv_row(table, piece, [&rows](const Row& row) {
      rows.push_back(row);
      return true;
    });
  }
  return rows;
}

std::optional<CsvTable> parse_csv(const Source& source, Diagnostics& diagnostics) {
  if (!check_text(source.text, {&source, 1, 1}, diagnostics)) return std::nullopt;
  Reader reader(source, diagnostics);
  reader.skip_blank_lines();
  if (reader.done()) {
    diagnostics.error({&source, 1, 1}, "the table is empty", "begin with a row of column names");
    return std::nullopt;
  }
  CsvTable table;
  table.source = &source;
  if (!reader.read_row(table.header)) return std::nullopt;
  std::size_t findings = check_header(table.header, diagnostics);
  if (table.header.size() > kMostColumns) return std::nullopt;
  const std::size_t width = table.header.size();
  Row row;
  for (reader.skip_blank_lines(); !reader.done(); reader.skip_blank_lines()) {
    if (table.rows % kRowsOfPiece == 0) table.pieces.push_back(reader.piece());
    ++table.rows;
    ++table.pieces.back().rows;
    // A plain row that is not a blank line has something in it.
    if (reader.pass_plain_row(width)) {
      ++table.filled;
      continue;
    }
    if (!reader.read_row(row)) return std::nullopt;
    if (row.size() != width) {
      report_length(row, width, reader.row_end(), diagnostics);
      if (++findings >= kMostFindings) return std::nullopt;
    }
    if (std::ranges::any_of(row, [](const Cell& cell) { return !cell.text.empty(); })) {
      ++table.filled;
    }
  }
  if (findings > 0) return std::nullopt;
  return table;
}

std::optional<CsvTable> load_csv(const std::filesystem::path& path, const std::string& shown_name,
                                 const Mark& mentioned, Diagnostics& diagnostics) {
  const Source* const source = read_file(path, shown_name, mentioned, diagnostics);
  if (source == nullptr) return std::nullopt;
  return parse_csv(*source, diagnostics);
}

}  // namespace sprocketry::document
