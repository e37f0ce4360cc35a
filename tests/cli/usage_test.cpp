#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>

#include "cli/launch.hpp"
#include "rules/rule.hpp"
#include "spec/metrics.hpp"

namespace sprocketry::test::tiny {
namespace {

const Words kCommands = {"search", "merge", "evaluate", "enumerate", "compare", "lock",  "check",
                         "parts",  "chain", "swaps",    "sheet",     "guard",   "robust"};

// Words of an example as a shell reads them, as far as the examples need.
Words as_shell_words(const std::string& line) {
  Words words(1);
  bool quoted = false;
  for (const char c : line) {
    if (c == '\'') {
      quoted = !quoted;
    } else if (c == ' ' && !quoted) {
      words.emplace_back();
    } else {
      words.back() += c;
    }
  }
  return words;
}

std::string example_in(const std::string& help) {
  const std::string before = "Example:\n  ";
  const std::size_t at = help.find(before);
  if (at == std::string::npos) return {};
  const std::size_t begin = at + before.size();
  return help.substr(begin, help.find('\n', begin) - begin);
}

TEST(Help, OfEachCommandHasUsageOneExampleAndExitCodes) {
  for (const std::string& command : kCommands) {
    const Outcome outcome = run({command, "--help"});
    EXPECT_EQ(outcome.code, 0);
    EXPECT_EQ(outcome.err, "");
    EXPECT_TRUE(contains(outcome.out, "Usage: sprocketry " + command)) << outcome.out;
    EXPECT_TRUE(example_in(outcome.out).starts_with("sprocketry " + command)) << outcome.out;
    EXPECT_TRUE(contains(outcome.out, "Exit codes: 0 ")) << outcome.out;
    EXPECT_EQ(run({command, "-h"}).out, outcome.out);
  }
}

TEST(Help, ShowsExamplesThatWork) {
  // In a copy, since `lock` writes the file that `check` reads.
  const Workplace place;
  std::filesystem::copy(SPROCKETRY_SOURCE_DIR "/specs", place.file("specs"),
                        std::filesystem::copy_options::recursive);
  for (const char* part : {"1", "2"}) {  // which `merge` reads
    run({"search", place.file("specs/tiny.yaml"), "--slice", std::string(part) + "/2", "--format",
         "json", "--output", place.file("part" + std::string(part) + ".json")});
  }
  for (const std::string& command : kCommands) {
    Words words = as_shell_words(example_in(run({command, "--help"}).out));
    words.erase(words.begin());
    const Outcome outcome = run(words, {.folder = place.path().string()});
    EXPECT_EQ(outcome.code, 0) << command << '\n' << outcome.err;
    const bool to_file = std::ranges::find(words, "--output") != words.end();
    EXPECT_EQ(outcome.out.empty(), to_file) << command;
  }
}

TEST(Help, ExplainsEveryMetricAndEveryRuleOnce) {
  const std::string help = run({"search", "--help"}).out;
  std::string flat;
  for (const std::string& line : lines_of(help)) {
    const std::size_t begin = line.find_first_not_of(' ');
    if (begin != std::string::npos) flat += line.substr(begin) + ' ';
  }
  const auto once = [&](std::string_view text) {
    const std::size_t at = flat.find(text);
    return at != std::string::npos && flat.find(text, at + 1) == std::string::npos;
  };
  for (const spec::MetricInfo& info : spec::metric_table()) {
    EXPECT_TRUE(once(info.explanation)) << info.name;
    const std::string name = "[" + std::string(info.name) + "]";
    EXPECT_EQ(contains(flat, name), info.objective) << info.name;
  }
  for (const rules::Rule& rule : rules::rule_table()) {
    EXPECT_TRUE(contains(help, "\n  " + std::string(rule.name) + "  ")) << rule.name;
    EXPECT_TRUE(contains(flat, std::string(rule.explanation))) << rule.name;
  }
}

TEST(Help, FitsOnAScreen) {
  for (const std::string& command : kCommands) {
    for (const std::string& line : lines_of(run({command, "--help"}).out)) {
      // An example is one line, to be copied.
      if (contains(line, "sprocketry ")) continue;
      EXPECT_LE(line.size(), 110U) << line;
    }
  }
}

// Types and numbers of values as the library that reads the options would write them.
TEST(Help, HasNoWordsOfTheParser) {
  for (const std::string& command : kCommands) {
    const std::string help = run({command, "--help"}).out;
    for (const char* raw : {"x)", ":INT", " in [", "UINT", "FLOAT", "TEXT"}) {
      EXPECT_FALSE(contains(help, raw)) << command << ' ' << raw;
    }
  }
}

TEST(Help, OfTheProgramListsTheCommandsAndExitCodes) {
  const Outcome outcome = run({"--help"});
  EXPECT_EQ(outcome.code, 0);
  for (const std::string& command : kCommands) {
    EXPECT_TRUE(contains(outcome.out, "\n  " + command + " ")) << command;
  }
  for (const char* code : {"\n  0 ", "\n  1 ", "\n  2 ", "\n  3 ", "\n  70 "}) {
    EXPECT_TRUE(contains(outcome.out, code)) << code;
  }
}

TEST(Version, IsPrinted) {
  const Outcome outcome = run({"--version"});
  EXPECT_EQ(outcome.code, 0);
  EXPECT_TRUE(outcome.out.starts_with("sprocketry ")) << outcome.out;
}

struct Wrong {
  Words words;
  std::string message;
};

TEST(Usage, ThatIsWrongGivesExitCodeTwoAndSaysWhatToWrite) {
  const Workplace place;
  const std::string bike = place.bike();
  const std::vector<Wrong> cases = {
      {{}, "name a command"},
      {{"serch", bike}, "did you mean 'search'?"},
      {{"--vresion"}, "did you mean '--version'?"},
      {{"search"}, "REQUIREMENT is required"},
      {{"parts"}, "FILE is required"},
      {{"merge"}, "FRONT is required"},
      {{"search", bike, "other.yaml"}, "'other.yaml' is one argument too many"},
      {{"search", bike, "--fromat", "json"}, "did you mean '--format'?"},
      {{"search", bike, "--fromat=json"}, "did you mean '--format'?"},
      {{"search", bike, "--format", "jsn"}, "did you mean 'json'?"},
      {{"search", bike, "--format", "jsonl"}, "not one of text, json, csv"},
      {{"search", bike, "--format", "json", "--format", "csv"}, "--format may be given once only"},
      {{"search", bike, "--threads", "-1"}, "whole number from 0"},
      {{"search", bike, "--threads", "2.5"}, "whole number from 0"},
      {{"search", bike, "--threads", "99999999999"}, "whole number from 0"},
      {{"search", bike, "--set"}, "--set"},
      {{"search", bike, "--pick", "motor=alder-4"}, "evaluate has it"},
      {{"evaluate", bike, "--threads", "2"}, "search has it"},
      {{"compare", bike, bike, "third.yaml"}, "'third.yaml' is one argument too many"},
      {{"chain", "--size", "420", "--front", "3", "--rear", "60", "--centre", "500 mm"},
       "'3' is not a whole number from 5 to 200"},
      {{"enumerate", bike, "--format", "text"}, "not one of csv, jsonl"},
  };
  for (const Wrong& wrong : cases) {
    const Outcome outcome = run(wrong.words);
    EXPECT_EQ(outcome.code, 2) << wrong.message;
    EXPECT_EQ(outcome.out, "") << wrong.message;
    EXPECT_TRUE(contains(outcome.err, wrong.message)) << wrong.message << '\n' << outcome.err;
    EXPECT_TRUE(contains(outcome.err, "For example: sprocketry ")) << outcome.err;
  }
}

TEST(WrongInput, GivesExitCodeTwoAndNothingOnStandardOutput) {
  const Workplace place;
  place.write("broken.yaml", "sprocketry: 1\nparts: [parts.yaml]\nbkie: {}\n");
  place.write("odd.yaml", "motros: []\n");
  const std::vector<std::pair<Words, std::string>> cases = {
      {{"search", place.file("none.yaml")}, "none.yaml: error: "},
      {{"search", place.path().string()}, "folder"},
      {{"search", place.file("broken.yaml"), "--format", "json"}, "broken.yaml:3:1: error: "},
      {{"evaluate", place.file("broken.yaml")}, "did you mean `bike`?"},
      {{"enumerate", place.file("broken.yaml"), "--format", "csv"}, "did you mean `bike`?"},
      {{"enumerate", place.file("broken.yaml"), "--format", "jsonl"}, "did you mean `bike`?"},
      {{"search", place.bike(), "--set", "must.top_speed.min=70"},
       "--set must.top_speed.min=70:1:"},
      {{"search", place.bike(), "--set", "must.topspeed.min=70 km/h"}, "did you mean `top_speed`?"},
      {{"search", place.bike(), "--set", "title"}, "needs a path, '=' and a value"},
      {{"parts", place.file("odd.yaml")}, "odd.yaml:1:1: error: "},
      {{"parts", place.file("none.yaml")}, "none.yaml"},
  };
  for (const auto& [words, message] : cases) {
    const Outcome outcome = run(words);
    EXPECT_EQ(outcome.code, 2) << words.back();
    EXPECT_EQ(outcome.out, "") << words.back();
    EXPECT_TRUE(contains(outcome.err, message)) << words.back() << '\n' << outcome.err;
  }
}

TEST(WrongInput, IsQuotedWithoutBytesThatMoveATerminal) {
  const Workplace place;
  const std::string nasty = "x\x1b[31m\xff";
  const std::vector<Words> cases = {
      {nasty},
      {"search", nasty},
      {"search", place.bike(), nasty},
      {"search", place.bike(), "--format", nasty},
      {"search", place.bike(), "--set", "bike.mass=96 " + nasty},
      {"search", place.bike(), "--set", nasty},
      {"search", place.bike(), "--html", nasty + "/page.html"},
      {"evaluate", place.bike(), "--pick", nasty + "=1"},
      {"evaluate", place.bike(), "--pick", "motor=" + nasty},
      {"parts", nasty},
  };
  for (const Words& words : cases) {
    const Outcome outcome = run(words);
    EXPECT_EQ(outcome.code, 2) << words.back();
    EXPECT_EQ(outcome.out, "") << words.back();
    EXPECT_FALSE(contains(outcome.err, "\x1b")) << outcome.err;
    EXPECT_FALSE(contains(outcome.err, "\xff")) << outcome.err;
    EXPECT_TRUE(contains(outcome.err, "\uFFFD")) << outcome.err;
  }
}

TEST(WrongInput, OfAFileNamedByThePersonSpeaksOfNoOtherFile) {
  const Outcome outcome = run({"search", "/none.yaml"});
  EXPECT_EQ(outcome.err,
            "/none.yaml: error: the file does not exist\n      = check the name and the folder\n");
}

TEST(Set, OverridesKeysOfTheRequirementOnEveryCommand) {
  const Workplace place;
  const Words set = {"--set", "title=Other bike",      "--set", "choose.front_teeth=[14]",
                     "--set", "choose.rear_teeth=[60]"};
  Words search = {"search", place.bike(), "--format", "json"};
  search.insert(search.end(), set.begin(), set.end());
  const auto answer = json_of(search);
  EXPECT_EQ(answer["title"], "Other bike");
  EXPECT_EQ(answer["count"]["combinations"], 24);
  Words list = {"enumerate", place.bike()};
  list.insert(list.end(), set.begin(), set.end());
  EXPECT_LE(lines_of(run(list).out).size(), 25U);
}

TEST(Parts, ListsACatalogueByKindFromAPartsFileOrARequirement) {
  const Workplace place;
  const Outcome outcome = run({"parts", place.file("parts.yaml")});
  EXPECT_EQ(outcome.code, 0) << outcome.err;
  for (const char* words : {"Motors (2)", "alder-4", "870.25", "Controllers (2)", "Cells (2)",
                            "Chargers (1)", "Chains (1)", "Front sprockets (1)", "12 to 16",
                            "Rear sprockets (1)", "Extras (1)", "from 60.0 V"}) {
    EXPECT_TRUE(contains(outcome.out, words)) << words << '\n' << outcome.out;
  }
  EXPECT_EQ(run({"parts", place.bike()}).out, outcome.out);
}

TEST(Parts, WarnsOfImplausibleNumbersAndIsStillDone) {
  const Workplace place;
  EXPECT_EQ(run({"parts", place.file("parts.yaml")}).err, "");
  place.edit("parts.yaml", "body_to_air: 0.17 K/W", "body_to_air: 1.7 K/W");
  const Outcome outcome = run({"parts", place.file("parts.yaml")});
  EXPECT_EQ(outcome.code, 0);
  EXPECT_TRUE(contains(outcome.err, "warning: ")) << outcome.err;
  EXPECT_TRUE(contains(outcome.err, "parts.yaml:")) << outcome.err;
  EXPECT_TRUE(contains(outcome.out, "Motors (2)"));
}

TEST(Parts, RefusesAnIdThatTwoFilesGive) {
  const Workplace place;
  place.write("more.yaml", read_file(place.file("parts.yaml")));
  const Outcome outcome = run({"parts", place.file("parts.yaml"), place.file("more.yaml")});
  EXPECT_EQ(outcome.code, 2);
  EXPECT_EQ(outcome.out, "");
  EXPECT_TRUE(contains(outcome.err, "alder-4")) << outcome.err;
}

}  // namespace
}  // namespace sprocketry::test::tiny
