#include "cli/program.hpp"

#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

namespace sprocketry::test {
namespace {

std::filesystem::path folder() {
  static const std::filesystem::path kFolder = [] {
    auto path =
        std::filesystem::temp_directory_path() / ("sprocketry-cli-" + std::to_string(getpid()));
    std::filesystem::create_directories(path);
    return path;
  }();
  return kFolder;
}

}  // namespace

std::string read_file(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

std::string write_temporary(const std::string& name, const std::string& text) {
  const auto path = folder() / name;
  std::ofstream(path, std::ios::binary) << text;
  return path.string();
}

Outcome run_program(const std::string& arguments) {
  const std::string out = (folder() / "stdout").string();
  const std::string err = (folder() / "stderr").string();
  const std::string command = "cd '" SPROCKETRY_SOURCE_DIR "' && '" SPROCKETRY_PROGRAM "' " +
                              arguments + " >'" + out + "' 2>'" + err + "' </dev/null";
  const int status = std::system(command.c_str());
  return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, read_file(out), read_file(err)};
}

}  // namespace sprocketry::test
