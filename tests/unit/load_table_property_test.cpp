#include <gtest/gtest.h>
#include <tbb/global_control.h>

#include <algorithm>
#include <array>
#include <map>
#include <random>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "document/csv.hpp"
#include "load_support.hpp"

// A list in a CSV file is read by rows, in pieces, by several threads. The same parts written in
// YAML go through the composer and are read from one tree: both must give the same parts and the
// same words about what is wrong, and so must any number of threads.
namespace sprocketry::test {
namespace {

using Random = std::mt19937_64;

std::size_t below(Random& random, std::size_t count) { return random() % count; }

using Row = std::map<std::string, std::string>;  // by the column's name; "" for an empty cell

struct Column {
  std::string name;
  std::vector<std::string> sound;
};

// A list of parts that a table can hold.
struct Kind {
  std::string list;
  std::vector<Column> columns;
};

const std::vector<std::string> kLengths = {"7/8 in", "22.2 mm", "0.022 m", "1 in", "2.5 cm"};

const Kind kMotors = {
    "motors",
    {{"kind", {"brushed", "brushless"}},
     {"magnet", {"", "neodymium", "ferrite"}},
     {"speed_constant", {"62 rpm/V", "41.25 rpm/V", "16.1 V/krpm", "6.5 rad/s/V"}},
     {"resistance", {"14 mohm", "0.014 ohm", "9.125 mohm"}},
     {"no_load.0.voltage", {"48 V", "36 V"}},
     {"no_load.0.current", {"5 A", "5.5 A"}},
     {"no_load.1.voltage", {"", "72 V"}},
     {"no_load.1.current", {"", "6 A"}},
     {"max_voltage", {"90 V", "96 V"}},
     {"max_speed", {"6000 rpm", "5500 rpm", "600 rad/s"}},
     {"current.continuous", {"110 A", "90.5 A", "100 A_rms"}},
     {"current.peak", {"280 A", "400 A_pk"}},
     {"current.for", {"", "60 s", "1 min 30 s"}},
     {"thermal", {"", "", "{resistance: 0.2 K/W, capacity: 4 kJ/K, max_winding: 155 degC}"}},
     {"shaft.diameter", kLengths},
     {"shaft.key", {"", "none", "3/16 in"}},
     {"rotor_inertia", {"", "0.006 kg m2"}},
     {"field_weakening", {"", "yes", "no"}},
     {"mass", {"11.5 kg", "25 lb", "9 lb 3 oz"}},
     {"price", {"640", "512.35", "1e3"}}}};

const Kind kChargers = {"chargers",
                        {{"chemistries", {"[lfp]", "[nmc, lfp]", "[lead]"}},
                         {"full_voltage.min", {"46 V", "54.5 V"}},
                         {"full_voltage.max", {"56 V", "60.25 V"}},
                         {"current", {"5 A", "20 A"}},
                         {"efficiency", {"", "91 %", "94.5 %"}},
                         {"carried", {"", "yes", "no"}},
                         {"mass", {"1.5 kg", "2 lb"}},
                         {"price", {"150", "99.99"}}}};

// What goes wrong in a cell: an empty one is a key that was left out.
const std::vector<std::string> kBroken = {
    "",         "12",     "12 furlong", "-3 V",         "1e400 A", "abc",
    "0 V/krpm", "7/0 in", "[1, 2]",     "{a: 1}",       "1,5 A",   "5 \u2126",
    "12 kg kg", "no",     "none",       "9999999999 A", "-5 degC", "600 degF"};

Row random_row(Random& random, const Kind& kind, std::size_t number, std::size_t broken_in) {
  Row row;
  for (const Column& column : kind.columns)
    row[column.name] = column.sound[below(random, column.sound.size())];
  if (row.contains("no_load.1.voltage") &&
      row["no_load.1.voltage"].empty() != row["no_load.1.current"].empty()) {
    row["no_load.1.voltage"] = row["no_load.1.current"] = "";
  }
  row["id"] = "part-" + std::to_string(100000 + number);
  if (broken_in == 0 || below(random, broken_in) != 0) return row;
  switch (below(random, 4)) {
    case 0:
      row["id"] = "part-" + std::to_string(100000 + below(random, number + 1));  // perhaps twice
      break;
    case 1:
      row["id"] = below(random, 2) == 0 ? "" : "no id";
      break;
    default:
      row[kind.columns[below(random, kind.columns.size())].name] =
          kBroken[below(random, kBroken.size())];
  }
  return row;
}

std::string quoted(const std::string& cell) {
  std::string text = "\"";
  for (const char letter : cell) text += letter == '"' ? "\"\"" : std::string(1, letter);
  return text + "\"";
}

// As spreadsheets write it, in several ways.
std::string as_csv(Random& random, const Kind& kind, const std::vector<Row>& rows) {
  const std::string line_end =
      std::array{"\n", "\r\n", "\r"}[below(random, 8) < 6 ? 0 : below(random, 3)];
  std::string text = "id";
  for (const Column& column : kind.columns) text += "," + column.name;
  if (kind.list == "motors") text += ",unknown_key";
  text += line_end;
  for (const Row& row : rows) {
    if (below(random, 40) == 0) text += "# a remark, with commas" + line_end;
    if (below(random, 40) == 0) text += " ,, " + line_end;
    const auto cell = [&](const std::string& value) {
      const bool must = value.find_first_of(",\"") != std::string::npos;
      const bool quotes = must || (!value.empty() && below(random, 60) == 0);
      return std::string(below(random, 30) == 0 ? " " : "") + (quotes ? quoted(value) : value) +
             (below(random, 30) == 0 ? "\t" : "");
    };
    text += cell(row.at("id"));
    for (const Column& column : kind.columns) text += "," + cell(row.at(column.name));
    if (kind.list == "motors") text += ",";
    text += line_end;
  }
  return text;
}

// The same rows as nested maps; a cell that a table composes as YAML stands as it is.
struct Tree {
  std::string key;
  std::string value;
  std::vector<Tree> parts;

