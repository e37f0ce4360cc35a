#include "document/text_check.hpp"

#include <string>

#include "document/node.hpp"
#include "document/text.hpp"

namespace sprocketry::document {
namespace {

constexpr char kHexDigits[] = "0123456789ABCDEF";

std::string hex(char32_t value, std::size_t digits) {
  std::string text(digits, '0');
  for (std::size_t i = digits; i > 0; --i, value >>= 4U) text[i - 1] = kHexDigits[value & 0xFU];
  return text;
}

// Two-byte text announces itself by its mark, or by a zero beside every plain letter.
bool looks_like_two_byte_text(std::string_view text) {
  if (text.size() < 2) return false;
  const std::string_view head = text.substr(0, 2);
  return head == "\xFF\xFE" || head == "\xFE\xFF" || (head[0] == '\0') != (head[1] == '\0');
}

}  // namespace

bool check_text(std::string_view text, const Mark& origin, Diagnostics& diagnostics) {
  if (text.size() > kMaxFileSize) {
    diagnostics.error({origin.source, 0, 0},
                      "this is larger than " + std::to_string(kMaxFileSize >> 20U) + " MiB",
                      "split it, or check that this is the file you meant");
    return false;
  }
  const std::size_t bad = first_unclean(text);
  if (bad == text.size()) return true;
  const std::size_t start = byte_order_mark_length(text);
  const Mark mark =
      start > bad ? origin : LineIndex(text.substr(start, bad - start), origin).mark(bad);
  if (looks_like_two_byte_text(text)) {
    diagnostics.error(mark, "this is text in two-byte units, not UTF-8", "save the file as UTF-8");
    return false;
  }
  const CodePoint point = decode(text, bad);
  if (point.valid) {
    diagnostics.error(mark, "the control character U+" + hex(point.value, 4) + " stands here",
                      "remove it, or check that this is a text file");
  } else {
    diagnostics.error(mark, "the byte 0x" + hex(point.value, 2) + " is not UTF-8 text",
                      "save the file as UTF-8, or check that this is a text file");
  }
  return false;
}

}  // namespace sprocketry::document
