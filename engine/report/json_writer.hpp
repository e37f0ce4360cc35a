#pragma once

#include <concepts>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <ostream>
#include <string>
#include <string_view>
#include <vector>

namespace sprocketry::report {

__extension__ using Count128 = unsigned __int128;

// How a document is laid out: kPretty indents by two spaces, kCompact writes everything on one line
// without a space (a line of JSON Lines).
enum class Indent { kPretty, kCompact };

// How one list or object of a pretty document is laid out: its members on lines of their own, or
// all on one line with whatever is inside them.
enum class Layout { kBlock, kLine };

// Writes JSON (RFC 8259) as it comes, so that a document needs no memory for its size. The same
// calls give the same bytes everywhere: no locale takes part.
//   - doubles in the shortest form that reads back as the same double; -0.0 as 0; NaN and infinity,
//     which JSON does not have, as null
//   - integers in full, beyond 2^53 too
//   - strings escaped where JSON demands it, UTF-8 passed through; a byte that is not UTF-8 becomes
//     U+FFFD, so that the output is always valid
// Several values at the top are allowed, and separated by a line end: after each call of end_line()
// the next document begins. Wrong use (a value without a key in an object, a key in a list, an end
// that closes nothing or the other kind) is a defect and stops a debug build by assert.
// The output is buffered: it reaches the stream at flush() and when this object dies; the stream's
// state says whether that worked. Not thread-safe.
class JsonWriter {
 public:
  // `depth`: how many lists and objects are open around what it writes, in a part of a document.
  explicit JsonWriter(std::ostream& out, Indent indent = Indent::kPretty, std::size_t depth = 0);
  ~JsonWriter();
  JsonWriter(const JsonWriter&) = delete;
  JsonWriter& operator=(const JsonWriter&) = delete;

  void begin_object(Layout layout = Layout::kBlock);
  void end_object();
  void begin_list(Layout layout = Layout::kBlock);
  void end_list();

  // The name of the member that comes next in the open object.
  void key(std::string_view name);

  void null();
  void value(bool flag);
  void value(double number);
  void value(std::string_view text);
  void value(const char* text) { value(std::string_view(text)); }
  void value(const std::string& text) { value(std::string_view(text)); }
  void value(Count128 number);
  template <std::signed_integral Integer>
  void value(Integer number) {
    signed_value(number);
  }
  template <std::unsigned_integral Integer>
  requires(!std::same_as<Integer, bool>) void value(Integer number) { unsigned_value(number); }
  // Nothing is written as null.
  template <typename Value>
  void value(const std::optional<Value>& maybe) {
    maybe ? value(*maybe) : null();
  }

  // A value that is JSON already, laid out as it shall stand here; in a list also several, with
  // what separates them.
  void raw(std::string_view json);

  // key() and value() in one.
  template <typename Value>
  void member(std::string_view name, const Value& content) {
    key(name);
    value(content);
  }

  // Ends the line of a finished document; the next value begins a new one.
  void end_line();

  // Hands everything written so far to the stream and flushes it.
  void flush();

 private:
  // A list or an object that is open.
  struct Level {
    bool is_object = false;
    bool on_line = false;
    bool is_empty = true;
  };

  void begin(bool is_object, Layout layout);
  void end(bool is_object);
  void separate();
  void break_line();
  void before_value();
  void signed_value(std::int64_t number);
  void unsigned_value(std::uint64_t number);
  void quote(std::string_view text);
  void append(std::string_view text);

  std::ostream& out_;
  Indent indent_;
  std::size_t depth_;
  std::string buffer_;
  std::vector<Level> levels_;
  bool has_key_ = false;        // a key was written, its value comes next
  bool document_done_ = false;  // a whole value was written at the top
};

}  // namespace sprocketry::report
