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

std::string reason() { return std::generic_category().message(errno); }

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

// Of a link, the file that it stands for.
fs::path target_of(const std::string& path) {
  std::error_code error;
  fs::path target = fs::canonical(path, error);
  return error ? fs::path(path) : target;
}

// A device or a pipe is written to; nothing may be put in its place.
bool is_replaced(const fs::path& target) {
  std::error_code ignored;
  return !fs::exists(target, ignored) || fs::is_regular_file(target, ignored);
}

// Creates the file, which must not be there, or opens a device or a pipe: without waiting for the
// pipe's reader. False with errno set.
bool open_stream(std::ofstream& stream, const fs::path& path, bool creates) {
  constexpr mode_t kAsUmaskSays = 0666;
  const int how = creates ? O_CREAT | O_EXCL : O_NONBLOCK;
  const int file = ::open(path.c_str(), O_WRONLY | O_CLOEXEC | how, kAsUmaskSays);
  if (file < 0) return false;
  stream.open(path, std::ios::binary);
  ::close(file);
  return stream.is_open();
}

}  // namespace

void prepare_streams() {
  std::signal(SIGPIPE, SIG_IGN);
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

bool can_write(const std::string& path) {
  std::error_code ignored;
  const fs::path folder = fs::path(path).has_parent_path() ? fs::path(path).parent_path() : ".";
  if (path.empty() || fs::is_directory(path, ignored)) {
    complain("'" + path + "' is not a file that can be written; name a file");
  } else if (!fs::is_directory(folder, ignored)) {
    complain("there is no folder '" + folder.string() + "' to write '" + path + "' into; make it");
  } else if (access(folder.c_str(), W_OK | X_OK) != 0) {
    complain("'" + path + "' cannot be written: " + reason());
  } else {
    return true;
  }
  return false;
}

Output::Output(const std::optional<std::string>& path) : to_file_(path.has_value()) {
  if (!path) return;
  path_ = *path;
  target_ = target_of(path_);
  written_ = target_;
  if (is_replaced(target_)) written_ += '.' + std::to_string(getpid()) + ".part";
}

Output::~Output() {
  std::error_code ignored;
  if (begun_ && written_ != target_) fs::remove(written_, ignored);
}

bool Output::can_begin() const { return !to_file_ || can_write(path_); }

std::ostream& Output::stream() {
  if (!to_file_) return std::cout;
  if (begun_ || failed_) return file_;
  begun_ = open_stream(file_, written_, written_ != target_);
  if (!begun_) fail();
  return file_;
}

report::Colour Output::colour() const {
  return to_file_ || plain_ ? report::Colour::kNever : cli::colour();
}

int Output::finish(int code) {
  if (!to_file_) return finish_output(code);
  errno = 0;
  if (stream().flush()) file_.close();
  if (!file_) fail();
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
  if (!failed_) complain("'" + path_ + "' cannot be written: " + reason());
  failed_ = true;
  file_.setstate(std::ios::badbit);
}

bool write_file(const std::string& path, std::string_view text) {
  Output output(path);
  output.stream() << text;
  return output.finish(kDone) == kDone;
}

}  // namespace sprocketry::cli
