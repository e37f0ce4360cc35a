#include "output.hpp"

#include <fcntl.h>
#include <poll.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <iostream>
#include <system_error>

#include "commands.hpp"
#include "complain.hpp"

namespace sprocketry::cli {
namespace {

namespace fs = std::filesystem;

// Whether the other end of standard output is closed.
bool reader_stopped() {
  pollfd output{STDOUT_FILENO, POLLOUT, 0};
  return poll(&output, 1, 0) > 0 && (output.revents & POLLERR) != 0;
}

std::string why_not_written() {
  if ((fcntl(STDOUT_FILENO, F_GETFL) & O_ACCMODE) == O_RDONLY) return "standard output is closed";
  if (reader_stopped()) return "the program that reads the output stopped before its end";
  return "the output could not be written whole; is the disk full?";
}

// A device or a pipe is written to; nothing may be put in its place.
bool is_replaced(const fs::path& target) {
  std::error_code ignored;
  return !fs::exists(target, ignored) || fs::is_regular_file(target, ignored);
}

}  // namespace

void prepare_streams() {
  std::signal(SIGPIPE, SIG_IGN);
  std::signal(SIGXFSZ, SIG_IGN);  // a file that may grow no more is an error of writing too
  for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
    // Opened the wrong way round, so that reading or writing is still an error.
    const int mode = stream == STDIN_FILENO ? O_WRONLY : O_RDONLY;
    if (fcntl(stream, F_GETFD) < 0 && errno == EBADF) (void)::open("/dev/null", mode);
  }
}

report::Colour colour() {
  const char* no_colour = std::getenv("NO_COLOR");
  const bool refused = no_colour != nullptr && *no_colour != '\0';
  return !refused && isatty(STDOUT_FILENO) ? report::Colour::kTerminal : report::Colour::kNever;
}

int finish_output(int code) {
  std::cout.flush();
  if (std::cout.good()) return code;
  complain(why_not_written());
  return kStopped;
}

Output::Output(const std::optional<std::string>& path)
    : to_file_(path.has_value()), file_(&buffer_) {
  if (!path) return;
  path_ = *path;
  target_ = target_of(path_).value_or(path_);
  written_ = target_;
  if (is_replaced(target_)) written_ += '.' + std::to_string(getpid()) + ".part";
}

Output::~Output() {
  std::error_code ignored;
  if (begun_ && written_ != target_) fs::remove(written_, ignored);
}

WrittenFiles Output::files() const {
  if (!to_file_) return {};
  return {{"--output", path_}};
}

bool Output::can_begin() const { return !to_file_ || can_write(path_); }

std::ostream& Output::stream() {
  if (!to_file_) return std::cout;
  if (begun_ || failed_) return file_;
  begun_ = written_ == target_ ? buffer_.open(written_) : buffer_.create(written_, target_);
  if (!begun_) fail();
  return file_;
}

report::Colour Output::colour() const {
  return to_file_ || plain_ ? report::Colour::kNever : cli::colour();
}

int Output::finish(int code) {
  if (!to_file_) return finish_output(code);
  stream();
  if (!failed_ && !buffer_.close()) fail();
  if (failed_) return kStopped;
  if (written_ == target_) return code;
  std::error_code error;
  fs::rename(written_, target_, error);
  if (!error) {
    begun_ = false;
    return code;
  }
  complain("'" + path_ + "' cannot be replaced: " + error.message());
  return kStopped;
}

void Output::fail() {
  complain("'" + path_ +
           "' cannot be written: " + std::generic_category().message(buffer_.error()));
  failed_ = true;
  file_.setstate(std::ios::badbit);
}

bool write_file(const std::string& path, std::string_view text) {
  Output output(path);
  output.stream() << text;
  return output.finish(kDone) == kDone;
}

}  // namespace sprocketry::cli
