#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "document/csv.hpp"
#include "document_support.hpp"

namespace sprocketry::document {
namespace {

struct Parsed {
  Diagnostics diagnostics;
  std::optional<CsvTable> table;

  explicit Parsed(const std::string& text) {
    table = parse_csv(diagnostics.add_source("motors.csv", text), diagnostics);
  }
};

std::string joined(const std::vector<CsvTable::Cell>& row) {
  std::string text;
  for (const CsvTable::Cell& cell : row) text += "<" + cell.text + ">";
  return text;
}

std::string whole(const CsvTable& table) {
  std::string text = joined(table.header);
  for (const auto& row : all_cells(table)) text += "/" + joined(row);
  return text;
}

TEST(Csv, ReadsRowsAsSpreadsheetsWriteThem) {
  struct Case {
    std::string text;
    std::string cells;
  };
  const std::vector<Case> cases = {
      {"a,b\n1,2\n", "<a><b>/<1><2>"},
      {"a,b\n1,2", "<a><b>/<1><2>"},
      {"a,b\r\n1,2\r\n", "<a><b>/<1><2>"},
      {"a,b\r1,2\r", "<a><b>/<1><2>"},
      {"\xEF\xBB\xBF"
       "a,b\n1,2\n",
       "<a><b>/<1><2>"},
      {"# note\n\na,b\n\n# note, 1\n1,2\n  \n,\n \t,,  \n3,4\n", "<a><b>/<1><2>/<3><4>"},
      {" a , b\t\n 1 km ,2  \n", "<a><b>/<1 km><2>"},
      {"a,b\n\"1, \"\"x\"\"\", \" y \" \n", "<a><b>/<1, \"x\">< y >"},
      {"a,b\n\"1\n2\r\n3\",4\n", "<a><b>/<1\n2\n3><4>"},
      {"a,b\n,2\n1,\n", "<a><b>/<><2>/<1><>"},
      {"a\n7/8\"\n\"\"\n", "<a>/<7/8\">/<>"},
      {"a\n", "<a>"},
  };
  for (const Case& one : cases) {
    const Parsed parsed(one.text);
    ASSERT_TRUE(parsed.table) << one.text << parsed.diagnostics.text();
    EXPECT_EQ(whole(*parsed.table), one.cells) << one.text;
  }
}

TEST(Csv, MarksEveryCellByLineAndCodePoint) {
  const Parsed parsed(
      "\xEF\xBB\xBF"
      "a,\xC3\xA4\xC3\xA4, c\n# x\n \xE2\x82\xAC,\"x\ny\",z\r\n1,2, 3\n");
  ASSERT_TRUE(parsed.table);
  EXPECT_EQ(place(parsed.table->header[1].mark), "1:3");
  EXPECT_EQ(place(parsed.table->header[2].mark), "1:7");
  const auto rows = all_cells(*parsed.table);
  const auto& first = rows.at(0);
  EXPECT_EQ(place(first[0].mark), "3:2");
  EXPECT_EQ(place(first[1].mark), "3:4");
  EXPECT_EQ(place(first[2].mark), "4:4");
  EXPECT_EQ(place(rows.at(1)[2].mark), "5:6");
}

TEST(Csv, RefusesWhatIsNoTable) {
  struct Refusal {
    std::string text;
    std::string place;
    std::string message;
  };
  const std::vector<Refusal> refusals = {
      {"", "1:1", "is empty"},
      {"# only notes\n\n", "1:1", "is empty"},
      {"a,b\n1\n", "2:2", "1 cell, the header has 2 cells"},
      {"a,b\n1,2,3\n", "2:5", "3 cells, the header has 2 cells"},
      {"a,b\n1,\"2\n3,4\n", "2:3", "not closed"},
      {"\"a,b\n1,2\n", "1:1", "not closed"},
      {"a,b\n1,\"2\" x\n", "2:7", "behind a closing quote"},
      {"a,b, a\n1,2,3\n", "1:6", "'a' is named twice"},
      {"a,,b\n1,2,3\n", "1:3", "without a name"},
      {"a;b\n1;2\n", "1:1", "not separated by commas"},
      {"a,b\n1,\x01\n", "2:3", "U+0001"},
      {"a,b\n1,\xE4\n", "2:3", "0xE4"},
  };
  for (const Refusal& one : refusals) {
    const Parsed parsed(one.text);
    EXPECT_FALSE(parsed.table) << one.text;
    ASSERT_EQ(parsed.diagnostics.all().size(), 1U) << one.text << parsed.diagnostics.text();
    EXPECT_EQ(place(parsed.diagnostics.all()[0].mark), one.place) << one.text;
    EXPECT_NE(parsed.diagnostics.all()[0].message.find(one.message), std::string::npos)
        << parsed.diagnostics.text();
  }
}

TEST(Csv, ReportsEveryRowOfAWrongLengthButNotEndlessly) {
  EXPECT_EQ(Parsed("a,b\n1\n1,2\n1,2,3\n").diagnostics.all().size(), 2U);
  std::string text = "a,b\n";
  for (int i = 0; i < 1000; ++i) text += "1\n";
  EXPECT_EQ(Parsed(text).diagnostics.all().size(), 200U);
}

TEST(Csv, StatesItsLimits) {
  std::string wide = "c0";
  for (int i = 1; i < 1001; ++i) wide.append(",c").append(std::to_string(i));
  const Parsed parsed(wide + "\n");
  ASSERT_EQ(parsed.diagnostics.all().size(), 1U);
  EXPECT_NE(parsed.diagnostics.text().find("more than 1000 columns"), std::string::npos);
  EXPECT_NE(Parsed(std::string(kMaxFileSize + 1, 'a')).diagnostics.text().find("16 MiB"),
            std::string::npos);
}

// The list of maps that a table stands for, on one line, or what was reported.
std::string as_list(const std::string& text) {
  Parsed parsed(text);
  EXPECT_TRUE(parsed.table) << parsed.diagnostics.text();
  const Mark mark{nullptr, 7, 9};
  const auto list = csv_to_node(*parsed.table, mark, parsed.diagnostics);
  if (!list) return parsed.diagnostics.text();
  EXPECT_EQ(place(list->mark), "7:9");
  return outline(*list);
}

TEST(CsvNode, JoinsColumnsIntoMapsAndLists) {
  EXPECT_EQ(as_list("id,current.peak,current.for\nx,1 A,60 s\ny,2 A,\n"),
            "[{id: x, current: {peak: 1 A, for: 60 s}}, {id: y, current: {peak: 2 A}}]");
  EXPECT_EQ(
      as_list("id,n.0.v,n.0.i,n.1.v,n.1.i\nx,48 V,5 A,72 V,7 A\ny,48 V,5 A,,\n"),
      "[{id: x, n: [{v: 48 V, i: 5 A}, {v: 72 V, i: 7 A}]}, {id: y, n: [{v: 48 V, i: 5 A}]}]");
  EXPECT_EQ(as_list("id,l.0,l.1\nx,a,b\n"), "[{id: x, l: [a, b]}]");
  EXPECT_EQ(as_list("a.b.c,a.d\n1,2\n"), "[{a: {b: {c: 1}, d: 2}}]");
}

TEST(CsvNode, LeavesEmptyCellsOut) {
  EXPECT_EQ(as_list("id,a.b,a.c,l.0\nx,,,\n"), "[{id: x}]");
  EXPECT_EQ(as_list("id,mass\n"), "[]");
}

TEST(CsvNode, ComposesACurveInACell) {
  EXPECT_EQ(as_list("id,curve\nx,\"[[0 %, 2.8 V], [100 %, 3.4 V]]\"\ny,{a: 1}\n"),
            "[{id: x, curve: [[0 %, 2.8 V], [100 %, 3.4 V]]}, {id: y, curve: {a: 1}}]");
  EXPECT_NE(as_list("id,curve\nx,\"[0 %, [1\"\n").find("motors.csv:2:12: error: a '['"),
            std::string::npos);
  EXPECT_NE(as_list("id,curve\nx,\"{a: 1,\n a: 2}\"\n").find("motors.csv:3:2: error: the key 'a'"),
            std::string::npos);
}

TEST(CsvNode, MarksKeysInTheHeaderAndValuesAtTheirCells) {
  Parsed parsed("id,current.peak,curve\nx, 1 A,\"[2, 3]\"\n");
  ASSERT_TRUE(parsed.table);
  const auto list = csv_to_node(*parsed.table, {}, parsed.diagnostics);
  ASSERT_TRUE(list);
  const Node& motor = list->items.at(0);
  EXPECT_EQ(place(motor.mark), "2:1");
  EXPECT_EQ(place(motor.entries.at(1).key_mark), "1:4");
  EXPECT_EQ(place(motor.entries.at(1).value.mark), "2:4");
  const Entry& peak = motor.entries.at(1).value.entries.at(0);
  EXPECT_EQ(place(peak.key_mark), "1:12");
  EXPECT_EQ(place(peak.value.mark), "2:4");
  EXPECT_EQ(place(motor.find("curve")->items.at(1).mark), "2:13");
}

// A cell that is YAML and stands there again is not composed again.
TEST(CsvNode, MarksARepeatedFragmentWhereItStands) {
  Parsed parsed(
      "id,l,m\nx,{a: [b]},\ny,,\"{a: [b]}\"\nz,\"{a:\n [b]}\",\n   w , {a: [b]},\"{a:\n [b]}\"\n");
  ASSERT_TRUE(parsed.table) << parsed.diagnostics.text();
  const auto list = csv_to_node(*parsed.table, {}, parsed.diagnostics);
  ASSERT_TRUE(list);
  const auto places = [&](std::size_t row, const char* column) {
    const Node& cell = *list->items.at(row).find(column);
    const Entry& entry = cell.entries.at(0);
    return place(cell.mark) + " " + place(entry.key_mark) + " " + place(entry.value.mark) + " " +
           place(entry.value.items.at(0).mark);
  };
  EXPECT_EQ(places(0, "l"), "2:3 2:4 2:7 2:8");
  EXPECT_EQ(places(1, "m"), "3:5 3:6 3:9 3:10");
  EXPECT_EQ(places(2, "l"), "4:4 4:5 5:2 5:3");
  EXPECT_EQ(places(3, "l"), "6:8 6:9 6:12 6:13");
  EXPECT_EQ(places(3, "m"), "6:18 6:19 7:2 7:3");
}

TEST(CsvNode, GivesItsItemsOneByOneUnlessOneIsWrong) {
  Parsed sound("id,l\nx,[1]\n,\"\"\ny,[1]\n");
  ASSERT_TRUE(sound.table);
  std::string seen;
  const auto add = [&seen](const Node& item) { seen += outline(item) + ";"; };
  const auto shape = csv_shape(*sound.table, sound.diagnostics);
  ASSERT_TRUE(shape);
  EXPECT_TRUE(each_csv_item(*sound.table, *shape, sound.table->pieces.at(0), add));
  EXPECT_EQ(seen, "{id: x, l: [1]};{id: y, l: [1]};");
  EXPECT_EQ(sound.table->rows, 3U);
  EXPECT_EQ(sound.table->filled, 2U);
  Parsed wrong("id,l\nx,[1]\ny,[1\nz,[2\n");
  ASSERT_TRUE(wrong.table);
  EXPECT_FALSE(each_csv_item(*wrong.table, *shape, wrong.table->pieces.at(0), add));
  EXPECT_EQ(wrong.diagnostics.all().size(), 0U);
  EXPECT_FALSE(report_csv_cells(*wrong.table, wrong.diagnostics));
  EXPECT_EQ(wrong.diagnostics.all().size(), 2U);
}

// Of the rows of one form a tree is written over; what differs must not be left from another row.
TEST(CsvNode, KeepsNothingOfTheRowBefore) {
  EXPECT_EQ(as_list("id,a.b,a.c\nx,[1],2\ny,{d: 3},4\nz,5,6\nw,[7],\nv,\"[8]\",9\n"),
            "[{id: x, a: {b: [1], c: 2}}, {id: y, a: {b: {d: 3}, c: 4}}, {id: z, a: {b: 5, c: 6}}, "
            "{id: w, a: {b: [7]}}, {id: v, a: {b: [8], c: 9}}]");
}

// Rows are passed by the shortest way where they are plain; pieces begin where they should.
TEST(Csv, FindsEveryRowOfALongTable) {
  const std::vector<std::string> rows = {"a,b\n",    "a,b\r\n",      "\"a\",b\n",
                                         " a , b\n", "\xC3\xA4,b\n", "# x\n,\na,\"b\nc\"\n",
                                         "a,b\r",    "a,7/8\"\n"};
  const std::vector<std::string> cells = {"<a><b>",        "<a><b>",    "<a><b>", "<a><b>",
                                          "<\xC3\xA4><b>", "<a><b\nc>", "<a><b>", "<a><7/8\">"};
  std::string text = "x,y\n";
  std::string expected = "<x><y>";
  std::vector<std::string> places;
  std::size_t line = 2;
  for (std::size_t i = 0; i < 3000; ++i) {
    const std::size_t which = i * i % 37 % rows.size();
    text += rows[which];
    expected += "/" + cells[which];
    if (which == 5) line += 2;
    places.push_back(std::to_string(line) + ":" + (which == 3 ? "2" : "1"));
    line += which == 5 ? 2 : 1;
  }
  const Parsed parsed(text);
  ASSERT_TRUE(parsed.table) << parsed.diagnostics.text();
  EXPECT_EQ(whole(*parsed.table), expected);
  const auto all = all_cells(*parsed.table);
  ASSERT_EQ(all.size(), places.size());
  for (std::size_t i = 0; i < all.size(); ++i) ASSERT_EQ(place(all[i][0].mark), places[i]) << i;
}

TEST(CsvNode, RefusesColumnsThatContradictEachOther) {
  struct Refusal {
    std::string header;
    std::string report;
  };
  const std::vector<Refusal> refusals = {
      {"a,a.b", "1:5: error: this column contradicts"},
      {"a.b,a", "1:5: error: this column contradicts"},
      {"a.b,a.0", "1:7: error: this column contradicts"},
      {"a.1,b", "1:3: error: the list position 1"},
      {"a.0,a.2", "1:7: error: the list position 2"},
      {"a..b,c", "1:3: error: a key is missing"},
      {".a,c", "1:1: error: a key is missing"},
      {"a.,c", "1:3: error: a key is missing"},
  };
  for (const Refusal& one : refusals) {
    const std::string report = as_list(one.header + "\n1,2\n");
    EXPECT_NE(report.find("motors.csv:" + one.report), std::string::npos) << one.header << "\n"
                                                                          << report;
  }
}

}  // namespace
}  // namespace sprocketry::document
