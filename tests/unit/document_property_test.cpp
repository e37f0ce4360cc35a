#include <gtest/gtest.h>

#include <cstddef>
#include <random>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "document/csv.hpp"
#include "document_support.hpp"
#include "report/json_writer.hpp"

namespace sprocketry::document {
namespace {

using report::Indent;
using report::JsonWriter;
using Random = std::mt19937;

std::size_t below(Random& random, std::size_t end) { return random() % end; }

// Words with everything that means something to YAML, JSON or a terminal.
std::string random_text(Random& random) {
  static const std::vector<std::string> pieces = {
      "a",
      "B7",
      " ",
      ": ",
      "- ",
      "#",
      " #",
      ",",
      "[",
      "]",
      "{",
      "}",
      "'",
      "\"",
      "\\",
      "&",
      "*",
      "!",
      "|",
      ">",
      "%",
      "@",
      "`",
      "?",
      "~",
      "\n",
      "\t",
      "<<",
      "/",
      "---",
      "\r",
      "\xC3\xA4",
      "\xE2\x82\xAC",
      "null",
      "yes",
      "70 km/h",
      "0x10",
      ".nan",
      "=",
      "\xF0\x9F\x98\x80",
  };
  std::string text;
  for (std::size_t count = below(random, 6); count > 0; --count) {
    text += pieces[below(random, pieces.size())];
  }
  return text;
}

// A random tree; every text counts as quoted, since the writers below quote every text.
Node random_tree(Random& random, std::size_t depth) {
  Node node;
  const std::size_t choice = depth == 0 ? below(random, 3) : below(random, 6);
  if (choice == 0) return node;
  if (choice <= 2) {
    node.kind = NodeKind::kScalar;
    node.quoted = true;
    node.scalar = random_text(random);
  } else if (choice == 3) {
    node.kind = NodeKind::kList;
    for (std::size_t count = below(random, 5); count > 0; --count) {
      node.items.push_back(random_tree(random, depth - 1));
    }
  } else {
    node.kind = NodeKind::kMap;
    for (std::size_t count = below(random, 5); count > 0; --count) {
      std::string key = random_text(random) + std::to_string(count);  // unique
      node.entries.push_back({std::move(key), {}, random_tree(random, depth - 1)});
    }
  }
  return node;
}

void write_json(JsonWriter& json, const Node& node) {
  switch (node.kind) {
    case NodeKind::kEmpty:
      return json.null();
    case NodeKind::kScalar:
      return json.value(node.scalar);
    case NodeKind::kList:
      json.begin_list();
      for (const Node& item : node.items) write_json(json, item);
      return json.end_list();
    case NodeKind::kMap:
      json.begin_object();
      for (const Entry& entry : node.entries) {
        json.key(entry.key);
        write_json(json, entry.value);
      }
      return json.end_object();
  }
}

std::string as_json(const Node& node, Indent indent) {
  std::ostringstream out;
  JsonWriter json(out, indent);
  write_json(json, node);
  json.flush();
  return out.str();
}

// The same in block style with texts in double quotes: JSON strings are YAML strings.
std::string as_block(const Node& node, std::size_t depth) {
  const std::string indentation(2 * depth, ' ');
  std::string text;
  for (const Node& item : node.items) {
    text += "\n" + indentation + "- " + as_block(item, depth + 1);
  }
  for (const Entry& entry : node.entries) {
    Node key;
    key.kind = NodeKind::kScalar;
    key.scalar = entry.key;
    text += "\n" + indentation + as_json(key, Indent::kCompact) + ": ";
    text += as_block(entry.value, depth + 1);
  }
  return text.empty() ? as_json(node, Indent::kCompact) : text;
}

void expect_same_tree(const Node& tree, const std::string& text) {
  Composed composed(text);
  if (tree.kind == NodeKind::kEmpty) {
    EXPECT_FALSE(composed.root) << text;
    return;
  }
  ASSERT_TRUE(composed.root) << text << "\n" << composed.diagnostics.text();
  EXPECT_EQ(outline(*composed.root), outline(tree)) << text;
}

TEST(ComposeProperty, ReadsBackEveryTreeWrittenAsJson) {
  Random random(1);
  for (int round = 0; round < 3000; ++round) {
    const Node tree = random_tree(random, 5);
    expect_same_tree(tree, as_json(tree, Indent::kCompact));
    expect_same_tree(tree, as_json(tree, Indent::kPretty));
  }
}

TEST(ComposeProperty, ReadsBackEveryTreeWrittenAsIndentedBlocks) {
  Random random(2);
  for (int round = 0; round < 3000; ++round) {
    const Node tree = random_tree(random, 5);
    expect_same_tree(tree, as_block(tree, 0));
  }
}

// The text at a mark of a one-line-per-word document, found without the code under test.
std::string_view text_at(std::string_view text, const Mark& mark) {
  std::size_t offset = 0;
  for (std::size_t line = 1; line < mark.line; ++line) offset = text.find('\n', offset) + 1;
  for (std::size_t column = 1; column < mark.column; ++column) {
    ++offset;
    while (offset < text.size() && (static_cast<unsigned char>(text[offset]) & 0xC0U) == 0x80U) {
      ++offset;
    }
  }
  return text.substr(offset);
}

void expect_marks_hit(const Node& node, std::string_view text) {
  if (node.kind == NodeKind::kScalar) {
    EXPECT_EQ(text_at(text, node.mark).substr(0, node.scalar.size()), node.scalar);
  }
  for (const Node& item : node.items) expect_marks_hit(item, text);
  for (const Entry& entry : node.entries) {
    EXPECT_EQ(text_at(text, entry.key_mark).substr(0, entry.key.size()), entry.key);
    if (entry.value.kind == NodeKind::kEmpty) {
      const std::string_view rest = text_at(text, entry.key_mark);
      EXPECT_EQ(text_at(text, entry.value.mark).data(), rest.data() + entry.key.size() + 1);
    }
    expect_marks_hit(entry.value, text);
  }
}

std::string random_plain(Random& random) {
  static const std::vector<std::string> words = {
      "a", "mass", "\xC3\xA4", "\u20AC5", "\xF0\x9F\x98\x80", "70 km/h", "x-y"};
  return words[below(random, words.size())] + std::to_string(below(random, 1'000'000));
}

std::string random_plain_block(Random& random, std::size_t depth, std::size_t indent) {
  std::string text;
  for (std::size_t count = 1 + below(random, 3); count > 0; --count) {
    text += std::string(indent, ' ') + random_plain(random) + ":";
    switch (below(random, depth == 0 ? 3 : 4)) {
      case 0:
        text += "\n";
        break;
      case 1:
        text += "  " + random_plain(random) + "  # \xC3\xB6\n";
        break;
      case 2:
        text += " [" + random_plain(random) + ", {" + random_plain(random) + ": ";
        text += random_plain(random) + "}]\n";
        break;
      default:
        text += "\n\n" + random_plain_block(random, depth - 1, indent + 1 + below(random, 4));
    }
  }
  return text;
}

TEST(ComposeProperty, MarksPointAtWhatTheyMark) {
  Random random(3);
  for (int round = 0; round < 3000; ++round) {
    const std::string text = random_plain_block(random, 3, 0);
    const Composed composed(text);
    if (!composed.root) {  // a key was drawn twice
      ASSERT_NE(composed.first().message.find("given twice"), std::string::npos) << text;
      continue;
    }
    expect_marks_hit(*composed.root, text);
    ASSERT_FALSE(HasFailure()) << text;
  }
}

const std::vector<std::string>& seeds() {
  static const std::vector<std::string> documents = {
      ("bike:\n  mass: 120 kg\n  tyre: {rollout: 1.94 m}\nrider: {mass: 80 kg}\n"
       "cruise: [40 km/h, 70 km/h]\n"),
      ("cells:\n  - id: slate-100\n    curve: [[0 %, 2.80 V], [10 %, 3.20 V]]\n"
       "    title: \"a \\\"b\\\" \\u00e9\"\n  - {id: x, price: 95}\n# note\nlong: >-\n  folded\n"
       "  text\n\n  more\nexact: |\n  a\n   b\n"),
      "- a\n- - b\n  - c\n-\n- 'it''s'\n- k: v\n  m:\n  - 1\n- ~\n",
      "a:\r\n  b: [1, 2,\r\n    3]\r\n  c: 'x\r\n\r\n    y'\r\n",
      "%YAML 1.2\n---\n{\"a\": [1, 2.5e3, true, null], \"\xC3\xA4\": {\"c\": \"d\"}}\n...\n",
      "id,current.peak,curve\nx,\"1 A\",\"[[0 %, 2 V], [1 %, 3 V]]\"\n# note\ny , 2 A ,\n",
  };
  return documents;
}

std::string mutated(Random& random, std::string text) {
  static const std::string signs = " \n\t\r:-,[]{}'\"#&*!|>%@`?~\\<=a0";
  for (std::size_t count = 1 + below(random, 6); count > 0; --count) {
    const std::size_t at = below(random, text.size() + 1);
    const std::size_t other = below(random, text.size() + 1);
    switch (below(random, 6)) {
      case 0:
        text.insert(at, 1, signs[below(random, signs.size())]);
        break;
      case 1:
        text.insert(at, 1, static_cast<char>(below(random, 256)));
        break;
      case 2:
        text.erase(at, 1 + below(random, 4));
        break;
      case 3:
        if (at < text.size()) text[at] = static_cast<char>(text[at] ^ (1 << below(random, 8)));
        break;
      case 4:
        text.insert(at, text.substr(other, below(random, 40)));
        break;
      default:
        if (at < text.size()) text[at] = signs[below(random, signs.size())];
    }
  }
  return text;
}

// A finding has its place inside the text, and can be shown.
void expect_sound(const Diagnostics& diagnostics, const std::string& text) {
  for (const Diagnostic& one : diagnostics.all()) {
    EXPECT_FALSE(one.message.empty()) << text;
    EXPECT_GE(one.mark.line, 1U) << text;
    EXPECT_GE(one.mark.column, 1U) << text;
    EXPECT_LE(one.mark.column, text.size() + 1) << text;
  }
  for (const char letter : diagnostics.text()) {
    EXPECT_TRUE(letter == '\n' || static_cast<unsigned char>(letter) >= 0x20) << text;
  }
}

void expect_clean(const Node& node) {
  EXPECT_NE(node.mark.source, nullptr);
  EXPECT_GE(node.mark.line, 1U);
  EXPECT_GE(node.mark.column, 1U);
  for (const char letter : node.scalar) {
    const bool blank = letter == '\n' || letter == '\t' || letter == '\r';
    EXPECT_TRUE(blank || static_cast<unsigned char>(letter) >= 0x20);
  }
  for (const Node& item : node.items) expect_clean(item);
  for (const Entry& entry : node.entries) {
    EXPECT_EQ(node.find(entry.key), &entry.value);  // keys are unique
    expect_clean(entry.value);
  }
}

TEST(ComposeProperty, ReturnsOrDiagnosesWhateverTheBytesAre) {
  Random random(4);
  int composed_count = 0;
  for (int round = 0; round < 20'000; ++round) {
    const std::string text = mutated(random, seeds()[below(random, seeds().size())]);
    const Composed composed(text);
    EXPECT_EQ(composed.root.has_value(), !composed.diagnostics.has_errors()) << text;
    expect_sound(composed.diagnostics, text);
    if (composed.root) expect_clean(*composed.root);
    composed_count += composed.root ? 1 : 0;
    ASSERT_FALSE(HasFailure()) << text;
  }
  EXPECT_GT(composed_count, 2000);  // the mutations do not only make junk
  EXPECT_LT(composed_count, 18'000);
}

TEST(ComposeProperty, AnswersForEveryTruncationOfADocument) {
  for (const std::string& seed : seeds()) {
    for (std::size_t length = 0; length <= seed.size(); ++length) {
      const Composed composed(seed.substr(0, length));
      EXPECT_EQ(composed.root.has_value(), !composed.diagnostics.has_errors());
    }
  }
}

TEST(CsvProperty, ReturnsOrDiagnosesWhateverTheBytesAre) {
  Random random(5);
  int parsed_count = 0;
  for (int round = 0; round < 20'000; ++round) {
    const std::string text = mutated(random, seeds()[random() % 4 == 0 ? below(random, 6) : 5]);
    Diagnostics diagnostics;
    const Source& source = diagnostics.add_source("a.csv", text);
    const auto table = parse_csv(source, diagnostics);
    EXPECT_EQ(table.has_value(), !diagnostics.has_errors()) << text;
    if (table) {
      ++parsed_count;
      const auto list = csv_to_node(*table, {&source, 1, 1}, diagnostics);
      EXPECT_EQ(list.has_value(), !diagnostics.has_errors()) << text;
      if (list) expect_clean(*list);
    }
    expect_sound(diagnostics, text);
    ASSERT_FALSE(HasFailure()) << text;
  }
  EXPECT_GT(parsed_count, 1000);
}

TEST(CsvProperty, ReadsBackEveryTableThatIsQuoted) {
  Random random(6);
  for (int round = 0; round < 2000; ++round) {
    const std::size_t width = 1 + below(random, 5);
    std::vector<std::vector<std::string>> cells(1 + below(random, 6));
    std::string text;
    for (auto& row : cells) {
      for (std::size_t column = 0; column < width; ++column) {
        std::string cell = random_text(random) + std::to_string(column);
        std::string quoted;
        for (const char letter : cell) quoted += letter == '"' ? "\"\"" : std::string(1, letter);
        text += (column == 0 ? "\"" : ",\"") + quoted + "\"";
        // A line end inside a cell is read as LF, whatever it was.
        std::string known;
        for (std::size_t i = 0; i < cell.size(); ++i) {
          if (cell[i] == '\r' && i + 1 < cell.size() && cell[i + 1] == '\n') continue;
          known += cell[i] == '\r' ? '\n' : cell[i];
        }
        row.push_back(known);
      }
      text += random() % 2 == 0 ? "\n" : "\r\n";
    }
    Diagnostics diagnostics;
    const auto table = parse_csv(diagnostics.add_source("a.csv", text), diagnostics);
    if (!table) {  // two columns were given the same name
      ASSERT_NE(diagnostics.all().at(0).message.find("named twice"), std::string::npos) << text;
      continue;
    }
    ASSERT_EQ(table->rows + 1, cells.size()) << text;
    const auto rows = all_cells(*table);
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const auto& row = i == 0 ? table->header : rows[i - 1];
      for (std::size_t column = 0; column < width; ++column) {
        EXPECT_EQ(row[column].text, cells[i][column]) << text;
      }
    }
  }
}

}  // namespace
}  // namespace sprocketry::document
