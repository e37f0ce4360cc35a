#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/stat.h>

#include <algorithm>

#include "cli/launch.hpp"

namespace sprocketry::test::tiny {
namespace {

namespace fs = std::filesystem;

std::size_t count(const std::string& text, const std::string& part) {
  std::size_t number = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) {
    ++number;
  }
  return number;
}

TEST(FullDisk, IsSaidAndNoSuccess) {
  const Workplace place;
  const std::vector<Words> commands = {
      {"search", place.bike()},
      {"search", place.bike(), "--format", "json", "--rules", "all"},
      {"search", place.bike(), "--format", "csv"},
      {"search", place.bike(), "--set", "must.price.max=1"},
      {"enumerate", place.bike()},
      {"enumerate", place.bike(), "--format", "jsonl"},
      {"compare", place.bike(), "--b-set", "choose.pack.series=20"},
      {"parts", place.file("parts.yaml")},
      {"--help"},
      {"search", "--help"},
      {"--version"},
  };
  for (const Words& command : commands) {
    const Outcome outcome = run(command, {.out = "/dev/full"});
    EXPECT_EQ(outcome.code, 3) << command.front();
    EXPECT_TRUE(contains(outcome.err, "is the disk full?")) << command.front() << outcome.err;
  }
}

TEST(ClosedOutput, IsSaidAndNoSuccess) {
  const Workplace place;
  const Outcome outcome =
      run({"search", place.bike(), "--html", place.file("front.html")}, {.close_out = true});
  EXPECT_EQ(outcome.code, 3);
  EXPECT_TRUE(contains(outcome.err, "standard output is closed")) << outcome.err;
  EXPECT_TRUE(read_file(place.file("front.html")).starts_with("<!doctype html>"));
  EXPECT_EQ(read_file(place.bike()).find("Tiny town bike 2"), std::string::npos);
}

TEST(AReaderThatStops, EndsTheListingWithAWord) {
  const Workplace place;
  // A pipe that nobody reads any more: opened for reading, so that writing can be opened, and
  // closed.
  const std::string pipe = place.file("pipe");
  ASSERT_EQ(mkfifo(pipe.c_str(), 0600), 0);
  const int reader = open(pipe.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC);
  ASSERT_GE(reader, 0);
  const Outcome outcome =
      run({"enumerate", place.bike(), "--format", "jsonl"}, {.out = pipe, .close_reader = reader});
  EXPECT_EQ(outcome.code, 3);
  EXPECT_TRUE(contains(outcome.err, "stopped before its end")) << outcome.err;
}

TEST(Html, IsOnePageWithTheWholeFrontThatNeedsNothingElse) {
  const Workplace place;
  place.edit("bike.yaml", "Tiny town bike", "Bikes & <b>co</b>");
  const std::string page_name = place.file("front.html");
  const Outcome outcome = run({"search", place.bike(), "--html", page_name});
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  EXPECT_EQ(outcome.out, run({"search", place.bike()}).out);
  const std::string page = read_file(page_name);
  const auto front = json_of({"search", place.bike(), "--format", "json"})["front"];
  EXPECT_TRUE(page.starts_with("<!doctype html>\n<html lang=\"en\">"));
  EXPECT_TRUE(page.ends_with("</html>\n"));
  EXPECT_TRUE(contains(page, "<title>Bikes &amp; &lt;b&gt;co&lt;/b&gt;</title>"));
  EXPECT_EQ(count(page, "<title>") - 1, front.size());  // one for each dot
  EXPECT_EQ(count(page, "<th scope=\"row\""), front.size());
  EXPECT_TRUE(contains(page, "<th scope=\"col\""));
  EXPECT_TRUE(contains(page, "<caption>"));
  EXPECT_TRUE(contains(page, "prefers-color-scheme:dark"));
  EXPECT_TRUE(contains(page, "Before you build"));
  for (const char* outside : {"http", "<script", "src=", "href=", "@import", "url("}) {
    EXPECT_FALSE(contains(page, outside)) << outside;
  }
  for (const char* element : {"table", "tr", "td", "ul", "li", "svg", "main", "circle"}) {
    const std::string name = element;
    const std::size_t opened = count(page, "<" + name + ">") + count(page, "<" + name + " ");
    const std::size_t closed = count(page, "</" + name + ">");
    const std::size_t legend_dots = name == "circle" ? 5 : 0;
    EXPECT_EQ(opened, closed + legend_dots) << element;
  }
}

TEST(Html, IsWrittenAlsoForAnEmptyFrontAndForTwoAims) {
  const Workplace place;
  const std::string page = place.file("front.html");
  EXPECT_EQ(run({"search", place.bike(), "--set", "must.price.max=1", "--html", page}).code, 1);
  EXPECT_TRUE(contains(read_file(page), "No combination meets every rule"));
  EXPECT_EQ(
      run({"search", place.bike(), "--set", "objectives=[price, range]", "--html", page}).code, 0);
  EXPECT_TRUE(contains(read_file(page), "<circle"));
}

TEST(Html, ReplacesAFileThroughItsLinkAndLeavesNothingBeside) {
  const Workplace place;
  place.write("real.html", "old");
  fs::create_symlink(place.file("real.html"), place.file("link.html"));
  EXPECT_EQ(run({"search", place.bike(), "--html", place.file("link.html")}).code, 0);
  EXPECT_TRUE(fs::is_symlink(place.file("link.html")));
  EXPECT_TRUE(read_file(place.file("real.html")).starts_with("<!doctype html>"));
  const auto files = std::distance(fs::directory_iterator(place.path()), fs::directory_iterator());
  EXPECT_EQ(files, 4);
}

TEST(Html, PutsNoFileInThePlaceOfADevice) {
  const Workplace place;
  EXPECT_EQ(run({"search", place.bike(), "--html", "/dev/null"}).code, 0);
  EXPECT_TRUE(fs::is_character_file("/dev/null"));
  const Outcome outcome = run({"search", place.bike(), "--html", "/dev/full"});
  EXPECT_EQ(outcome.code, 3);
  EXPECT_TRUE(contains(outcome.err, "'/dev/full' cannot be written")) << outcome.err;
}

TEST(Html, ThatCannotBeWrittenIsWrongInputBeforeAnythingIsPrinted) {
  const Workplace place;
  for (const std::string& name : {place.file("none/front.html"), place.path().string()}) {
    const Outcome outcome = run({"search", place.bike(), "--html", name});
    EXPECT_EQ(outcome.code, 2) << name;
    EXPECT_EQ(outcome.out, "") << name;
    EXPECT_TRUE(contains(outcome.err, name)) << outcome.err;
  }
}

// Every command with its answer on standard output.
std::vector<Words> answers(const Workplace& place) {
  const std::string pick = json_of({"search", place.bike(), "--format", "json"})["front"][0]["id"];
  return {
      {"search", place.bike()},
      {"search", place.bike(), "--format", "json"},
      {"search", place.bike(), "--format", "csv"},
      {"evaluate", place.bike(), "--pick", pick},
      {"evaluate", place.bike(), "--pick", pick, "--format", "json"},
      {"evaluate", place.bike(), "--pick", pick, "--format", "csv"},
      {"enumerate", place.bike()},
      {"enumerate", place.bike(), "--format", "jsonl"},
      {"swaps", place.bike(), "--pick", pick},
      {"compare", place.bike(), "--today", pick, "--b-set", "choose.pack.series=20"},
      {"parts", place.file("parts.yaml")},
      {"parts", place.file("parts.yaml"), "--format", "json"},
      {"chain", "--size", "420", "--front", "12", "--rear", "54", "--old-links", "98"},
  };
}

Words with_output(Words words, const std::string& name) {
  words.insert(words.end(), {"--output", name});
  return words;
}

std::ptrdiff_t files_in(const Workplace& place) {
  return std::distance(fs::directory_iterator(place.path()), fs::directory_iterator());
}

TEST(OutputFile, HoldsWhatStandardOutputWouldAndLeavesNothingBeside) {
  const Workplace place;
  const std::string name = place.file("answer");
  for (const Words& words : answers(place)) {
    place.write("answer", "old");
    const Outcome plain = run(words);
    const Outcome outcome = run(with_output(words, name));
    EXPECT_EQ(outcome.code, plain.code) << words.front();
    EXPECT_EQ(outcome.out, "") << words.front();
    EXPECT_EQ(read_file(name), plain.out) << words.front();
    EXPECT_FALSE(plain.out.empty()) << words.front();
    EXPECT_EQ(files_in(place), 3) << words.front();
  }
}

TEST(OutputFile, HoldsNoColourEvenWhenTheCommandStandsOnATerminal) {
  const Workplace place;
  const std::string name = place.file("answer");
  EXPECT_EQ(run_on_terminal(with_output({"search", place.bike()}, name)).code, 0);
  EXPECT_FALSE(contains(read_file(name), "\x1b"));
}

TEST(OutputFile, IsWrittenWholeWhenTheAnswerIsNo) {
  const Workplace place;
  const std::string name = place.file("answer");
  const Words words = {"search", place.bike(), "--format", "json", "--set", "must.price.max=1"};
  EXPECT_EQ(run(with_output(words, name)).code, 1);
  EXPECT_TRUE(nlohmann::json::parse(read_file(name))["front"].empty());
}

TEST(OutputFile, StaysAsItWasWhenTheInputIsWrong) {
  const Workplace place;
  place.write("answer", "old");
  const Words words = {"search", place.bike(), "--set", "must.price.max=cheap"};
  EXPECT_EQ(run(with_output(words, place.file("answer"))).code, 2);
  EXPECT_EQ(read_file(place.file("answer")), "old");
  EXPECT_EQ(files_in(place), 3);
}

TEST(OutputFile, ThatCannotBeWrittenIsWrongInput) {
  const Workplace place;
  for (const std::string& name :
       {place.file("none/answer"), place.path().string(), std::string()}) {
    for (const Words& words : answers(place)) {
      const Outcome outcome = run(with_output(words, name));
      EXPECT_EQ(outcome.code, 2) << words.front() << ' ' << name;
      EXPECT_EQ(outcome.out, "") << words.front() << ' ' << name;
      EXPECT_TRUE(contains(outcome.err, "'" + name + "'")) << outcome.err;
    }
  }
}

TEST(OutputFile, OnAFullDeviceIsSaidAndNoSuccess) {
  const Workplace place;
  for (const Words& words : answers(place)) {
    const Outcome outcome = run(with_output(words, "/dev/full"));
    EXPECT_EQ(outcome.code, 3) << words.front();
    EXPECT_TRUE(contains(outcome.err, "'/dev/full' cannot be written")) << outcome.err;
  }
  EXPECT_TRUE(fs::is_character_file("/dev/full"));
}

TEST(OutputFile, InAPipeThatNobodyReadsIsNotWaitedFor) {
  const Workplace place;
  const std::string pipe = place.file("pipe");
  ASSERT_EQ(mkfifo(pipe.c_str(), 0600), 0);
  const Outcome outcome = run({"parts", place.file("parts.yaml"), "--output", pipe});
  EXPECT_EQ(outcome.code, 3);
  EXPECT_TRUE(contains(outcome.err, "cannot be written")) << outcome.err;
}

TEST(OutputFile, IsNotThePageToo) {
  const Workplace place;
  const std::string name = place.file("answer");
  const Outcome outcome = run({"search", place.bike(), "--output", name, "--html", name});
  EXPECT_EQ(outcome.code, 2);
  EXPECT_TRUE(contains(outcome.err, "name the same file")) << outcome.err;
  EXPECT_FALSE(fs::exists(name));
}

}  // namespace
}  // namespace sprocketry::test::tiny
