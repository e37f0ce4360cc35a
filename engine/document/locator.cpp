#include "document/locator.hpp"

#include <algorithm>
#include <array>

namespace sprocketry::document {
namespace {

bool is_blank(char letter) { return letter == ' ' || letter == '\t'; }
bool is_quote(char letter) { return letter == '"' || letter == '\''; }

// Whether a token may begin behind `before` (what precedes it on the line, without its blanks).
bool may_begin_token(char before, bool blank_between) {
  constexpr std::string_view kBrackets = "[{,";
  constexpr std::string_view kIndicators = ":-?";
  if (before == '\0' || kBrackets.find(before) != std::string_view::npos) return true;
  return blank_between && kIndicators.find(before) != std::string_view::npos;
}

}  // namespace

std::size_t Locator::after_key(std::size_t offset, std::size_t length) const {
  // Looked for within the key only: a line may hold very many keys.
  std::size_t end = offset + line_end(text_.substr(std::min(offset, text_.size()), length), 0);
  if (is_quote(at(offset))) end = after_quotes(offset).value_or(text_.size());
  std::size_t colon = end;
  while (is_blank(at(colon))) ++colon;
  return at(colon) == ':' ? colon + 1 : end;
}

std::size_t Locator::after_last_word(std::size_t offset) const {
  const std::size_t last = text_.substr(0, offset).find_last_not_of(" \t\r\n");
  return last == std::string_view::npos ? 0 : last + 1;
}

bool Locator::is_written_null(std::size_t offset) const {
  constexpr std::array<std::string_view, 4> kNulls = {"~", "null", "Null", "NULL"};
  constexpr std::string_view kEnds = " \t\r\n,]}";
  const std::string_view here = text_.substr(std::min(offset, text_.size()));
  const auto* const word = std::find_if(kNulls.begin(), kNulls.end(), [here](std::string_view one) {
    return here.substr(0, one.size()) == one;
  });
  if (word == kNulls.end()) return false;
  if (here.size() == word->size()) return true;
  if (kEnds.find(here[word->size()]) == std::string_view::npos) return false;
  const std::size_t next = here.find_first_not_of(" \t", word->size());
  return next == std::string_view::npos || here[next] != ':';
}

std::optional<std::size_t> Locator::after_quotes(std::size_t offset) const {
  const char quote = text_[offset];
  for (++offset; offset < text_.size(); ++offset) {
    if (quote == '"' && text_[offset] == '\\') {
      ++offset;
    } else if (text_[offset] == quote) {
      if (quote == '"' || at(offset + 1) != '\'') return offset + 1;
      ++offset;
    }
  }
  return std::nullopt;
}

std::optional<Mark> Locator::line_without_colon_before(std::size_t offset) const {
  std::size_t begin = text_.substr(0, offset).find_last_of("\r\n");
  while (begin != std::string_view::npos) {
    const std::size_t end = begin;
    begin = text_.substr(0, end).find_last_of("\r\n");
    const std::size_t start = begin == std::string_view::npos ? 0 : begin + 1;
    const std::string_view line = text_.substr(start, end - start);
    const std::size_t first = line.find_first_not_of(" \t");
    if (first == std::string_view::npos || line[first] == '#') continue;
    if (line.find_first_of(":[]{}\"'") != std::string_view::npos || line[first] == '-') break;
    return mark(start + line.find_last_not_of(" \t") + 1);
  }
  return std::nullopt;
}

std::optional<Mark> Locator::tab_in_indentation(std::size_t offset) const {
  const std::size_t before = text_.substr(0, offset).find_last_of("\r\n");
  const std::size_t start = before == std::string_view::npos ? 0 : before + 1;
  const std::string_view line = text_.substr(start);
  const std::size_t tab = line.find('\t');
  if (tab == std::string_view::npos || line.find_first_not_of(" \t") < tab) return std::nullopt;
  return mark(start + tab);
}

std::optional<Mark> Locator::unclosed_quote() const {
  char before = '\0';  // the last character of this line that is not blank
  bool blank_between = true;
  for (std::size_t offset = 0; offset < text_.size();) {
    const char letter = text_[offset];
    if (letter == '#' && blank_between) {
      offset = line_end(text_, offset);
    } else if (is_quote(letter) && may_begin_token(before, blank_between)) {
      const std::optional<std::size_t> end = after_quotes(offset);
      if (!end) return mark(offset);
      offset = *end;
      before = letter;
      blank_between = false;
    } else {
      const bool new_line = letter == '\n' || letter == '\r';
      if (new_line) before = '\0';
      blank_between = new_line || is_blank(letter);
      if (!blank_between) before = letter;
      ++offset;
    }
  }
  return std::nullopt;
}

}  // namespace sprocketry::document
