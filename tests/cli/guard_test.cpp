#include "cli/guard.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cerrno>
#include <new>
#include <stdexcept>
#include <system_error>

#include "cli/commands.hpp"

namespace sprocketry::test {
namespace {

struct Heard {
  int code = 0;
  std::string said;
};

Heard hear(const std::function<int()>& work) {
  testing::internal::CaptureStderr();
  const int code = cli::guarded(work);
  return {code, testing::internal::GetCapturedStderr()};
}

TEST(Guard, GivesTheCodeOfWorkThatEnds) {
  for (const int code : {cli::kDone, cli::kAnswerIsNo, cli::kBadInput, cli::kStopped}) {
    const Heard heard = hear([code] { return code; });
    EXPECT_EQ(heard.code, code);
    EXPECT_EQ(heard.said, "");
  }
}

TEST(Guard, TellsADefectByExitCode70AndAsksForAReport) {
  const std::vector<std::pair<std::function<int()>, std::string>> cases = {
      {[]() -> int { throw std::logic_error("the account does not add up"); },
       "sprocketry: the account does not add up\n"},
      {[]() -> int { throw std::system_error(ENOENT, std::generic_category()); }, "sprocketry: "},
      {[]() -> int { throw 7; }, "sprocketry: something unknown went wrong\n"},
  };
  for (const auto& [work, beginning] : cases) {
    const Heard heard = hear(work);
    EXPECT_EQ(heard.code, 70);
    EXPECT_TRUE(heard.said.starts_with(beginning)) << heard.said;
    EXPECT_NE(heard.said.find("a defect in the program; please report"), std::string::npos);
    EXPECT_EQ(std::ranges::count(heard.said, '\n'), 2);
  }
}

TEST(Guard, TellsWhatTheSystemDoesNotGrant) {
  const Heard memory = hear([]() -> int { throw std::bad_alloc(); });
  EXPECT_EQ(memory.code, cli::kStopped);
  EXPECT_TRUE(memory.said.starts_with("sprocketry: there is not enough memory")) << memory.said;
  const Heard threads =
      hear([]() -> int { throw std::system_error(EAGAIN, std::generic_category()); });
  EXPECT_EQ(threads.code, cli::kStopped);
  EXPECT_NE(threads.said.find("no more threads"), std::string::npos) << threads.said;
}

TEST(Guard, ShowsNothingThatMovesATerminal) {
  const Heard heard = hear([]() -> int { throw std::runtime_error("a\x1b[31mb\xff"); });
  EXPECT_EQ(heard.code, 70);
  EXPECT_TRUE(heard.said.starts_with("sprocketry: a\uFFFD[31mb\uFFFD\n")) << heard.said;
}

}  // namespace
}  // namespace sprocketry::test
