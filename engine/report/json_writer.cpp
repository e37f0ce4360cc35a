#include "report/json_writer.hpp"

#include <array>
#include <cassert>
#include <charconv>
#include <cmath>
#include <cstring>
#include <exception>

namespace sprocketry::report {
namespace {

constexpr std::size_t kBufferSize = std::size_t{1} << 16U;
constexpr std::size_t kIndentWidth = 2;
constexpr std::string_view kReplacement = "\xEF\xBF\xBD";

bool is_plain(unsigned char byte) {
  return byte >= 0x20U && byte < 0x7FU && byte != '"' && byte != '\\';
}

// Where the plain bytes from `offset` on end. Eight at a time: a byte is not plain when it has its
// high bit, lies below 0x20 or is one of three, and taking one off a byte that is zero sets its
// high bit. A borrow can only make a plain byte behind one that is not look the same, so that the
// eight are looked at one by one.
std::size_t plain_end(std::string_view text, std::size_t offset) {
  constexpr std::uint64_t kOnes = 0x0101010101010101U;
  constexpr std::uint64_t kHigh = 0x80 * kOnes;
  while (offset + 8 <= text.size()) {
    std::uint64_t bytes = 0;
    std::memcpy(&bytes, text.data() + offset, sizeof bytes);
    const std::uint64_t quote = bytes ^ ('"' * kOnes);
    const std::uint64_t slash = bytes ^ ('\\' * kOnes);
    const std::uint64_t erase = bytes ^ (0x7F * kOnes);
    const std::uint64_t below = bytes - 0x20 * kOnes;
    if (((bytes | below | (quote - kOnes) | (slash - kOnes) | (erase - kOnes)) & kHigh) != 0) break;
    offset += 8;
  }
  while (offset < text.size() && is_plain(static_cast<unsigned char>(text[offset]))) ++offset;
  return offset;
}

bool continues(std::string_view text, std::size_t offset, unsigned char least,
               unsigned char greatest) {
  if (offset >= text.size()) return false;
  const auto byte = static_cast<unsigned char>(text[offset]);
  return byte >= least && byte <= greatest;
}

// Bytes of the well-formed sequence at `offset`, whose first byte is above 0x7F; 0 when there is
// none (Unicode 15, table 3-7).
std::size_t sequence_length(std::string_view text, std::size_t offset) {
  const auto lead = static_cast<unsigned char>(text[offset]);
  std::size_t length = 0;
  unsigned char least = 0x80;
  unsigned char greatest = 0xBF;
  if (lead >= 0xC2U && lead <= 0xDFU) {
    length = 2;
  } else if (lead >= 0xE0U && lead <= 0xEFU) {
    length = 3;
    if (lead == 0xE0U) least = 0xA0;
    if (lead == 0xEDU) greatest = 0x9F;
  } else if (lead >= 0xF0U && lead <= 0xF4U) {
    length = 4;
    if (lead == 0xF0U) least = 0x90;
    if (lead == 0xF4U) greatest = 0x8F;
  } else {
    return 0;
  }
  if (!continues(text, offset + 1, least, greatest)) return 0;
  for (std::size_t i = 2; i < length; ++i) {
    if (!continues(text, offset + i, 0x80, 0xBF)) return 0;
  }
  return length;
}

// The escape of an ASCII byte that may not stand in a JSON string as it is. Delete may, but no
// terminal should see it.
void append_escape(std::string& out, unsigned char byte) {
  constexpr std::string_view kHexDigits = "0123456789abcdef";
  out += '\\';
  switch (byte) {
    case '"':
    case '\\':
      out += static_cast<char>(byte);
      return;
    case '\n':
      out += 'n';
      return;
    case '\r':
      out += 'r';
      return;
    case '\t':
      out += 't';
      return;
    case '\b':
      out += 'b';
      return;
    case '\f':
      out += 'f';
      return;
    default:
      out += "u00";
      out += kHexDigits[byte >> 4U];
      out += kHexDigits[byte & 0xFU];
  }
}

template <typename Number>
std::string_view digits(Number number, std::array<char, 32>& room) {
  const auto [end, failure] = std::to_chars(room.data(), room.data() + room.size(), number);
  assert(failure == std::errc{});
  return {room.data(), static_cast<std::size_t>(end - room.data())};
}

}  // namespace

JsonWriter::JsonWriter(std::ostream& out, Indent indent, std::size_t depth)
    : out_(out), indent_(indent), depth_(depth) {
  buffer_.reserve(kBufferSize + 1024);
}

JsonWriter::~JsonWriter() {
  assert((levels_.empty() && !has_key_) || std::uncaught_exceptions() > 0);
  flush();
}

void JsonWriter::begin_object(Layout layout) { begin(true, layout); }
void JsonWriter::end_object() { end(true); }
void JsonWriter::begin_list(Layout layout) { begin(false, layout); }
void JsonWriter::end_list() { end(false); }

void JsonWriter::begin(bool is_object, Layout layout) {
  before_value();
  const bool on_line = layout == Layout::kLine || indent_ == Indent::kCompact ||
                       (!levels_.empty() && levels_.back().on_line);
  levels_.push_back({is_object, on_line, true});
  append(is_object ? "{" : "[");
}

void JsonWriter::end(bool is_object) {
  assert(!levels_.empty() && levels_.back().is_object == is_object && !has_key_);
  const Level level = levels_.back();
  levels_.pop_back();
  if (!level.is_empty && !level.on_line) break_line();
  append(is_object ? "}" : "]");
  document_done_ = levels_.empty();
}

void JsonWriter::key(std::string_view name) {
  assert(!levels_.empty() && levels_.back().is_object && !has_key_);
  separate();
  quote(name);
  append(indent_ == Indent::kCompact ? ":" : ": ");
  has_key_ = true;
}

void JsonWriter::separate() {
  Level& level = levels_.back();
  const bool first = level.is_empty;
  level.is_empty = false;
  if (!first) append(",");
  if (!level.on_line) {
    break_line();
  } else if (!first && indent_ == Indent::kPretty) {
    append(" ");
  }
}

void JsonWriter::break_line() {
  append("\n");
  buffer_.append((depth_ + levels_.size()) * kIndentWidth, ' ');
}

void JsonWriter::before_value() {
  assert((!levels_.empty() || !document_done_) && "end_line() comes between two documents");
  assert((levels_.empty() || !levels_.back().is_object || has_key_) &&
         "a member of an object needs a key");
  if (!levels_.empty() && !levels_.back().is_object) separate();
  has_key_ = false;
  document_done_ = levels_.empty();
}

void JsonWriter::end_line() {
  assert(levels_.empty() && document_done_);
  append("\n");
  document_done_ = false;
}

void JsonWriter::null() {
  before_value();
  append("null");
}

void JsonWriter::raw(std::string_view json) {
  before_value();
  append(json);
}

void JsonWriter::value(bool flag) {
  before_value();
  append(flag ? "true" : "false");
}

void JsonWriter::value(double number) {
  if (!std::isfinite(number)) return null();
  before_value();
  std::array<char, 32> room;
  append(digits(number == 0.0 ? 0.0 : number, room));  // without the sign of -0.0
}

void JsonWriter::signed_value(std::int64_t number) {
  before_value();
  std::array<char, 32> room;
  append(digits(number, room));
}

void JsonWriter::unsigned_value(std::uint64_t number) {
  before_value();
  std::array<char, 32> room;
  append(digits(number, room));
}

// Digit by digit: not every standard library's to_chars takes 128 bits.
void JsonWriter::value(Count128 number) {
  before_value();
  std::array<char, 40> room;
  std::size_t first = room.size();
  do {
    room[--first] = static_cast<char>('0' + static_cast<int>(number % 10));
    number /= 10;
  } while (number != 0);
  append({room.data() + first, room.size() - first});
}

void JsonWriter::value(std::string_view text) {
  before_value();
  quote(text);
}

void JsonWriter::quote(std::string_view text) {
  buffer_ += '"';
  std::size_t offset = 0;
  while (offset < text.size()) {
    const std::size_t begin = offset;
    offset = plain_end(text, offset);
    buffer_.append(text, begin, offset - begin);
    if (offset == text.size()) break;
    const auto byte = static_cast<unsigned char>(text[offset]);
    if (byte < 0x80U) {
      append_escape(buffer_, byte);
      ++offset;
    } else if (const std::size_t length = sequence_length(text, offset); length > 0) {
      buffer_.append(text, offset, length);
      offset += length;
    } else {
      buffer_ += kReplacement;
      ++offset;
    }
  }
  append("\"");
}

void JsonWriter::append(std::string_view text) {
  buffer_ += text;
  if (buffer_.size() < kBufferSize) return;
  out_.write(buffer_.data(), static_cast<std::streamsize>(buffer_.size()));
  buffer_.clear();
}

void JsonWriter::flush() {
  out_.write(buffer_.data(), static_cast<std::streamsize>(buffer_.size()));
  buffer_.clear();
  out_.flush();
}

}  // namespace sprocketry::report
