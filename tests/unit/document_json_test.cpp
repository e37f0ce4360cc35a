#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "document/digest.hpp"
#include "document/json.hpp"
#include "document_support.hpp"

namespace sprocketry::document {
namespace {

struct Json {
  Diagnostics diagnostics;
  const Source* source;
  std::optional<JsonNode> root;

  explicit Json(const std::string& text, std::string_view closed = "big")
      : source(&diagnostics.add_source("a.json", text)),
        root(compose_json(*source, closed, diagnostics)) {}
};

// A tree on one line, with the raw bytes of scalars.
std::string outline(const JsonNode& node) {
  if (node.kind != JsonKind::kList && node.kind != JsonKind::kObject) return std::string(node.raw);
  const bool is_list = node.kind == JsonKind::kList;
  std::string text;
  for (const JsonNode& child : node.children) {
    text += (text.empty() ? "" : ", ") + (is_list ? "" : child.key + ": ") + outline(child);
  }
  return is_list ? "[" + text + "]" : "{" + text + "}";
}

TEST(Json, IsReadWithTheBytesOfEachValue) {
  const Json json(
      R"( {"a": [1, -2.5e3 , true,false, null], "b" : {"c\n": "x\"\\", "d": ""}, "e": []} )");
  ASSERT_TRUE(json.root) << json.diagnostics.text();
  EXPECT_EQ(outline(*json.root), R"({a: [1, -2.5e3, true, false, null], b: {)"
                                 "c\n"
                                 R"(: "x\"\\", d: ""}, e: []})");
  EXPECT_EQ(json.root->raw.front(), '{');
  EXPECT_EQ(json.root->raw.back(), '}');
  const JsonNode& inner = *json.root->find("b");
  EXPECT_EQ(inner.raw, R"({"c\n": "x\"\\", "d": ""})");
  EXPECT_EQ(inner.find("c\n")->text, "x\"\\");
  EXPECT_EQ(json.root->find("a")->children[1].text, "-2.5e3");
  EXPECT_EQ(inner.find("z"), nullptr);
}

TEST(Json, OfOneScalarIsADocumentToo) {
  for (const char* text : {"7", "\"x\"", "\"\"", "\"\\\\\"", "true", "null"}) {
    const Json json(text);
    ASSERT_TRUE(json.root) << text;
    EXPECT_EQ(json.root->raw, text);
  }
}

TEST(Json, KeepsOnlyTheScalarsOfTheClosedListsItems) {
  const Json json(
      R"({"big": [{"id": "a", "deep": {"id": [1]}, "n": 2}, [3, [4]], 5], "other": [{"deep": {"id": 6}}]})");
  ASSERT_TRUE(json.root) << json.diagnostics.text();
  EXPECT_EQ(outline(*json.root), R"({big: [{id: "a", n: 2}, [3], 5], other: [{deep: {id: 6}}]})");
  EXPECT_EQ(json.root->find("big")->children[0].raw, R"({"id": "a", "deep": {"id": [1]}, "n": 2})");
}

struct Refusal {
  std::string text;
  std::string place;
  std::string message;  // a part of it
};

TEST(Json, ThatIsNoneIsRefusedAtItsPlace) {
  const std::vector<Refusal> refusals = {
      {"", "1:1", "empty"},
      {" \n", "2:1", "empty"},
      {"{", "1:2", "ends in the middle"},
      {"{\"a\": [1,\n 2", "2:3", "ends in the middle"},
      {"{\"a\": \"x", "1:9", "ends in the middle"},
      {"{\"a\": tru", "1:10", "ends in the middle"},
      {"{\"a\": 1,}", "1:9", "not JSON"},
      {"{'a': 1}", "1:2", "not JSON"},
      {"{\"a\": 01}", "1:8", "not JSON"},
      {"{\"a\": NaN}", "1:7", "not JSON"},
      {"[1]\n[2]", "2:1", "not JSON"},
      {"// x\n[1]", "1:1", "not JSON"},
      {"{\"big\": [{\"a\": [1 2]}]}", "1:19", "not JSON"},
      {"{\"a\": 1, \"b\": 2, \"a\": 3}", "1:24", "`a` twice"},
      {std::string("[1]\0[2]", 7), "1:4", "zero byte"},
      {std::string(65, '['), "1:65", "nesting deeper than 64"},
      {"{\"big\": [" + std::string(65, '['), "1:72", "nesting deeper than 64"},
  };
  for (const Refusal& one : refusals) {
    const Json json(one.text);
    EXPECT_FALSE(json.root) << one.text;
    ASSERT_TRUE(json.diagnostics.has_errors()) << one.text;
    const Diagnostic& first = json.diagnostics.all().at(0);
    EXPECT_NE(first.message.find(one.message), std::string::npos) << json.diagnostics.text();
    EXPECT_EQ(place(first.mark), one.place) << json.diagnostics.text();
    EXPECT_FALSE(first.hint.empty());
  }
}

TEST(Json, MarksWhereAValueBegins) {
  const Json json("{\"ä\": 1,\n \"b\": \"x\\\"y\", \"c\": false}");
  ASSERT_TRUE(json.root);
  EXPECT_EQ(place(mark_of(*json.root->find("b"), *json.source)), "2:7");
  EXPECT_EQ(place(mark_of(*json.root->find("c"), *json.source)), "2:20");
  EXPECT_EQ(place(mark_of(*json.root->find("ä"), *json.source)), "1:7");
}

TEST(Digest, OfSeveralTextsTellsWhereEachEnds) {
  const auto digest = [](std::vector<std::string_view> texts) { return sha256_of_all(texts); };
  EXPECT_EQ(digest({}), sha256(""));
  EXPECT_EQ(digest({"abc"}), sha256("3:abc"));
  EXPECT_NE(digest({"ab", "c"}), digest({"a", "bc"}));
  EXPECT_NE(digest({"ab", ""}), digest({"ab"}));
}

}  // namespace
}  // namespace sprocketry::document
