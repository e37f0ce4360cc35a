#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "document/diagnostics.hpp"

// What this stage alone knows about text: code points, lines and what may be shown on a terminal.
namespace sprocketry::document {

struct CodePoint {
  char32_t value = 0;
  std::size_t length = 1;  // bytes; 1 for a byte that is not UTF-8
  bool valid = true;
};

// The code point that begins at `offset`, which must lie inside `text`. Overlong forms, surrogates
// and values above U+10FFFF are not valid (Unicode 15, table 3-7).
CodePoint decode(std::string_view text, std::size_t offset);

// Whether a code point has no business in a text file: C0 and C1 controls except tab, LF and CR,
// delete, and the two noncharacters U+FFFE and U+FFFF.
bool is_forbidden(char32_t value);

// The offset of the first byte that is not UTF-8 or begins a forbidden code point; the size of the
// text when there is none.
std::size_t first_unclean(std::string_view text, std::size_t from = 0);

// How many bytes of a UTF-8 byte order mark the text begins with: 3 or 0.
std::size_t byte_order_mark_length(std::string_view text);

// The offset of the first line end at or after `offset`, or the size of the text; and the offset
// behind the line end that stands there. Lines end with LF, CR LF or CR.
std::size_t line_end(std::string_view text, std::size_t offset);
std::size_t skip_line_end(std::string_view text, std::size_t offset);

// Number of code points; a byte that is not UTF-8 counts as one.
std::size_t count_code_points(std::string_view text);

// `text` with everything that could move a cursor, recolour or reorder a terminal replaced: tabs
// and line ends by a space, other controls, bidirectional controls and stray bytes by U+FFFD. At
// most `limit` code points; "..." stands for the rest.
std::string printable(std::string_view text, std::size_t limit);

// Finds line and column of any offset of a valid UTF-8 text in time independent of line lengths.
class LineIndex {
 public:
  // `origin` is the mark of the first byte. The text must outlive the index.
  LineIndex(std::string_view text, const Mark& origin);

  [[nodiscard]] Mark mark(std::size_t offset) const;

 private:
  [[nodiscard]] std::size_t code_points_before(std::size_t offset) const;

  std::string_view text_;
  Mark origin_;
  std::vector<std::size_t> line_starts_;
  std::vector<std::size_t> block_counts_;  // code points before every kBlock-th byte
};

}  // namespace sprocketry::document
