#include "document/text.hpp"

#include <algorithm>

namespace sprocketry::document {
namespace {

constexpr std::size_t kBlock = 512;
constexpr std::size_t kStride = 64;  // bytes looked at together
constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";
constexpr std::string_view kReplacement = "\xEF\xBF\xBD";

unsigned char byte_at(std::string_view text, std::size_t offset) {
  return static_cast<unsigned char>(text[offset]);
}

bool is_continuation(unsigned char byte) { return (byte & 0xC0U) == 0x80U; }

// Whether it is ASCII without forbidden controls; without a branch, so that the compiler takes 16
// letters at once.
bool is_plain(std::string_view text) {
  unsigned char strange = 0;
  for (const char letter : text) {
    const auto byte = static_cast<unsigned char>(letter);
    const bool blank = (byte == '\t') | (byte == '\n') | (byte == '\r');
    strange |= static_cast<unsigned char>(((byte < 0x20U) & !blank) | (byte >= 0x7FU));
  }
  return strange == 0;
}

// The length that a lead byte announces and the least value that this length may encode.
struct Form {
  std::size_t length;
  char32_t bits;
  char32_t least;
};

Form form_of(unsigned char lead) {
  if (lead < 0x80U) return {1, lead, 0};
  if (lead >= 0xC2U && lead <= 0xDFU) return {2, lead & 0x1FU, 0x80};
  if (lead >= 0xE0U && lead <= 0xEFU) return {3, lead & 0x0FU, 0x800};
  if (lead >= 0xF0U && lead <= 0xF4U) return {4, lead & 0x07U, 0x10000};
  return {0, 0, 0};
}

bool reorders_or_hides(char32_t value) {
  return (value >= 0x200B && value <= 0x200F) || (value >= 0x2028 && value <= 0x202E) ||
         (value >= 0x2060 && value <= 0x2069) || value == 0xFEFF;
}

std::size_t count_starts(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char byte) {
    return !is_continuation(static_cast<unsigned char>(byte));
  }));
}

}  // namespace

CodePoint decode(std::string_view text, std::size_t offset) {
  const Form form = form_of(byte_at(text, offset));
  const CodePoint stray{byte_at(text, offset), 1, false};
  if (form.length == 0 || text.size() - offset < form.length) return stray;
  char32_t value = form.bits;
  for (std::size_t i = 1; i < form.length; ++i) {
    const unsigned char next = byte_at(text, offset + i);
    if (!is_continuation(next)) return stray;
    value = (value << 6U) | (next & 0x3FU);
  }
  const bool surrogate = value >= 0xD800 && value <= 0xDFFF;
  if (value < form.least || surrogate || value > 0x10FFFF) return stray;
  return {value, form.length, true};
}

bool is_forbidden(char32_t value) {
  if (value < 0x20) return value != '\t' && value != '\n' && value != '\r';
  return (value >= 0x7F && value <= 0x9F) || value == 0xFFFE || value == 0xFFFF;
}

std::size_t first_unclean(std::string_view text, std::size_t from) {
  std::size_t offset = from;
  while (offset < text.size()) {
    const std::size_t end = std::min(offset + kStride, text.size());
    if (is_plain(text.substr(offset, kStride))) offset = end;
    while (offset < end) {
      const CodePoint point = decode(text, offset);
      if (!point.valid || is_forbidden(point.value)) return offset;
      offset += point.length;
    }
  }
  return text.size();
}

std::size_t byte_order_mark_length(std::string_view text) {
  return text.substr(0, kByteOrderMark.size()) == kByteOrderMark ? kByteOrderMark.size() : 0;
}

std::size_t line_end(std::string_view text, std::size_t offset) {
  while (offset < text.size() && text[offset] != '\n' && text[offset] != '\r') ++offset;
  return offset;
}

std::size_t skip_line_end(std::string_view text, std::size_t offset) {
  if (offset >= text.size()) return text.size();
  const bool pair = text[offset] == '\r' && offset + 1 < text.size() && text[offset + 1] == '\n';
  return offset + (pair ? 2 : 1);
}

std::size_t count_code_points(std::string_view text) {
  std::size_t count = 0;
  for (std::size_t offset = 0; offset < text.size(); offset += decode(text, offset).length) ++count;
  return count;
}

std::string printable(std::string_view text, std::size_t limit) {
  std::string shown;
  std::size_t count = 0;
  for (std::size_t offset = 0; offset < text.size(); ++count) {
    if (count == limit) return shown + "...";
    const CodePoint point = decode(text, offset);
    if (point.valid && (point.value == '\t' || point.value == '\n' || point.value == '\r')) {
      shown += ' ';
    } else if (!point.valid || is_forbidden(point.value) || reorders_or_hides(point.value)) {
      shown += kReplacement;
    } else {
      shown += text.substr(offset, point.length);
    }
    offset += point.length;
  }
  return shown;
}

LineIndex::LineIndex(std::string_view text, const Mark& origin)
    : text_(text), origin_(origin), line_starts_{0} {
  for (std::size_t end = line_end(text, 0); end < text.size(); end = line_end(text, end)) {
    end = skip_line_end(text, end);
    line_starts_.push_back(end);
  }
  std::size_t count = 0;
  for (std::size_t start = 0; start < text.size(); start += kBlock) {
    block_counts_.push_back(count);
    count += count_starts(text.substr(start, kBlock));
  }
  block_counts_.push_back(count);
}

std::size_t LineIndex::code_points_before(std::size_t offset) const {
  const std::size_t block = std::min(offset / kBlock, block_counts_.size() - 1);
  const std::size_t start = block * kBlock;
  if (start >= text_.size()) return block_counts_.back();
  return block_counts_[block] + count_starts(text_.substr(start, offset - start));
}

Mark LineIndex::mark(std::size_t offset) const {
  offset = std::min(offset, text_.size());
  const auto after = std::upper_bound(line_starts_.begin(), line_starts_.end(), offset);
  const auto line = static_cast<std::size_t>(after - line_starts_.begin()) - 1;
  const std::size_t column = code_points_before(offset) - code_points_before(line_starts_[line]);
  return {origin_.source, origin_.line + line, (line == 0 ? origin_.column : 1) + column};
}

}  // namespace sprocketry::document
