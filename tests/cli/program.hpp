#pragma once

#include <string>

namespace sprocketry::test {

struct Outcome {
  int code = -1;
  std::string output;  // standard output
  std::string errors;  // standard error
};

// Runs the program with these arguments (as a shell would split them) from the checkout's root.
Outcome run_program(const std::string& arguments);

// Writes a text into a file of that name in a folder of this test process; returns its path.
std::string write_temporary(const std::string& name, const std::string& text);

std::string read_file(const std::string& path);

}  // namespace sprocketry::test