  Tree& part(const std::string& name) {
    const auto known = std::ranges::find(parts, name, &Tree::key);
    return known != parts.end() ? *known : parts.emplace_back(Tree{name, {}, {}});
  }
};

std::string text_of(const Tree& tree) {
  if (tree.parts.empty()) {
    const bool yaml = tree.value.front() == '[' || tree.value.front() == '{';
    return yaml ? tree.value : quoted(tree.value);
  }
  const bool list = tree.parts.front().key == "0" || tree.parts.front().key == "1";
  std::string text;
  for (const Tree& part : tree.parts) {
    text += (text.empty() ? "" : ", ") + (list ? "" : part.key + ": ") + text_of(part);
  }
  return list ? "[" + text + "]" : "{" + text + "}";
}

std::string as_yaml(const Kind& kind, const std::vector<Row>& rows) {
  std::string text = kind.list + ":\n";
  for (const Row& row : rows) {
    Tree tree;
    if (!row.at("id").empty()) tree.part("id").value = row.at("id");
    for (const Column& column : kind.columns) {
      const std::string& value = row.at(column.name);
      if (value.empty()) continue;
      Tree* at = &tree;
      std::istringstream path(column.name);
      for (std::string key; std::getline(path, key, '.');) at = &at->part(key);
      at->value = value;
    }
    text += "  - " + text_of(tree) + "\n";
  }
  return text;
}

void put(std::ostream& out, const document::Mark& mark, bool with_places) {
  if (with_places) out << "@" << mark.line << ":" << mark.column;
}

// Every figure of the parts to the last bit, and every default.
std::string outline(const parts::Catalogue& c, bool with_places) {
  std::ostringstream out;
  out << std::hexfloat;
  for (const parts::MotorPart& m : c.motors) {
    const model::Motor& p = m.model;
    out << m.id << ' ' << m.price << ' ' << m.mass << ' ' << static_cast<int>(p.kind) << ' '
        << static_cast<int>(p.magnet) << ' ' << p.torque_constant << ' ' << p.resistance << ' '
        << p.loss.constant << ' ' << p.loss.viscous << ' ' << p.max_voltage << ' ' << p.max_speed
        << ' ' << p.continuous_current << ' ' << p.peak_current << ' ' << p.peak_duration << ' '
        << p.rotor_inertia << ' ' << p.thermal.winding_to_body << ' ' << p.thermal.body_to_air
        << ' ' << p.thermal.winding_capacity << ' ' << p.thermal.body_capacity << ' '
        << p.thermal.max_winding << ' ' << m.thermal_estimated << m.field_weakening;
    if (m.shaft) out << " shaft " << m.shaft->diameter << ' ' << m.shaft->key.value_or(-1);
    put(out, m.mark, with_places);
    out << '\n';
  }
  for (const parts::ChargerPart& p : c.chargers) {
    out << p.id << ' ' << p.price << ' ' << p.mass << ' ' << p.min_full_voltage << ' '
        << p.max_full_voltage << ' ' << p.current << ' ' << p.efficiency << ' ' << p.carried;
    for (const std::string& chemistry : p.chemistries) out << ' ' << chemistry;
    put(out, p.mark, with_places);
    out << '\n';
  }
  for (const parts::Default& one : c.defaults) {
    out << one.key << " = " << one.value << " (" << one.source << ")\n";
  }
  return out.str();
}

// What is lacking is added to a row of a table in other words than to a map.
std::string hint_of(const document::Diagnostic& finding, bool with_places) {
  const bool adds = finding.hint.starts_with("fill the column `") ||
                    finding.hint.starts_with("add a line such as `");
  return adds && !with_places ? "add it" : finding.hint;
}

// The findings in the order in which they were added; without places as if they were of either
// form.
std::string words(const document::Diagnostics& diagnostics, bool with_places) {
  std::ostringstream out;
  for (const document::Diagnostic& one : diagnostics.all()) {
    put(out, one.mark, with_places);
    out << ' ' << one.message << " | " << hint_of(one, with_places) << " | " << one.second_message;
    if (one.second_mark) put(out, *one.second_mark, with_places);
    out << '\n';
  }
  return out.str();
}

struct Read {
  std::string parts;
  std::string words;
  std::string shown;
};

Read read(const std::filesystem::path& file, bool with_places, std::size_t threads = 0) {
  std::optional<tbb::global_control> limit;
  if (threads > 0) limit.emplace(tbb::global_control::max_allowed_parallelism, threads);
  document::Diagnostics diagnostics;
  const auto catalogue =
      parts::load_catalogue({{file, file.filename().string(), {}}}, false, diagnostics);
  return {outline(catalogue, with_places), words(diagnostics, with_places),
          diagnostics.text(100000)};
}

std::vector<Row> random_rows(Random& random, const Kind& kind, std::size_t count,
                             std::size_t broken_in) {
  std::vector<Row> rows;
  for (std::size_t i = 0; i < count; ++i) rows.push_back(random_row(random, kind, i, broken_in));
  if (below(random, 3) == 0) std::shuffle(rows.begin(), rows.end(), random);
  return rows;
}

TEST(LoadTableProperty, GivesThePartsAndTheWordsOfTheSameListInYaml) {
  Random random(1);
  std::set<std::string> said;
  for (int round = 0; round < 60; ++round) {
    const Kind& kind = round % 2 == 0 ? kMotors : kChargers;
    const std::size_t broken_in = std::array{0U, 200U, 8U}[below(random, 3)];
    // Less than a piece, a piece, and several with a rest.
    const std::size_t count = std::array{1U, 7U, 255U, 256U, 257U, 700U, 1100U}[below(random, 7)];
    const auto rows = random_rows(random, kind, count, broken_in);
    const Folder folder;
    folder.write("yaml.yaml", as_yaml(kind, rows));
    folder.write("table.yaml", kind.list + ": table.csv\n");
    folder.write("table.csv", as_csv(random, kind, rows));
    const Read plain = read(folder.path() / "yaml.yaml", false);
    const Read table = read(folder.path() / "table.yaml", false);
    ASSERT_EQ(table.parts, plain.parts) << "round " << round;
    ASSERT_EQ(table.words, plain.words) << "round " << round;
    if (broken_in == 0) {
      EXPECT_EQ(table.words, "");
    }
    std::istringstream lines(table.words);
    for (std::string line; std::getline(lines, line);) said.insert(line);
  }
  EXPECT_GT(said.size(), 300U);  // the broken cells break something
}

TEST(LoadTableProperty, IsTheSameForAnyNumberOfThreads) {
  Random random(2);
  for (int round = 0; round < 12; ++round) {
    const Kind& kind = round % 2 == 0 ? kMotors : kChargers;
    const auto rows = random_rows(random, kind, 3000, round % 3 == 0 ? 0 : 20);
    const Folder folder;
    folder.write("table.yaml", kind.list + ": table.csv\n");
    std::string text = as_csv(random, kind, rows);
    if (round % 4 == 3) text.replace(text.rfind("[lead]"), 6, "[lead");  // no YAML: no parts
    folder.write("table.csv", text);
    const Read alone = read(folder.path() / "table.yaml", true, 1);
    for (const std::size_t threads : {2U, 3U, 7U}) {
      const Read together = read(folder.path() / "table.yaml", true, threads);
      ASSERT_EQ(together.parts, alone.parts);
      ASSERT_EQ(together.words, alone.words);
      ASSERT_EQ(together.shown, alone.shown);
    }
  }
}

}  // namespace
}  // namespace sprocketry::test
