#include "cli/launch.hpp"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <spawn.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <chrono>
#include <csignal>
#include <fstream>
#include <functional>
#include <sstream>
#include <stdexcept>
#include <thread>

#include "cli/tiny.hpp"

namespace sprocketry::test::tiny {
namespace {

namespace fs = std::filesystem;

std::string make_folder() {
  std::string name = (fs::temp_directory_path() / "sprocketry-cli-XXXXXX").string();
  if (mkdtemp(name.data()) == nullptr) throw std::runtime_error("no temporary folder");
  return name;
}

std::vector<char*> pointers(Words& words) {
  std::vector<char*> list;
  for (std::string& word : words) list.push_back(word.data());
  list.push_back(nullptr);
  return list;
}

Words environment_with(const Words& more) {
  Words words = more;
  for (char** entry = environ; *entry != nullptr; ++entry) {
    if (!std::string(*entry).starts_with("NO_COLOR=")) words.emplace_back(*entry);
  }
  return words;
}

// What a program that is started does with its streams and folder.
class Actions {
 public:
  Actions() { posix_spawn_file_actions_init(&actions_); }
  ~Actions() { posix_spawn_file_actions_destroy(&actions_); }
  Actions(const Actions&) = delete;
  Actions& operator=(const Actions&) = delete;

  void open(int stream, const std::string& path) {
    constexpr mode_t kForMe = 0600;
    posix_spawn_file_actions_addopen(&actions_, stream, path.c_str(), O_WRONLY | O_CREAT, kForMe);
  }
  void close(int stream) { posix_spawn_file_actions_addclose(&actions_, stream); }
  void use(int file, int stream) { posix_spawn_file_actions_adddup2(&actions_, file, stream); }
  void enter(const std::string& folder) {
    posix_spawn_file_actions_addchdir_np(&actions_, folder.c_str());
  }

  pid_t start(const Words& arguments, const Words& environment,
              const std::string& program = SPROCKETRY_PROGRAM) {
    Words words = arguments;
    words.insert(words.begin(), program);
    Words settings = environment_with(environment);
    pid_t child = -1;
    const int error = posix_spawn(&child, program.c_str(), &actions_, nullptr,
                                  pointers(words).data(), pointers(settings).data());
    if (error != 0) throw std::runtime_error("the program cannot be started");
    return child;
  }

