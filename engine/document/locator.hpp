#pragma once

#include <cstddef>
#include <optional>
#include <string_view>

#include "document/text.hpp"

namespace sprocketry::document {

// Turns the byte offsets of a YAML text into marks and looks at the characters that stand there.
// The text must outlive it, be clean UTF-8 and carry no byte order mark.
class Locator {
 public:
  Locator(std::string_view text, const Mark& origin) : text_(text), index_(text, origin) {}

  [[nodiscard]] Mark mark(std::size_t offset) const { return index_.mark(offset); }

  // The character at an offset; a zero behind the end.
  [[nodiscard]] char at(std::size_t offset) const {
    return offset < text_.size() ? text_[offset] : '\0';
  }

  // Just after a key that begins at `offset`: behind its colon when one follows on the same line.
  // `length` in bytes is used unless the key is quoted. A plain key that goes on on the next line
  // is no key: it ends with its first line.
  [[nodiscard]] std::size_t after_key(std::size_t offset, std::size_t length) const;

  // Behind the last character before `offset` that is not blank.
  [[nodiscard]] std::size_t after_last_word(std::size_t offset) const;

  // Whether an explicit null stands here as a value, not as the key of what follows.
  [[nodiscard]] bool is_written_null(std::size_t offset) const;

  // The opening quote that finds no closing one, as far as it can be told without parsing (quotes
  // inside a block of text are taken for quotes); only for messages.
  [[nodiscard]] std::optional<Mark> unclosed_quote() const;

  // The end of the line before that of `offset`, when it is a line of words without a colon: where
  // one was probably forgotten. Blank lines and comments are passed.
  [[nodiscard]] std::optional<Mark> line_without_colon_before(std::size_t offset) const;

  // The first tab among the blanks that begin the line of `offset`.
  [[nodiscard]] std::optional<Mark> tab_in_indentation(std::size_t offset) const;

  // Behind the quote that closes the one at `offset`; nothing when none does.
  [[nodiscard]] std::optional<std::size_t> after_quotes(std::size_t offset) const;

 private:
  std::string_view text_;
  LineIndex index_;
};

}  // namespace sprocketry::document
