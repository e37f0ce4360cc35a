// Several processes that search together, as Open MPI's launcher starts them.

#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>

#include "cli/launch.hpp"

namespace sprocketry::test::tiny {
namespace {

const std::string kTiny = SPROCKETRY_SOURCE_DIR "/specs/tiny.yaml";
const std::string kDemo = SPROCKETRY_SOURCE_DIR "/specs/demo.yaml";

#ifdef SPROCKETRY_MPI

// mpirun with these arguments. More processes than cores, and in a container as root; what the
// library of MPI leaks is no finding of ours.
Outcome launched(const Words& arguments) {
  Surroundings surroundings;
  surroundings.program = SPROCKETRY_MPI;
  surroundings.environment = {"OMPI_ALLOW_RUN_AS_ROOT=1", "OMPI_ALLOW_RUN_AS_ROOT_CONFIRM=1",
                              "OMPI_MCA_rmaps_base_oversubscribe=1", "ASAN_OPTIONS=detect_leaks=0"};
  return run(arguments, surroundings);
}

Words together(int ranks, const Words& arguments) {
  Words words = {"-n", std::to_string(ranks), SPROCKETRY_PROGRAM};
  words.insert(words.end(), arguments.begin(), arguments.end());
  return words;
}

// One rank searches the demo, the other does this instead.
Words one_and(const Words& other) {
  Words words = {"-n", "1", SPROCKETRY_PROGRAM, "search", kDemo, "--format", "json", ":",
                 "-n", "1"};
  words.insert(words.end(), other.begin(), other.end());
  return words;
}

class Ranks : public testing::Test {
 protected:
  void SetUp() override {
    if (!std::filesystem::exists(SPROCKETRY_MPI)) GTEST_SKIP() << "no mpirun on this machine";
  }
};

TEST_F(Ranks, TogetherPrintWhatOneRunPrints) {
  const std::vector<Words> ways = {{"--format", "json"},
                                   {"--format", "csv"},
                                   {"--format", "text"},
                                   {"--format", "json", "--near", "3 %"},
                                   {"--format", "json", "--resolution", "price=50,range=2 km"},
                                   {"--format", "json", "--rules", "all"}};
  for (const Words& way : ways) {
    Words words = {"search", kTiny};
    words.insert(words.end(), way.begin(), way.end());
    const Outcome alone = run(words);
    const Outcome outcome = launched(together(3, words));
    EXPECT_EQ(outcome.code, 0) << outcome.err;
    EXPECT_EQ(outcome.out, alone.out) << way[1];
    // What the launcher finds odd about the machine, as a missing /sys, is no word of ours.
    EXPECT_FALSE(contains(outcome.err, "sprocketry:")) << outcome.err;
  }
}

// Each half of the demo is large enough for the bounded search, in which ranks tell each other what
// they have found.
TEST_F(Ranks, FindTheFrontOfOneRunAlsoWhereTheyLeaveOut) {
  const Words words = {"search", kDemo, "--format", "json"};
  const auto front = [](const std::string& text) {
    return text.substr(std::min(text.find("\n  \"objectives\": ["), text.size()));
  };
  const Outcome outcome = launched(together(2, words));
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_EQ(front(outcome.out), front(run(words).out));
  const auto count = nlohmann::ordered_json::parse(outcome.out)["count"];
  EXPECT_EQ(count["combinations"], json_of(words)["count"]["combinations"]);
  EXPECT_GT(count["pruned"].get<int>(), 0);
  EXPECT_EQ(launched(together(2, words)).out, outcome.out);
}

TEST_F(Ranks, GiveTheExitCodesOfOneRun) {
  const Outcome no = launched(together(2, {"search", kTiny, "--set", "must.price.max=5"}));
  EXPECT_EQ(no.code, 1);
  EXPECT_TRUE(contains(no.out, "No combination meets every rule"));
  const Outcome stopped =
      launched(together(2, long_search({"--time-limit", "0.2 s", "--format", "json"})));
  EXPECT_EQ(stopped.code, 3) << stopped.err;
  EXPECT_FALSE(nlohmann::ordered_json::parse(stopped.out)["exact"].get<bool>());
  const Outcome wrong = launched(together(2, {"search", "none.yaml"}));
  EXPECT_EQ(wrong.code, 2);
  EXPECT_EQ(wrong.out, "");
  EXPECT_TRUE(contains(wrong.err, "none.yaml: error: the file does not exist"));
  EXPECT_EQ(wrong.err.find("does not exist"), wrong.err.rfind("does not exist"));
  EXPECT_EQ(launched(together(2, {"search", kTiny, "--slice", "1/2", "--format", "json"})).code, 2);
}

TEST_F(Ranks, OfWhichOneDiesPrintNoFront) {
  // Work in the midst of which one is killed; and one that never joins.
  Words work = long_search({"--format", "json"});
  work.insert(work.begin(), SPROCKETRY_PROGRAM);
  Words killed = {"-n", "1"};
  killed.insert(killed.end(), work.begin(), work.end());
  for (const char* word : {":", "-n", "1", "/usr/bin/timeout", "-s", "KILL", "1"}) {
    killed.emplace_back(word);
  }
  killed.insert(killed.end(), work.begin(), work.end());
  for (const Words& words : {killed, one_and({"/bin/false"})}) {
    const Outcome outcome = launched(words);
    EXPECT_NE(outcome.code, 0);
    EXPECT_EQ(outcome.out, "");
    EXPECT_NE(outcome.err, "");
  }
}

TEST_F(Ranks, ThatReadDifferentQuestionsAreRefused) {
  const Outcome other = launched(one_and({SPROCKETRY_PROGRAM, "search", kTiny}));
  EXPECT_EQ(other.code, 2);
  EXPECT_EQ(other.out, "");
  EXPECT_TRUE(contains(other.err, "rank 1 reads another question than rank 0")) << other.err;
  const Outcome none = launched(one_and({SPROCKETRY_PROGRAM, "search", "none.yaml"}));
  EXPECT_EQ(none.code, 2);
  EXPECT_EQ(none.out, "");
  EXPECT_TRUE(contains(none.err, "rank 1 cannot read the question")) << none.err;
  EXPECT_TRUE(contains(none.err, "none.yaml: error: the file does not exist")) << none.err;
}

#else

TEST(Ranks, AreRefusedByAProgramThatCannotJoinThem) {
  Surroundings surroundings;
  surroundings.environment = {"OMPI_COMM_WORLD_SIZE=2", "OMPI_COMM_WORLD_RANK=0"};
  const Outcome outcome = run({"search", kTiny}, surroundings);
  EXPECT_EQ(outcome.code, 2);
  EXPECT_EQ(outcome.out, "");
  EXPECT_TRUE(contains(outcome.err, "built without MPI")) << outcome.err;
}

#endif

}  // namespace
}  // namespace sprocketry::test::tiny
