#include "file_buffer.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>

namespace sprocketry::cli {
namespace {

// Who may read and write the file that is replaced may do so still. Only the system's manager can
// give a file to another owner, so that this fails for others is no failure.
void take_permissions(int file, const struct stat& like) {
  constexpr mode_t kPermissions = 0777;
  if (fchown(file, like.st_uid, like.st_gid) != 0) errno = 0;
  if (fchmod(file, like.st_mode & kPermissions) != 0) errno = 0;
}

}  // namespace

FileBuffer::~FileBuffer() {
  if (is_open()) ::close(file_);
}

bool FileBuffer::create(const std::filesystem::path& path, const std::filesystem::path& like) {
  constexpr mode_t kAsUmaskSays = 0666;
  if (!opened(::open(path.c_str(), O_WRONLY | O_CLOEXEC | O_CREAT | O_EXCL, kAsUmaskSays))) {
    return false;
  }
  struct stat status {};
  if (stat(like.c_str(), &status) == 0) take_permissions(file_, status);
  return true;
}

bool FileBuffer::open(const std::filesystem::path& path) {
  return opened(::open(path.c_str(), O_WRONLY | O_CLOEXEC | O_NONBLOCK)) &&
         // Only opening must not wait: a reader that is slow is waited for.
         opened(fcntl(file_, F_SETFL, O_WRONLY) == 0 ? file_ : -1);
}

bool FileBuffer::opened(int file) {
  if (file < 0) {
    error_ = errno;
    return false;
  }
  file_ = file;
  setp(text_.begin(), text_.end());
  return true;
}

bool FileBuffer::close() {
  if (!is_open()) return false;
  write_out();
  if (::close(file_) != 0 && error_ == 0) error_ = errno;
  file_ = -1;
  return error_ == 0;
}

FileBuffer::int_type FileBuffer::overflow(int_type c) {
  if (!write_out()) return traits_type::eof();
  if (!traits_type::eq_int_type(c, traits_type::eof())) sputc(traits_type::to_char_type(c));
  return traits_type::not_eof(c);
}

int FileBuffer::sync() { return write_out() ? 0 : -1; }

bool FileBuffer::write_out() {
  const char* at = pbase();
  while (error_ == 0 && at < pptr()) {
    const ssize_t taken = ::write(file_, at, static_cast<std::size_t>(pptr() - at));
    if (taken >= 0) {
      at += taken;
    } else if (errno != EINTR) {
      error_ = errno;
    }
  }
  setp(text_.begin(), text_.end());
  return error_ == 0;
}

}  // namespace sprocketry::cli
