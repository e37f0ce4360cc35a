#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "document_support.hpp"

namespace sprocketry::document {
namespace {

struct Case {
  std::string text;
  std::string tree;
};

TEST(Compose, GivesTheTreeThatIsWritten) {
  const std::vector<Case> cases = {
      {"a: 1", "{a: 1}"},
      {"a: 70 km/h # fast\nb: 'it''s'\nc: \"x\\ty\"", "{a: 70 km/h, b: \"it's\", c: \"x\ty\"}"},
      {"a:\n  b:\n    c: 1\n  d: 2\n", "{a: {b: {c: 1}, d: 2}}"},
      {"a:\n- 1\n- 2\n", "{a: [1, 2]}"},
      {"- a: 1\n  b: 2\n- - x\n  - y\n", "[{a: 1, b: 2}, [x, y]]"},
      {"a: {b: [1, 2], c: {d: e}}", "{a: {b: [1, 2], c: {d: e}}}"},
      {"{\"a\": [1.5, true, null, \"s\"]}", "{a: [1.5, true, ~, \"s\"]}"},
      {"a:\nb: ~\nc: null\nd: [~, Null]\n", "{a: ~, b: ~, c: ~, d: [~, ~]}"},
      {"a: \"null\"\nb: nullable\n", "{a: \"null\", b: nullable}"},
      {"a: >-\n  two\n  lines\n", "{a: \"two lines\"}"},
      {"a: |\n  two\n  lines\n", "{a: \"two\nlines\n\"}"},
      {"%YAML 1.2\n---\na: 1\n...\n", "{a: 1}"},
      {"\xEF\xBB\xBF"
       "a: 1",
       "{a: 1}"},
      {"a: 1\r\nb: 2\r\n", "{a: 1, b: 2}"},
      {"a: 1\rb:\r  c: 2\r", "{a: 1, b: {c: 2}}"},
      {"\"<<\": 1", "{<<: 1}"},
      {"a: .nan\nb: 1e999\n", "{a: .nan, b: 1e999}"},
      {"\xC3\xA4: \xC3\xB6\n", "{\xC3\xA4: \xC3\xB6}"},
      {"[a, ]", "[a]"},
      {"-\n- a\n", "[~, a]"},
      {"just words", "just words"},
  };
  for (const Case& one : cases) {
    const Composed composed(one.text);
    ASSERT_TRUE(composed.root) << one.text << "\n" << composed.diagnostics.text();
    EXPECT_EQ(outline(*composed.root), one.tree) << one.text;
    EXPECT_TRUE(composed.diagnostics.all().empty()) << one.text;
  }
}

TEST(Compose, MarksKeysAndValuesByLineAndCodePoint) {
  const Composed composed(
      "bike:\n  \xC3\xA4\xE2\x82\xAC\xF0\x9F\x98\x80: {m: 120 kg, n: [1, 'x']}\n");
  ASSERT_TRUE(composed.root);
  const Entry& bike = composed.root->entries.at(0);
  EXPECT_EQ(place(bike.key_mark), "1:1");
  EXPECT_EQ(place(bike.value.mark), "2:3");
  const Entry& wide = bike.value.entries.at(0);
  EXPECT_EQ(place(wide.key_mark), "2:3");
  EXPECT_EQ(place(wide.value.mark), "2:8");
  const Node* const mass = wide.value.find("m");
  ASSERT_NE(mass, nullptr);
  EXPECT_EQ(place(mass->mark), "2:12");
  EXPECT_EQ(place(wide.value.find("n")->items.at(1).mark), "2:27");
  EXPECT_EQ(mass->mark.source->name, "bike.yaml");
}

TEST(Compose, CountsColumnsInTheSameWayOnVeryLongLines) {
  std::string text = "[";
  for (int i = 0; i < 5000; ++i) text += "\xC3\xA4, ";
  text += "end]";
  const Composed composed(text);
  ASSERT_TRUE(composed.root);
  EXPECT_EQ(place(composed.root->items.at(0).mark), "1:2");
  EXPECT_EQ(place(composed.root->items.at(1234).mark), "1:3704");
  EXPECT_EQ(place(composed.root->items.back().mark), "1:15002");
}

// Work that grew with the square of a line's length would take minutes here.
TEST(Compose, ReadsVeryManyKeysOnOneLine) {
  constexpr int kKeys = 300000;
  std::string text = "{";
  for (int i = 0; i < kKeys; ++i) text += 'k' + std::to_string(i) + ": 1, ";
  Diagnostics diagnostics;
  const Source& source = diagnostics.add_source("long.yaml", text + "k7: 2}");
  const auto node = compose(source, diagnostics);
  ASSERT_EQ(diagnostics.all().size(), 1U);
  EXPECT_EQ(diagnostics.all().front().message, "the key 'k7' is given twice");
  EXPECT_EQ(diagnostics.all().front().mark.column, text.size() + 1);
}

TEST(Compose, MarksAnEmptyValueJustAfterItsKey) {
  const std::vector<Case> cases = {
      {"a:\n\n\nb: 1", "1:3"},      {"a:   # nothing\nb: 1", "1:3"},
      {"a :\nb: 1", "1:4"},         {"'a\\': \nb: 1", "1:6"},
      {"\"a\\\"b\":", "1:8"},       {"{a, b: 1}", "1:3"},
      {"a:\nnull_value: 1", "1:3"}, {"a: ~", "1:4"},
      {"a:\n  null\n", "2:3"},      {"\xC3\xA4\xC3\xB6:\nb: 1", "1:4"},
  };
  for (const Case& one : cases) {
    const Composed composed(one.text);
    ASSERT_TRUE(composed.root) << one.text << composed.diagnostics.text();
    EXPECT_EQ(composed.root->entries.at(0).value.kind, NodeKind::kEmpty) << one.text;
    EXPECT_EQ(place(composed.root->entries.at(0).value.mark), one.tree) << one.text;
  }
  const Composed list("- a\n-\n\n- b");
  ASSERT_TRUE(list.root);
  EXPECT_EQ(place(list.root->items.at(1).mark), "2:2");
}

TEST(Compose, CountsEveryLineEndOnce) {
  for (const char* text :
       {"a: 1\n\nb:\n  c: 2", "a: 1\r\n\r\nb:\r\n  c: 2", "a: 1\r\rb:\r  c: 2"}) {
    const Composed composed(text);
    ASSERT_TRUE(composed.root) << text;
    EXPECT_EQ(place(composed.root->entries.at(1).value.entries.at(0).value.mark), "4:6") << text;
  }
}

TEST(Compose, FindsKeysByTheirExactName) {
  const Composed composed("a: 1\nb: 2\n");
  ASSERT_TRUE(composed.root);
  EXPECT_EQ(composed.root->find("b")->scalar, "2");
  EXPECT_EQ(composed.root->find("B"), nullptr);
  EXPECT_EQ(composed.root->find(""), nullptr);
}

TEST(Compose, TakesNestingUpToItsLimit) {
  const std::string open(kMaxNesting, '[');
  const std::string close(kMaxNesting, ']');
  EXPECT_TRUE(Composed(open + close).root);
  EXPECT_FALSE(Composed("[" + open + close + "]").root);
}

}  // namespace
}  // namespace sprocketry::document
