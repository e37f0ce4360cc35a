#pragma once

#include <filesystem>
#include <optional>
#include <ostream>
#include <string>
#include <string_view>

#include "file_buffer.hpp"
#include "report/text.hpp"
#include "written_files.hpp"

namespace sprocketry::cli {

// Makes standard output safe to write to: a reader that stops is an error of writing, not a signal
// that ends the program without a word; and where a stream is closed, no file that is opened later
// takes its place. Call before anything else.
void prepare_streams();

// Colour when standard output is a terminal and NO_COLOR is not set (or empty).
report::Colour colour();

// `code` when standard output took everything; else says so on standard error and returns kStopped.
int finish_output(int code);

// Where a command's answer goes: standard output, or a file (--output). A file is written under
// another name beside it and renamed in the end, so that a failure leaves the old one as it was; a
// device or a pipe is written to as it is.
class Output {
 public:
  // Without a path standard output. Opens nothing yet.
  explicit Output(const std::optional<std::string>& path);
  // Removes what was written when finish() did not rename it.
  ~Output();
  Output(const Output&) = delete;
  Output& operator=(const Output&) = delete;

  // The file of --output, if one was named.
  [[nodiscard]] WrittenFiles files() const;
  // can_write(), which is asked before the work begins.
  [[nodiscard]] bool can_begin() const;
  // What to write to; a failure shows in its state, and is said once.
  std::ostream& stream();
  [[nodiscard]] report::Colour colour() const;
  // From now on without colour, also on a terminal.
  void stay_plain() { plain_ = true; }
  // `code` when everything was taken; else says so on standard error and returns kStopped.
  int finish(int code);

 private:
  void fail();

  bool to_file_ = false;
  bool plain_ = false;
  bool begun_ = false;
  bool failed_ = false;
  std::string path_;               // as the person wrote it
  std::filesystem::path target_;   // the file it stands for
  std::filesystem::path written_;  // what is open meanwhile
  FileBuffer buffer_;
  std::ostream file_;
};

// Writes a whole file as Output does. If it cannot, says why on standard error and returns false.
bool write_file(const std::string& path, std::string_view text);

}  // namespace sprocketry::cli
