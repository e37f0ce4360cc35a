#include <algorithm>
#include <charconv>
#include <unordered_map>
#include <utility>

#include "document/compose.hpp"
#include "document/csv.hpp"
#include "document/text.hpp"

namespace sprocketry::document {
namespace {

constexpr std::size_t kMostFindings = 200;  // per table; the rest would not be read anyway

// What the header says about the shape of every row: a column, or the keys of a map, or the
// positions of a list.
struct Shape {
  std::string key;  // within the shape that holds this one
  Mark key_mark;
  std::optional<std::size_t> column;
  bool is_list = false;  // its parts' keys are positions
  std::vector<Shape> parts;
};

std::optional<std::size_t> list_position(std::string_view key) {
  std::size_t position = 0;
  const auto [stop, failure] = std::from_chars(key.data(), key.data() + key.size(), position);
  if (failure != std::errc{} || stop != key.data() + key.size()) return std::nullopt;
  return position;
}

void report_conflict(const Shape& earlier, const Mark& mark, Diagnostics& diagnostics) {
  diagnostics.add({Severity::kError, mark, "this column contradicts another one",
                   "a key is either a value, or a list, or holds further keys", earlier.key_mark,
                   "the other one is here"});
}

// The part of `shape` with this key, made when it is not there yet; null when it was reported.
Shape* part_of(Shape& shape, const std::string& key, const Mark& mark, Diagnostics& diagnostics) {
  const auto at = std::find_if(shape.parts.begin(), shape.parts.end(),
                               [&key](const Shape& part) { return part.key == key; });
  if (at != shape.parts.end()) return &*at;
  const std::optional<std::size_t> position = list_position(key);
  if (!shape.parts.empty() && shape.is_list != position.has_value()) {
    report_conflict(shape.parts.front(), mark, diagnostics);
    return nullptr;
  }
  if (position && *position != shape.parts.size()) {
    diagnostics.error(mark, "the list position " + key + " does not follow the one before it",
                      "count the positions from 0 and keep the columns in this order");
    return nullptr;
  }
  shape.is_list = position.has_value();
  shape.parts.push_back({key, mark, std::nullopt, false, {}});
  return &shape.parts.back();
}

void add_column(Shape& root, const CsvTable::Cell& name, std::size_t column,
                Diagnostics& diagnostics) {
  Shape* shape = &root;
  const std::string_view path = name.text;
  std::size_t depth = 0;
  for (std::size_t begin = 0; begin <= path.size();) {
    const std::size_t dot = std::min(path.find('.', begin), path.size());
    Mark mark = name.mark;
    mark.column += count_code_points(path.substr(0, begin)) + (name.quoted ? 1 : 0);
    if (dot == begin || ++depth > kMaxNesting) {
      diagnostics.error(mark, dot == begin ? "a key is missing here" : "too many keys in a path",
                        "join keys by single dots, for example current.peak");
      return;
    }
    if (shape->column) return report_conflict(*shape, mark, diagnostics);
    shape = part_of(*shape, std::string(path.substr(begin, dot - begin)), mark, diagnostics);
    if (shape == nullptr) return;
    begin = dot + 1;
  }
  if (!shape->parts.empty()) return report_conflict(shape->parts.front(), name.mark, diagnostics);
  shape->column = column;
}

bool is_yaml(const CsvTable::Cell& cell) {
  return !cell.text.empty() && (cell.text.front() == '[' || cell.text.front() == '{');
}

// Moves the marks of a fragment that was composed at one place to where its text stands again.
void move_marks(Node& node, const Mark& from, const Mark& to) {
  const auto move = [&](Mark& mark) {
    // Only the fragment's first line begins where the cell does; unsigned, so that it wraps back.
    if (mark.line == from.line) mark.column += to.column - from.column;
    mark.line += to.line - from.line;
  };
  move(node.mark);
  for (Node& item : node.items) move_marks(item, from, to);
  for (Entry& entry : node.entries) {
    move(entry.key_mark);
    move_marks(entry.value, from, to);
  }
}

// The cells that are YAML. Lists of parts repeat a few of them over and over ("[lfp]"), so the
// first ones are composed once.
class Fragments {
 public:
  // Nothing when it reported what is wrong with the cell.
  std::optional<Node> compose(const CsvTable::Cell& cell, Diagnostics& diagnostics) {
    const Mark origin = origin_of(cell);
    if (const auto known = known_.find(cell.text); known != known_.end()) {
      Node node = known->second.node;
      move_marks(node, known->second.origin, origin);
      return node;
    }
    std::optional<Node> node = compose_fragment(cell.text, origin, diagnostics);
    if (node && known_.size() < kMostKnown) known_.emplace(cell.text, Known{origin, *node});
    return node;
  }

