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

namespace sprocketry::cli {
namespace {

namespace fs = std::filesystem;

void complain(const std::string& text) { std::cerr << "sprocketry: " << text << '\n'; }

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

bool write_all(int file, std::string_view text) {
  while (!text.empty()) {
    const ssize_t written = ::write(file, text.data(), text.size());
    if (written < 0 && errno == EINTR) continue;
    if (written <= 0) return false;
    text.remove_prefix(static_cast<std::size_t>(written));
  }
  return true;
}

bool fill(int file, std::string_view text) {
  const bool written = file >= 0 && write_all(file, text);
  const int first_error = errno;
  if (file >= 0 && ::close(file) != 0) return false;
  if (!written) errno = first_error;
  return written;
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

bool write_file(const std::string& path, std::string_view text) {
  std::error_code error;
  fs::path target = fs::canonical(path, error);  // of a link, the file that it stands for
  if (error) target = path;
  if (fs::exists(target, error) && !fs::is_regular_file(target, error)) {
    // A device or a pipe is written to; nothing may be put in its place.
    if (fill(::open(target.c_str(), O_WRONLY | O_CLOEXEC), text)) return true;
    complain("'" + path + "' cannot be written: " + reason());
    return false;
  }
  const std::string beside = target.string() + '.' + std::to_string(getpid()) + ".part";
  constexpr mode_t kAsUmaskSays = 0666;
  if (!fill(::open(beside.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, kAsUmaskSays), text)) {
    complain("'" + path + "' cannot be written: " + reason());
    fs::remove(beside, error);
    return false;
  }
  fs::rename(beside, target, error);
  if (!error) return true;
  complain("'" + path + "' cannot be replaced: " + error.message());
  fs::remove(beside, error);
  return false;
}

}  // namespace sprocketry::cli
