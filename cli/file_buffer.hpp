#pragma once

#include <array>
#include <filesystem>
#include <streambuf>

namespace sprocketry::cli {

// What a std::ostream writes to a file through. Unlike std::filebuf it keeps why writing failed,
// and opens a file once, in the way that it is told.
class FileBuffer : public std::streambuf {
 public:
  FileBuffer() = default;
  // Closes without writing what is left.
  ~FileBuffer() override;
  FileBuffer(const FileBuffer&) = delete;
  FileBuffer& operator=(const FileBuffer&) = delete;

  // Creates a file that must not be there, with the permissions of `like` if that is one. False
  // when it cannot; then error() says why.
  bool create(const std::filesystem::path& path, const std::filesystem::path& like);
  // Opens a device or a pipe, without waiting for the pipe's reader.
  bool open(const std::filesystem::path& path);
  // Writes what is left and closes. False when anything was not taken.
  bool close();
  [[nodiscard]] bool is_open() const { return file_ >= 0; }
  // The first failure, as errno; 0 for none.
  [[nodiscard]] int error() const { return error_; }

 protected:
  int_type overflow(int_type c) override;
  int sync() override;

 private:
  bool opened(int file);
  bool write_out();

  int file_ = -1;
  int error_ = 0;
  std::array<char, std::size_t{1} << 16U> text_{};
};

}  // namespace sprocketry::cli