  // False when it reported what is wrong with the cell.
  bool check(const CsvTable::Cell& cell, Diagnostics& diagnostics) {
    return known_.contains(cell.text) || compose(cell, diagnostics).has_value();
  }

 private:
  static constexpr std::size_t kMostKnown = 4096;
  struct Known {
    Mark origin;
    Node node;
  };

  static Mark origin_of(const CsvTable::Cell& cell) {
    Mark origin = cell.mark;
    if (cell.quoted) ++origin.column;
    return origin;
  }

  std::unordered_map<std::string_view, Known> known_;  // by the table's own texts
};

// Makes `node` the value of a shape in one row; false when all its cells are empty.
bool fill(const Shape& shape, const std::vector<CsvTable::Cell>& row, Fragments& fragments,
          Diagnostics& diagnostics, Node& node) {
  if (shape.column) {
    const CsvTable::Cell& cell = row[*shape.column];
    if (is_yaml(cell)) {
      std::optional<Node> composed = fragments.compose(cell, diagnostics);
      if (composed) node = std::move(*composed);
      return composed.has_value();
    }
    node.kind = NodeKind::kScalar;
    node.mark = cell.mark;
    node.scalar = cell.text;
    return !cell.text.empty();
  }
  node.kind = shape.is_list ? NodeKind::kList : NodeKind::kMap;
  if (shape.is_list) {
    node.items.reserve(shape.parts.size());
  } else {
    node.entries.reserve(shape.parts.size());
  }
  for (const Shape& part : shape.parts) {
    if (part.column && row[*part.column].text.empty()) continue;
    Node& value = shape.is_list
                      ? node.items.emplace_back()
                      : node.entries.emplace_back(Entry{part.key, part.key_mark, {}}).value;
    if (fill(part, row, fragments, diagnostics, value)) {
      if (node.mark.source == nullptr) node.mark = value.mark;
    } else if (shape.is_list) {
      node.items.pop_back();
    } else {
      node.entries.pop_back();
    }
  }
  return !node.items.empty() || !node.entries.empty();
}

bool is_filled(const std::vector<CsvTable::Cell>& row) {
  return std::ranges::any_of(row, [](const CsvTable::Cell& cell) { return !cell.text.empty(); });
}

}  // namespace

std::size_t count_csv_items(const CsvTable& table) {
  return static_cast<std::size_t>(std::ranges::count_if(table.rows, is_filled));
}

bool each_csv_item(const CsvTable& table, Diagnostics& diagnostics,
                   const std::function<void(Node&&)>& use) {
  const std::size_t before = diagnostics.all().size();
  const auto findings = [&] { return diagnostics.all().size() - before; };
  Shape root;
  for (std::size_t column = 0; column < table.header.size(); ++column) {
    add_column(root, table.header[column], column, diagnostics);
    if (findings() >= kMostFindings) break;
  }
  if (findings() > 0) return false;
  Fragments fragments;
  bool sound = true;
  for (const std::vector<CsvTable::Cell>& row : table.rows) {
    for (const CsvTable::Cell& cell : row) {
      if (is_yaml(cell) && !fragments.check(cell, diagnostics)) sound = false;
    }
    if (findings() >= kMostFindings) break;
  }
  if (!sound) return false;
  for (const std::vector<CsvTable::Cell>& row : table.rows) {
    Node item;
    if (!fill(root, row, fragments, diagnostics, item)) continue;
    item.mark = row.front().mark;
    use(std::move(item));
  }
  return true;
}

std::optional<Node> csv_to_node(const CsvTable& table, const Mark& list_mark,
                                Diagnostics& diagnostics) {
  Node list;
  list.kind = NodeKind::kList;
  list.mark = list_mark;
  const auto add = [&list](Node&& item) { list.items.push_back(std::move(item)); };
  if (!each_csv_item(table, diagnostics, add)) return std::nullopt;
  return list;
}

}  // namespace sprocketry::document
