#pragma once

#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

namespace sprocketry::test::tiny {

using Words = std::vector<std::string>;

// A folder of its own with the tiny requirement (bike.yaml) and its parts (parts.yaml), removed in
// the end.
class Workplace {
 public:
  Workplace();
  ~Workplace();
  Workplace(const Workplace&) = delete;
  Workplace& operator=(const Workplace&) = delete;

  [[nodiscard]] std::string file(const std::string& name) const { return (path_ / name).string(); }
  [[nodiscard]] std::string bike() const { return file("bike.yaml"); }
  [[nodiscard]] const std::filesystem::path& path() const { return path_; }
  void write(const std::string& name, const std::string& text) const;
  // Replaces the first `from`, which must be there, in one of the files.
  void edit(const std::string& name, const std::string& from, const std::string& to) const;

 private:
  std::filesystem::path path_;
};

// How the program is run. An empty `out` catches standard output; else it goes to that file.
struct Surroundings {
  std::string out = {};
  bool close_out = false;
  int close_reader = -1;  // a file of this process, closed once the program has started
  std::string folder = "/";
  Words environment = {};  // "NAME=value", besides this process's own without NO_COLOR
  std::string program = SPROCKETRY_PROGRAM;
};

struct Outcome {
  int code = -1;  // 128 + the signal's number when one ended the program
  std::string out;
  std::string err;
};

// Runs the program with these arguments; no shell takes part.
Outcome run(const Words& arguments, const Surroundings& surroundings = {});

// The same with standard output on a terminal, which is caught.
Outcome run_on_terminal(const Words& arguments, const Words& environment = {});

// The same with standard error on a terminal. Once that shows the progress of the work, the program
// gets the signal: twice in a moment, as `timeout` and shells send it; where nobody reads standard
// output, so that it cannot end by itself, again and again.
struct Interruption {
  int signal = 0;
  bool unread = false;
};
Outcome run_interrupted(const Words& arguments, const Interruption& interruption);

// A search of the demo, on one thread, that takes far longer (half a minute on a fast machine) than
// any test waits: for tests that stop it. With `more` besides.
Words long_search(const Words& more = {});

// "choose.pack={series: [12,...,24], parallel: [1,...,PARALLEL]}" for --set.
std::string many_packs(int parallel);

// Runs and reads standard output as JSON; a test fails where it is none.
nlohmann::ordered_json json_of(const Words& arguments, int expected_code = 0);

Words lines_of(const std::string& text);
Words split(const std::string& line, char separator);
bool contains(const std::string& text, const std::string& part);
std::string read_file(const std::string& path);

}  // namespace sprocketry::test::tiny
