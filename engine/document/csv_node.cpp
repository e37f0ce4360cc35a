#include <algorithm>
#include <charconv>
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
  std::vector<Shape> parts;
};

std::optional<std::size_t> list_position(std::string_view key) {
  std::size_t position = 0;
  const auto [stop, failure] = std::from_chars(key.data(), key.data() + key.size(), position);
  if (failure != std::errc{} || stop != key.data() + key.size()) return std::nullopt;
  return position;
}

bool is_list(const Shape& shape) {
  return !shape.parts.empty() && list_position(shape.parts.front().key).has_value();
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
  if (!shape.parts.empty() && is_list(shape) != position.has_value()) {
    report_conflict(shape.parts.front(), mark, diagnostics);
    return nullptr;
  }
  if (position && *position != shape.parts.size()) {
    diagnostics.error(mark, "the list position " + key + " does not follow the one before it",
                      "count the positions from 0 and keep the columns in this order");
    return nullptr;
  }
  shape.parts.push_back({key, mark, std::nullopt, {}});
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

std::optional<Node> cell_value(const CsvTable::Cell& cell, Diagnostics& diagnostics) {
  if (cell.text.empty()) return std::nullopt;
  if (cell.text.front() == '[' || cell.text.front() == '{') {
    Mark origin = cell.mark;
    if (cell.quoted) ++origin.column;
    return compose_fragment(cell.text, origin, diagnostics);
  }
  Node node;
  node.kind = NodeKind::kScalar;
  node.mark = cell.mark;
  node.scalar = cell.text;
  return node;
}

// The value of a shape in one row; nothing when all its cells are empty.
std::optional<Node> fill(const Shape& shape, const std::vector<CsvTable::Cell>& row,
                         Diagnostics& diagnostics) {
  if (shape.column) return cell_value(row[*shape.column], diagnostics);
  Node node;
  node.kind = is_list(shape) ? NodeKind::kList : NodeKind::kMap;
  for (const Shape& part : shape.parts) {
    std::optional<Node> value = fill(part, row, diagnostics);
    if (!value) continue;
    if (node.mark.source == nullptr) node.mark = value->mark;
    if (node.kind == NodeKind::kList) {
      node.items.push_back(std::move(*value));
    } else {
      node.entries.push_back({part.key, part.key_mark, std::move(*value)});
    }
  }
  if (node.items.empty() && node.entries.empty()) return std::nullopt;
  return node;
}

}  // namespace

std::optional<Node> csv_to_node(const CsvTable& table, const Mark& list_mark,
                                Diagnostics& diagnostics) {
  const std::size_t before = diagnostics.all().size();
  const auto findings = [&] { return diagnostics.all().size() - before; };
  Shape root;
  for (std::size_t column = 0; column < table.header.size(); ++column) {
    add_column(root, table.header[column], column, diagnostics);
    if (findings() >= kMostFindings) break;
  }
  if (findings() > 0) return std::nullopt;
  Node list;
  list.kind = NodeKind::kList;
  list.mark = list_mark;
  for (const std::vector<CsvTable::Cell>& row : table.rows) {
    std::optional<Node> item = fill(root, row, diagnostics);
    if (!item) continue;
    if (!row.empty()) item->mark = row.front().mark;
    list.items.push_back(std::move(*item));
    if (findings() >= kMostFindings) break;
  }
  if (findings() > 0) return std::nullopt;
  return list;
}

}  // namespace sprocketry::document
