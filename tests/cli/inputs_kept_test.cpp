// No answer takes the place of a file that somebody wrote.

#include <gtest/gtest.h>
#include <sys/stat.h>

#include "cli/launch.hpp"

namespace sprocketry::test::tiny {
namespace {

namespace fs = std::filesystem;

Words with(Words words, const Words& more) {
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

// The same under a limit that a shell sets.
Outcome run_limited(const std::string& limit, const Words& command) {
  Surroundings surroundings;
  surroundings.program = "/bin/sh";
  Words words = {"-c", limit + R"(; exec "$0" "$@")", SPROCKETRY_PROGRAM};
  return run(with(std::move(words), command), surroundings);
}

// Runs it, expecting that it refuses and leaves `input` as it was.
void expect_spared(const Words& command, const std::string& input) {
  const std::string before = read_file(input);
  const Outcome outcome = run(command);
  EXPECT_EQ(outcome.code, 2) << command.front() << ' ' << input;
  EXPECT_EQ(outcome.out, "");
  EXPECT_TRUE(contains(outcome.err, "which would be lost; name another")) << outcome.err;
  EXPECT_EQ(read_file(input), before) << command.front();
}

TEST(Inputs, AreSparedByEveryCommandThatReadsARequirement) {
  const Workplace place;
  const std::string bike = place.bike();
  const std::string id = json_of({"search", bike, "--format", "json"})["front"][0]["id"];
  const std::vector<Words> commands = {
      {"search", bike},
      {"search", bike, "--stand-ins", id},
      {"search", bike, "--slice", "1/2", "--format", "json"},
      {"evaluate", bike, "--pick", id},
      {"enumerate", bike},
      {"explain", bike},
      {"robust", bike, "--samples", "32"},
      {"compare", bike, "--b-set", "must.price.max=5000"},
      {"parts", bike},
      {"swaps", bike, "--pick", id},
      {"sheet", bike, "--pick", id},
      {"guard", bike, "--pick", id},
      {"lock", bike, "--pick", id},
  };
  fs::create_symlink(bike, place.file("link.yaml"));
  fs::create_hard_link(place.file("parts.yaml"), place.file("same.yaml"));
  for (const Words& command : commands) {
    expect_spared(with(command, {"--output", bike}), bike);
    expect_spared(with(command, {"--output", place.file("link.yaml")}), bike);
    expect_spared(with(command, {"--output", place.file("parts.yaml")}), place.file("parts.yaml"));
    expect_spared(with(command, {"--output", place.file("same.yaml")}), place.file("parts.yaml"));
  }
  expect_spared({"search", bike, "--html", bike}, bike);
}

TEST(Inputs, AreSparedAlsoWhenOtherFilesNameThem) {
  const Workplace place;
  place.write("ride.csv", "time_s,speed_km_h\n0,0\n10,30\n60,30\n70,0\n");
  const Words ride = {"search", place.bike(), "--set", "ride={trace: ride.csv}"};
  ASSERT_NE(run(ride).code, 2) << run(ride).err;
  expect_spared(with(ride, {"--output", place.file("ride.csv")}), place.file("ride.csv"));
  place.write("other.yaml", read_file(place.bike()));
  expect_spared({"compare", place.bike(), place.file("other.yaml"), "--b-set",
                 "must.price.max=5000", "--output", place.file("other.yaml")},
                place.file("other.yaml"));
}

TEST(Slices, AreSparedByMerge) {
  const Workplace place;
  for (const char* slice : {"1/2", "2/2"}) {
    const std::string file = place.file(std::string(1, slice[0]) + ".json");
    ASSERT_EQ(
        run({"search", place.bike(), "--slice", slice, "--format", "json", "--output", file}).code,
        0);
  }
  const Words merge = {"merge", place.file("1.json"), place.file("2.json"), "--output"};
  expect_spared(with(merge, {place.file("2.json")}), place.file("2.json"));
  EXPECT_EQ(run(with(merge, {place.file("whole.json")})).code, 0);
}

TEST(Locks, AreSparedByCheckAndSoIsWhatTheyWereMadeFrom) {
  const Workplace place;
  const std::string id = json_of({"search", place.bike(), "--format", "json"})["front"][0]["id"];
  const std::string lock = place.file("bike.lock.yaml");
  ASSERT_EQ(run({"lock", place.bike(), "--pick", id, "--output", lock}).code, 0);
  for (const char* option : {"--output", "--junit"}) {
    for (const std::string& input : {lock, place.bike(), place.file("parts.yaml")}) {
      expect_spared({"check", lock, option, input}, input);
      expect_spared({"check", lock, "--accept", option, input}, input);
    }
  }
}

// Little memory: it goes on with as many threads as there are cores, or says what is missing.
TEST(Memory, ThatIsShortEndsNothingWithoutAWord) {
#if defined(__SANITIZE_ADDRESS__)
  GTEST_SKIP() << "this build sets aside terabytes of addresses";
#endif
  const Workplace place;
  const std::string whole = run({"search", place.bike()}).out;
  for (const char* kilobytes : {"1000000", "300000", "30000"}) {
    const Outcome outcome = run_limited("ulimit -v " + std::string(kilobytes),
                                        {"search", place.bike(), "--threads", "64"});
    if (outcome.code == 0) {
      EXPECT_EQ(outcome.out, whole) << kilobytes;
    } else {
      EXPECT_EQ(outcome.code, 3) << kilobytes << outcome.err;
      EXPECT_TRUE(contains(outcome.err, "not enough memory")) << outcome.err;
    }
  }
}

TEST(Packs, BeyondAnyCountThatCanBeSetUpAreRefused) {
  std::string counts = "[1";
  for (int i = 2; i <= 1000; ++i) counts += ',' + std::to_string(i);
  const Outcome outcome = run({"search", SPROCKETRY_SOURCE_DIR "/specs/demo.yaml", "--set",
                               "choose.pack={series: " + counts + "], parallel: " + counts + "]}"});
  EXPECT_EQ(outcome.code, 2);
  EXPECT_EQ(outcome.out, "");
  EXPECT_TRUE(contains(outcome.err, "it must be at most 200000")) << outcome.err;
}

TEST(Outputs, OfOneNameAreRefused) {
  const Workplace place;
  const std::string id = json_of({"search", place.bike(), "--format", "json"})["front"][0]["id"];
  ASSERT_EQ(
      run({"lock", place.bike(), "--pick", id, "--output", place.file("bike.lock.yaml")}).code, 0);
  place.write("there", "old");
  fs::create_symlink("there", place.file("link"));
  fs::create_symlink("not-yet", place.file("dangling"));
  const std::vector<std::pair<std::string, std::string>> names = {
      {"new", "new"},    {"new", "./new"},        {"there", "./there"},
      {"there", "link"}, {"dangling", "not-yet"},
  };
  for (const auto& [one, other] : names) {
    for (const Words& command : {Words{"search", place.bike(), "--html"},
                                 Words{"check", place.file("bike.lock.yaml"), "--junit"}}) {
      const Outcome outcome =
          run(with(command, {place.file(one), "--output", place.path().string() + "/" + other}));
      EXPECT_EQ(outcome.code, 2) << one << ' ' << other;
      EXPECT_TRUE(contains(outcome.err, "name the same file; give each its own")) << outcome.err;
    }
  }
  EXPECT_EQ(read_file(place.file("there")), "old");
  EXPECT_FALSE(fs::exists(place.file("new")));
  EXPECT_EQ(run({"search", place.bike(), "--output", "/dev/null", "--html", "/dev/null"}).code, 0);
}

mode_t permissions(const std::string& path) {
  struct stat status {};
  EXPECT_EQ(stat(path.c_str(), &status), 0);
  return status.st_mode & 0777U;
}

TEST(Outputs, KeepThePermissionsOfTheFileTheyReplace) {
  const Workplace place;
  place.write("front.txt", "old");
  for (const mode_t mode : {0600U, 0640U, 0755U}) {
    ASSERT_EQ(chmod(place.file("front.txt").c_str(), mode), 0);
    EXPECT_EQ(run({"search", place.bike(), "--output", place.file("front.txt")}).code, 0);
    EXPECT_EQ(permissions(place.file("front.txt")), mode);
  }
  EXPECT_NE(read_file(place.file("front.txt")), "old");
}

TEST(Outputs, GoThroughALinkToWhatIsNotThereYet) {
  const Workplace place;
  fs::create_symlink("front.txt", place.file("link"));
  EXPECT_EQ(run({"search", place.bike(), "--output", place.file("link")}).code, 0);
  EXPECT_TRUE(fs::is_symlink(place.file("link")));
  EXPECT_EQ(read_file(place.file("front.txt")), run({"search", place.bike()}).out);
}

TEST(Outputs, ToLinksInACircleAreRefused) {
  const Workplace place;
  fs::create_symlink("one", place.file("two"));
  fs::create_symlink("two", place.file("one"));
  const Outcome outcome = run({"search", place.bike(), "--output", place.file("one")});
  EXPECT_EQ(outcome.code, 2);
  EXPECT_TRUE(contains(outcome.err, "Too many levels of symbolic links")) << outcome.err;
  EXPECT_TRUE(fs::is_symlink(place.file("one")));
}

TEST(Outputs, ThatMayGrowNoMoreSayWhyAndLeaveNothing) {
  const Workplace place;
  const Words search = {"search", place.bike(), "--format", "json", "--output"};
  const Outcome full = run(with(search, {"/dev/full"}));
  EXPECT_EQ(full.code, 3);
  EXPECT_TRUE(contains(full.err, "'/dev/full' cannot be written: No space left on device"))
      << full.err;
  place.write("front.json", "old");
  const auto files = [&] {
    return std::distance(fs::directory_iterator(place.path()), fs::directory_iterator());
  };
  const auto before = files();
  const Outcome outcome = run_limited("ulimit -f 1", with(search, {place.file("front.json")}));
  EXPECT_EQ(outcome.code, 3);
  EXPECT_TRUE(contains(outcome.err, "File too large")) << outcome.err;
  EXPECT_EQ(read_file(place.file("front.json")), "old");
  EXPECT_EQ(files(), before);
}

}  // namespace
}  // namespace sprocketry::test::tiny