 private:
  posix_spawn_file_actions_t actions_{};
};

// A program that hangs is ended; the time says nothing about speed.
int wait_for(pid_t child) {
  constexpr auto kPatience = std::chrono::minutes(5);
  constexpr auto kPause = std::chrono::milliseconds(2);
  const auto deadline = std::chrono::steady_clock::now() + kPatience;
  int status = 0;
  pid_t ended = 0;
  while ((ended = waitpid(child, &status, WNOHANG)) == 0 || (ended < 0 && errno == EINTR)) {
    if (std::chrono::steady_clock::now() > deadline) kill(child, SIGKILL);
    std::this_thread::sleep_for(kPause);
  }
  return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

// Everything that comes out of a terminal until its other end is closed, or until `enough` says so.
std::string drain(int terminal, const std::function<bool(const std::string&)>& enough) {
  std::string text;
  std::array<char, 4096> room{};
  while (!enough(text)) {
    const ssize_t count = read(terminal, room.data(), room.size());
    if (count <= 0) break;
    text.append(room.data(), static_cast<std::size_t>(count));
  }
  return text;
}

std::string drain(int terminal) {
  return drain(terminal, [](const std::string&) { return false; });
}

// A terminal: our end of it and the program's.
struct Terminal {
  int ours = -1;
  int theirs = -1;
};

Terminal make_terminal() {
  const int ours = posix_openpt(O_RDWR | O_NOCTTY | O_CLOEXEC);
  if (ours < 0 || grantpt(ours) != 0 || unlockpt(ours) != 0) {
    throw std::runtime_error("no terminal");
  }
  return {ours, open(ptsname(ours), O_RDWR | O_NOCTTY | O_CLOEXEC)};
}

// Until the program has ended, which is left to wait for.
void send_again_and_again(pid_t child, int signal) {
  constexpr auto kMoment = std::chrono::milliseconds(400);
  siginfo_t ended{};
  while (waitid(P_PID, static_cast<id_t>(child), &ended, WEXITED | WNOHANG | WNOWAIT) == 0 &&
         ended.si_pid == 0) {
    kill(child, signal);
    std::this_thread::sleep_for(kMoment);
  }
}

}  // namespace

Workplace::Workplace() : path_(make_folder()) {
  write("bike.yaml", kTinyRequirement);
  write("parts.yaml", kTinyParts);
}

Workplace::~Workplace() {
  std::error_code ignored;
  fs::remove_all(path_, ignored);
}

void Workplace::write(const std::string& name, const std::string& text) const {
  std::ofstream(path_ / name, std::ios::binary) << text;
}

void Workplace::edit(const std::string& name, const std::string& from,
                     const std::string& to) const {
  std::string text = read_file(file(name));
  const std::size_t at = text.find(from);
  ASSERT_NE(at, std::string::npos) << from;
  write(name, text.replace(at, from.size(), to));
}

Outcome run(const Words& arguments, const Surroundings& surroundings) {
  const std::string folder = make_folder();
  const std::string out = folder + "/out";
  const std::string err = folder + "/err";
  Actions actions;
  if (surroundings.close_out) {
    actions.close(STDOUT_FILENO);
  } else {
    actions.open(STDOUT_FILENO, surroundings.out.empty() ? out : surroundings.out);
  }
  actions.open(STDERR_FILENO, err);
  actions.enter(surroundings.folder);
  Outcome outcome;
  const pid_t child = actions.start(arguments, surroundings.environment, surroundings.program);
  if (surroundings.close_reader >= 0) close(surroundings.close_reader);
  outcome.code = wait_for(child);
  outcome.out = read_file(out);
  outcome.err = read_file(err);
  fs::remove_all(folder);
  return outcome;
}

Outcome run_on_terminal(const Words& arguments, const Words& environment) {
  const Terminal terminal = make_terminal();
  Actions actions;
  actions.use(terminal.theirs, STDOUT_FILENO);
  const pid_t child = actions.start(arguments, environment);
  close(terminal.theirs);
  Outcome outcome;
  outcome.out = drain(terminal.ours);
  close(terminal.ours);
  outcome.code = wait_for(child);
  return outcome;
}

Outcome run_interrupted(const Words& arguments, const Interruption& interruption) {
  const Terminal terminal = make_terminal();
  std::array<int, 2> pipe_ends{-1, -1};
  if (pipe2(pipe_ends.data(), O_CLOEXEC) != 0) throw std::runtime_error("no pipe");
  Actions actions;
  actions.use(pipe_ends[1], STDOUT_FILENO);
  actions.use(terminal.theirs, STDERR_FILENO);
  const pid_t child = actions.start(arguments, {});
  close(terminal.theirs);
  close(pipe_ends[1]);
  std::thread reader;
  Outcome outcome;
  if (!interruption.unread) reader = std::thread([&] { outcome.out = drain(pipe_ends[0]); });
  // Each line of progress ends with the seconds so far.
  outcome.err = drain(terminal.ours, [](const std::string& text) { return contains(text, " s"); });
  kill(child, interruption.signal);
  if (interruption.unread) {
    send_again_and_again(child, interruption.signal);
  } else {
    kill(child, interruption.signal);
    reader.join();
  }
  outcome.err += drain(terminal.ours);
  close(terminal.ours);
  close(pipe_ends[0]);
  outcome.code = wait_for(child);
  return outcome;
}

std::string many_packs(int parallel) {
  const auto counts = [](int from, int to) {
    std::string list = "[";
    for (int i = from; i <= to; ++i) list += (i > from ? "," : "") + std::to_string(i);
    return list + ']';
  };
  return "choose.pack={series: " + counts(12, 24) + ", parallel: " + counts(1, parallel) + "}";
}

Words long_search(const Words& more) {
  Words words = {"search",    SPROCKETRY_SOURCE_DIR "/specs/demo.yaml",
                 "--set",     "ride={cycle: udds}",
                 "--set",     many_packs(500),
                 "--threads", "1"};
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

nlohmann::ordered_json json_of(const Words& arguments, int expected_code) {
  const Outcome outcome = run(arguments);
  EXPECT_EQ(outcome.code, expected_code) << outcome.err;
  auto document = nlohmann::ordered_json::parse(outcome.out, nullptr, false);
  EXPECT_FALSE(document.is_discarded()) << outcome.out.substr(0, 1000);
  return document;
}

std::string read_file(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

Words lines_of(const std::string& text) {
  Words lines = split(text, '\n');
  if (!lines.empty() && lines.back().empty()) lines.pop_back();
  return lines;
}

Words split(const std::string& line, char separator) {
  Words fields(1);
  for (const char c : line) {
    if (c == separator) {
      fields.emplace_back();
    } else {
      fields.back() += c;
    }
  }
  return fields;
}

bool contains(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace sprocketry::test::tiny
