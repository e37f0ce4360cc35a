#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "document_support.hpp"

namespace sprocketry::document {
namespace {

struct Refusal {
  std::string text;
  std::string place;
  std::string message;  // a part of it
};

void expect_refused(const std::vector<Refusal>& refusals) {
  for (const Refusal& one : refusals) {
    const Composed composed(one.text);
    EXPECT_FALSE(composed.root) << one.text;
    ASSERT_TRUE(composed.diagnostics.has_errors()) << one.text;
    EXPECT_EQ(place(composed.first().mark), one.place) << one.text;
    EXPECT_NE(composed.first().message.find(one.message), std::string::npos)
        << one.text << "\n"
        << composed.diagnostics.text();
    EXPECT_FALSE(composed.first().hint.empty()) << one.text;
  }
}

TEST(Refusals, CoverWhatThisSubsetOfYamlLeavesOut) {
  expect_refused({
      {"a: &x 1\nb: 2", "1:4", "anchors"},
      {"&x a: 1", "1:1", "anchors"},
      {"a: *x", "1:4", "aliases"},
      {"a: &x [*x]", "1:4", "anchors"},
      {"a: !!str 1", "1:4", "tags"},
      {"a: !mine {b: 1}", "1:4", "tags"},
      {"a: ! x", "1:4", "tags"},
      {"<<: {a: 1}", "1:1", "merge keys"},
      {"a: {<<: 1}", "1:5", "merge keys"},
      {"? [a]\n: 1", "1:3", "cannot be a key"},
      {"{{a: 1}: 2}", "1:2", "cannot be a key"},
      {"a:\n\tb: 1\n", "2:1", "a tab in the indentation"},
      {"a:\n  b: 1\n\tc: 2\n", "3:1", "a tab in the indentation"},
      {"null: 1", "1:1", "a key is missing"},
      {": 1", "1:1", "a key is missing"},
      {"a: 1\n---\nb: 2", "2:1", "second document"},
      {"--- a\n--- b", "2:1", "second document"},
      {"a: 1\n...\nb: 2", "3:1", "does not fit"},
      {"%TAG ! x\n---\na: 1", "1:1", "'%'"},
      {"a: 1\n%YAML 1.2\n", "2:1", "'%'"},
  });
}

TEST(Refusals, CoverWhatTheParserWouldLetPass) {
  expect_refused({
      {"a: 1\nb\n", "2:2", "':' is missing"},
      {"a: 'b\nc: 1\n", "1:4", "not closed"},
      {"a: \"b\nc: 1\n", "1:4", "not closed"},
      {"a: \n  b: 1\n  c:\n  d # e\n...\n", "4:3", "not indented enough"},
      {"[1,,2]", "1:4", "list item is missing"},
      {"[,]", "1:2", "list item is missing"},
      {"- a\n%- b\n", "2:1", "'%'"},
      {"a: \"\\x1b[31m\"", "1:4", "control character"},
      {"a: \"\\0\"", "1:4", "control character"},
  });
}

TEST(Refusals, NameBrokenStructureInPlainWords) {
  expect_refused({
      {"a: [1, 2", "1:9", "'[' is not closed"},
      {"a: {b: 1", "1:9", "'{' is not closed"},
      {"a: ]", "1:4", "closes nothing"},
      {"a: 1]\nb: [1}", "2:6", "closes nothing"},
      {"a: b: c", "1:5", "':' is not allowed"},
      {"a: 1\n  b: 2", "2:4", "':' is not allowed"},
      {"a:\n  b: 1\n c: 2", "3:2", "does not fit the map"},
      {"a: 1\n- b", "2:1", "does not fit the map"},
      {"- a\nb: 1", "2:1", "does not fit"},
      {"a: - b", "1:4", "list item is not allowed"},
      {"a: 1\n\tb: 2", "2:1", "tab"},
      {"a: @b", "1:4", "cannot begin"},
      {"a: `b", "1:4", "cannot begin"},
      {"a: \"\\q\"", "1:7", "unknown escape"},
      {"a: \"b", "1:4", "not closed"},
      {"x: \"y\" # it's\na: 'b", "2:4", "not closed"},
      {"a: |x\n b", "1:5", "'|' or '>'"},
  });
}

TEST(Refusals, CoverBytesThatAreNotText) {
  expect_refused({
      {std::string("a: b\0c", 6), "1:5", "U+0000"},
      {"ok: 1\na: \x1b[31m", "2:4", "U+001B"},
      {"a: \x7f", "1:4", "U+007F"},
      {"a: \xC2\x85", "1:4", "U+0085"},
      {"\xC3\xA4: \xFF", "1:4", "0xFF"},
      {"a: \xC0\xAF", "1:4", "0xC0"},
      {"a: \xED\xA0\x80", "1:4", "0xED"},
      {"a: \xF4\x90\x80\x80", "1:4", "0xF4"},
      {"a: \xE2\x82", "1:4", "0xE2"},
      {"\xFF\xFE"
       "a",
       "1:1", "two-byte"},
      {std::string("\0a\0:", 4), "1:1", "two-byte"},
  });
}

TEST(Refusals, CallAFileWithoutAValueEmpty) {
  for (const char* text : {"", "\n\n", "# nothing\n", "---\n", "~", "\xEF\xBB\xBF"}) {
    const Composed composed(text);
    EXPECT_FALSE(composed.root) << text;
    ASSERT_EQ(composed.diagnostics.all().size(), 1U) << text;
    EXPECT_NE(composed.first().message.find("is empty"), std::string::npos) << text;
  }
}

TEST(Refusals, ShowBothPlacesOfADuplicateKey) {
  const Composed composed("a: 1\nb:\n  c: 1\n  d: 2\n  'c': 3\na: {x: 1, x: 2}\n");
  EXPECT_FALSE(composed.root);
  ASSERT_EQ(composed.diagnostics.all().size(), 3U);
  const auto places = [&](std::size_t i) {
    const Diagnostic& one = composed.diagnostics.all()[i];
    return place(one.mark) + " " + place(one.second_mark.value()) + " " + one.second_message;
  };
  EXPECT_EQ(places(0), "5:3 3:3 first given here");
  EXPECT_EQ(places(1), "6:1 1:1 first given here");
  EXPECT_EQ(places(2), "6:11 6:5 first given here");
}

TEST(Refusals, FindADuplicateAmongThousandsOfKeys) {
  std::string text;
  for (int i = 0; i < 20000; ++i) {
    text += 'k';
    text += std::to_string(i) + ": 1\n";
  }
  EXPECT_TRUE(Composed(text).root);
  const Composed composed(text + "k12345: 2\n");
  ASSERT_EQ(composed.diagnostics.all().size(), 1U);
  EXPECT_EQ(place(composed.first().mark), "20001:1");
  EXPECT_EQ(place(composed.first().second_mark.value()), "12346:1");
}

TEST(Refusals, PointAtTheBracketThatIsNotClosed) {
  const Composed composed("a:\n  b: [1, 2\n  c: 3\n");
  ASSERT_EQ(composed.diagnostics.all().size(), 1U);
  ASSERT_TRUE(composed.first().second_mark);
  EXPECT_EQ(place(*composed.first().second_mark), "2:6");
}

TEST(Refusals, SuggestWhereAColonWasForgotten) {
  const Composed composed("a: 1\nmass 120 kg\n\ntyre: x\n");
  ASSERT_TRUE(composed.diagnostics.has_errors());
  EXPECT_EQ(place(composed.first().mark), "4:5");
  ASSERT_TRUE(composed.first().second_mark) << composed.diagnostics.text();
  EXPECT_EQ(place(*composed.first().second_mark), "2:12");
}

TEST(Refusals, ReportEveryDuplicateAndAliasOfAFileInOneRun) {
  const Composed composed("a: &x 1\nb: *x\na: 2\nc: !t 3\nb: 4\n<<: 5\n");
  EXPECT_EQ(composed.diagnostics.all().size(), 6U) << composed.diagnostics.text();
}

TEST(Refusals, StayFewWhenEverythingIsWrong) {
  std::string text;
  for (int i = 0; i < 5000; ++i) text += "a: &x 1\n";
  const Composed composed(text);
  EXPECT_EQ(composed.diagnostics.all().size(), 200U);
}

TEST(Refusals, StateTheLimitsOfSizeNestingAndStructure) {
  const auto message_of = [](const std::string& text) {
    const Composed composed(text);
    EXPECT_FALSE(composed.root);
    return composed.first().message;
  };
  EXPECT_NE(message_of(std::string(kMaxFileSize + 1, 'a')).find("16 MiB"), std::string::npos);
  EXPECT_NE(message_of(std::string(65, '[')).find("deeper than 64"), std::string::npos);
  EXPECT_NE(message_of(std::string(1'100'000, ',')).find("1000000"), std::string::npos);
  std::string dashes;
  for (int i = 0; i < 1'100'000; ++i) dashes += "- ";
  EXPECT_NE(message_of(dashes).find("1000000"), std::string::npos);
}

TEST(Refusals, EndSoonOnDeepAndLongInput) {
  for (const char* unit : {"[", "{", "[{", "- ", "? ", "{a: ", "a:\n ", "\"", ", ", ": "}) {
    std::string text;
    while (text.size() < 100'000) text += unit;
    EXPECT_FALSE(Composed(text).root) << unit;
  }
  std::string steps;
  for (std::size_t i = 0; i < 500; ++i) steps += std::string(i, ' ') + "a:\n";
  EXPECT_FALSE(Composed(steps).root);
  EXPECT_TRUE(Composed("a: " + std::string(2'000'000, 'x')).root);
}

TEST(Refusals, DoNotExpandAnAliasBomb) {
  std::string bomb = "a0: &a0 [x, x]\n";
  for (int i = 1; i < 60; ++i) {
    const std::string before = std::to_string(i - 1);
    const std::string here = std::to_string(i);
    bomb.append("a").append(here).append(": &a").append(here);
    bomb.append(" [*a").append(before).append(", *a").append(before).append("]\n");
  }
  const Composed composed(bomb);
  EXPECT_FALSE(composed.root);
  EXPECT_EQ(composed.diagnostics.all().size(), 60U + 2U * 59U);
}

}  // namespace
}  // namespace sprocketry::document
