#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <vector>

// Broken input, as data: every way in which a person, an editor or an ill-meaning file has gone
// wrong, and what must be said about it. Whoever runs the table (in the process or as a command)
// writes `files` into an empty folder and loads "bike.yaml" there.
namespace sprocketry::test {

struct BrokenFile {
  std::string name;                          // what is broken, for the test's output
  std::map<std::string, std::string> files;  // by name; a name that ends with '/' is a folder
  std::vector<std::string> overrides;        // of --set
  std::string place;                         // the file that the error is in
  std::size_t line = 0;                      // counted from 1; 0: the file as a whole
  std::string fragment;                      // of the message or of what to do
};

std::vector<BrokenFile> broken_files();

// The files that every row is an edit of; valid.
const std::map<std::string, std::string>& sound_files();

}  // namespace sprocketry::test
