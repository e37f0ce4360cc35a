#pragma once

#include <cstddef>
#include <deque>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace sprocketry::document {

// A text that was read, kept so that messages can show its lines. `name` is what the person typed
// (a path as given, or "--set PATH"); `file` is where it was read from, empty for what is no file.
struct Source {
  std::string name;
  std::string text;
  std::filesystem::path file;
};

// A place in a source; line and column count from 1, column counts code points. A mark without a
// source (`source == nullptr`) belongs to no file.
struct Mark {
  const Source* source = nullptr;
  std::size_t line = 0;
  std::size_t column = 0;
};

enum class Severity { kError, kWarning };

// One finding about an input: what is wrong, where, and what to do.
struct Diagnostic {
  Severity severity = Severity::kError;
  Mark mark;
  std::string message;  // what is wrong
  std::string hint;     // what to do; may be empty
  std::optional<Mark> second_mark;
  std::string second_message;  // why the second place matters ("first given here")
};

// Collects the findings of one run and owns the sources that they point into. Not thread-safe.
class Diagnostics {
 public:
  // Keeps a source for as long as this object lives; the address stays valid.
  const Source& add_source(std::string name, std::string text, std::filesystem::path file = {});
  // All of them, in the order in which they were added.
  [[nodiscard]] const std::deque<Source>& sources() const { return sources_; }

  void error(const Mark& mark, std::string message, std::string hint = {});
  void warning(const Mark& mark, std::string message, std::string hint = {});
  void add(Diagnostic diagnostic);

  [[nodiscard]] bool has_errors() const { return error_count_ > 0; }
  [[nodiscard]] const std::vector<Diagnostic>& all() const { return all_; }

  // All findings as text for a person: "name:line:column: error: message", the line, a caret, what
  // to do. In the order of source, line and column; duplicates once; at most `limit` findings, then
  // a line that says how many were left out.
  [[nodiscard]] std::string text(std::size_t limit = 50) const;

 private:
  std::deque<Source> sources_;
  std::vector<Diagnostic> all_;
  std::size_t error_count_ = 0;
};

// The one candidate that begins with `word`, of which three letters at least stand behind the last
// dot ("cells.*.cap"); else the candidate nearest to it by edit distance, if it is near enough to
// be what was meant (at most a third of the word's length, at least 1, at most 3 edits; case is
// ignored).
std::optional<std::string_view> nearest(std::string_view word,
                                        const std::vector<std::string_view>& candidates);

}  // namespace sprocketry::document
