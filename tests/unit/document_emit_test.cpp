#include <gtest/gtest.h>

#include <random>

#include "document/digest.hpp"
#include "document/emit.hpp"
#include "unit/document_support.hpp"

namespace sprocketry::document {
namespace {

TEST(ToYaml, WritesTextsThatLookLikeSomethingElseSoThatTheyReadBack) {
  for (const char* text : {"",
                           " ",
                           "~",
                           "null",
                           "Null",
                           "a: b",
                           "a #b",
                           "- a",
                           "-",
                           "-13",
                           "1e3",
                           "yes",
                           "72 km/h",
                           "[a",
                           "{b}",
                           "'",
                           "\"",
                           "\\",
                           "%",
                           "% a",
                           "@",
                           "`",
                           "*a",
                           "&a",
                           "!a",
                           "|",
                           ">",
                           "?",
                           ": ",
                           "a:",
                           "---",
                           "...",
                           "420",
                           "7/8 in",
                           "\xC2\xB0"
                           "C",
                           "ends with blank ",
                           " begins",
                           "tab\there",
                           "two\nlines",
                           "2026-01-01",
                           "<<",
                           "="}) {
    Node root = make_map();
    add(root, "key", make_scalar(text));
    const Composed back(to_yaml(root));
    ASSERT_TRUE(back.root) << text << '\n' << to_yaml(root) << back.diagnostics.text();
    EXPECT_TRUE(same_tree(root, *back.root)) << text << '\n' << to_yaml(root);
  }
}

TEST(ToYaml, KeepsQuotesAndNestedTrees) {
  const Composed first(
      "chains: [{id: a, size: \"420\"}]\nlist:\n  - [[1, 2], [3, 4]]\n  - {k: {l: [x]}}\nnone: "
      "~\n");
  ASSERT_TRUE(first.root);
  const Composed back(to_yaml(*first.root));
  ASSERT_TRUE(back.root) << to_yaml(*first.root);
  EXPECT_EQ(outline(*back.root), outline(*first.root));
}

Node random_tree(std::mt19937& random, int depth) {
  const auto roll = [&](unsigned sides) { return static_cast<int>(random() % sides); };
  const int kind = depth == 0 ? 0 : roll(3);
  if (kind == 0) {
    constexpr std::string_view kLetters = "ab9 :#-[]{},'\"\\%&*!|>~?.\n\t";
    std::string text;
    for (int i = roll(12); i > 0; --i) text += kLetters[random() % kLetters.size()];
    return make_scalar(text, roll(2) == 0);
  }
  Node node = kind == 1 ? make_list() : make_map();
  for (int i = roll(6); i > 0; --i) {
    if (kind == 1) {
      node.items.push_back(random_tree(random, depth - 1));
    } else {
      add(node, "key" + std::to_string(i), random_tree(random, depth - 1));
    }
  }
  return node;
}

TEST(ToYaml, ReadsBackAnyTree) {
  std::mt19937 random(7);
  for (int i = 0; i < 3000; ++i) {
    Node root = make_map();
    add(root, "root", random_tree(random, 4));
    const std::string text = to_yaml(root);
    const Composed back(text);
    ASSERT_TRUE(back.root) << text << back.diagnostics.text();
    ASSERT_TRUE(same_tree(root, *back.root)) << text;
  }
}

TEST(SameTree, SeesAnyDifference) {
  const auto tree = [](const char* text) { return *Composed(text).root; };
  EXPECT_TRUE(same_tree(tree("{a: 1, b: 2}"), tree("{b: \"2\", a: 1}")));
  EXPECT_FALSE(same_tree(tree("{a: 1, b: 2}"), tree("{a: 1}")));
  EXPECT_FALSE(same_tree(tree("{a: 1}"), tree("{a: 2}")));
  EXPECT_FALSE(same_tree(tree("{a: [1]}"), tree("{a: [1, 1]}")));
  EXPECT_FALSE(same_tree(tree("{a: [1]}"), tree("{a: 1}")));
}

// FIPS 180-4's examples, as NIST's Cryptographic Standards and Guidelines publish them.
TEST(Sha256, GivesThePublishedDigests) {
  EXPECT_EQ(sha256("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  EXPECT_EQ(sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"),
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  EXPECT_EQ(sha256_of_file("/no/such/file"), std::nullopt);
}

}  // namespace
}  // namespace sprocketry::document
