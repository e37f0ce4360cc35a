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

std::optional<std::size_t> list_position(std::string_view key) {
  std::size_t position = 0;
  const auto [stop, failure] = std::from_chars(key.data(), key.data() + key.size(), position);
  if (failure != std::errc{} || stop != key.data() + key.size()) return std::nullopt;
  return position;
}

void report_conflict(const CsvShape& earlier, const Mark& mark, Diagnostics& diagnostics) {
  diagnostics.add({Severity::kError, mark, "this column contradicts another one",
                   "a key is either a value, or a list, or holds further keys", earlier.key_mark,
                   "the other one is here"});
}

// The part of `shape` with this key, made when it is not there yet; null when it was reported.
CsvShape* part_of(CsvShape& shape, const std::string& key, const Mark& mark,
                  Diagnostics& diagnostics) {
  const auto at = std::find_if(shape.parts.begin(), shape.parts.end(),
                               [&key](const CsvShape& part) { return part.key == key; });
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

void add_column(CsvShape& root, const CsvTable::Cell& name, std::size_t column,
                Diagnostics& diagnostics) {
  CsvShape* shape = &root;
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
  // Makes `node` what stands in the cell; false when it reported what is wrong with it.
  bool compose(const CsvTable::Cell& cell, Diagnostics& diagnostics, Node& node) {
    const Mark origin = origin_of(cell);
    if (const auto known = known_.find(cell.text); known != known_.end()) {
      node = known->second.node;
      move_marks(node, known->second.origin, origin);
      return true;
    }
    std::optional<Node> composed = compose_fragment(cell.text, origin, diagnostics);
    if (!composed) return false;
    if (known_.size() < kMostKnown) known_.emplace(cell.text, Known{origin, *composed});
    node = std::move(*composed);
    return true;
  }

  // False when it reported what is wrong with the cell.
  bool check(const CsvTable::Cell& cell, Diagnostics& diagnostics) {
    Node unused;
    return known_.contains(cell.text) || compose(cell, diagnostics, unused);
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

  std::unordered_map<std::string, Known> known_;
};

// The tree of one row after the other. Rows whose filled cells are the same ones have trees of the
// same form: then only texts and marks are written over.
class RowTree {
 public:
  explicit RowTree(const CsvShape& shape) : shape_(&shape) {}

  // False when a cell is not YAML; otherwise item() is the row's.
  bool read(const std::vector<CsvTable::Cell>& row) {
    if (!has_form_of(row)) rebuild(row);
    for (const Leaf& leaf : leaves_) {
      if (!read_leaf(row[leaf.column], *leaf.node)) return false;
    }
    for (const Branch& branch : branches_) branch.node->mark = branch.first->mark;
    root_.mark = row.front().mark;
    return true;
  }

  [[nodiscard]] const Node& item() const { return root_; }
  [[nodiscard]] bool is_empty() const { return leaves_.empty(); }

 private:
  struct Leaf {
    std::size_t column;
    Node* node;
  };
  struct Branch {
    Node* node;
    const Node* first;  // of what it holds: it begins there
  };

  [[nodiscard]] bool has_form_of(const std::vector<CsvTable::Cell>& row) const {
    return std::ranges::equal(row, filled_, [](const CsvTable::Cell& cell, char filled) {
      return !cell.text.empty() == (filled != 0);
    });
  }

  void rebuild(const std::vector<CsvTable::Cell>& row) {
    filled_.resize(row.size());
    std::ranges::transform(row, filled_.begin(), [](const CsvTable::Cell& cell) {
      return static_cast<char>(cell.text.empty() ? 0 : 1);
    });
    root_ = {};
    leaves_.clear();
    branches_.clear();
    build(*shape_, root_);
  }

  // Makes `node` of a shape's form; false when all its cells are empty.
  bool build(const CsvShape& shape, Node& node) {
    if (shape.column) {
      if (filled_[*shape.column] == 0) return false;
      leaves_.push_back({*shape.column, &node});
      return true;
    }
    node.kind = shape.is_list ? NodeKind::kList : NodeKind::kMap;
    // Nodes that were pointed at must not move.
    (shape.is_list ? node.items.reserve(shape.parts.size())
                   : node.entries.reserve(shape.parts.size()));
    const Node* first = nullptr;
    for (const CsvShape& part : shape.parts) {
      Node& value = shape.is_list
                        ? node.items.emplace_back()
                        : node.entries.emplace_back(Entry{part.key, part.key_mark, {}}).value;
      if (build(part, value)) {
        if (first == nullptr) first = &value;
      } else if (shape.is_list) {
        node.items.pop_back();
      } else {
        node.entries.pop_back();
      }
    }
    // Behind those that it holds, whose marks come first.
    if (first != nullptr) branches_.push_back({&node, first});
    return first != nullptr;
  }

  bool read_leaf(const CsvTable::Cell& cell, Node& node) {
    if (is_yaml(cell)) {
      Diagnostics unused;
      return fragments_.compose(cell, unused, node);
    }
    node.kind = NodeKind::kScalar;
    node.mark = cell.mark;
    node.scalar = cell.text;
    node.quoted = false;
    node.items.clear();
    node.entries.clear();
    return true;
  }

  const CsvShape* shape_;
  Fragments fragments_;
  Node root_;
  std::vector<char> filled_;
  std::vector<Leaf> leaves_;
  std::vector<Branch> branches_;
};

}  // namespace

std::optional<CsvShape> csv_shape(const CsvTable& table, Diagnostics& diagnostics) {
  const std::size_t before = diagnostics.all().size();
  const auto findings = [&] { return diagnostics.all().size() - before; };
  CsvShape root;
  for (std::size_t column = 0; column < table.header.size(); ++column) {
    add_column(root, table.header[column], column, diagnostics);
    if (findings() >= kMostFindings) break;
  }
  if (findings() > 0) return std::nullopt;
  return root;
}

bool report_csv_cells(const CsvTable& table, Diagnostics& diagnostics) {
  const std::size_t before = diagnostics.all().size();
  Fragments fragments;
  bool sound = true;
  const auto few = [&] { return diagnostics.all().size() - before < kMostFindings; };
  for (const CsvTable::Piece& piece : table.pieces) {
    if (!few()) break;
    each_csv_row(table, piece, [&](const std::vector<CsvTable::Cell>& row) {
      for (const CsvTable::Cell& cell : row) {
        if (is_yaml(cell) && !fragments.check(cell, diagnostics)) sound = false;
      }
      return few();
    });
  }
  return sound;
}

bool each_csv_item(const CsvTable& table, const CsvShape& shape, const CsvTable::Piece& piece,
                   const std::function<void(const Node&)>& use) {
  RowTree tree(shape);
  bool sound = true;
  each_csv_row(table, piece, [&](const std::vector<CsvTable::Cell>& row) {
    sound = tree.read(row);
    if (sound && !tree.is_empty()) use(tree.item());
    return sound;
  });
  return sound;
}

std::optional<Node> csv_to_node(const CsvTable& table, const Mark& list_mark,
                                Diagnostics& diagnostics) {
  const auto shape = csv_shape(table, diagnostics);
  if (!shape || !report_csv_cells(table, diagnostics)) return std::nullopt;
  Node list;
  list.kind = NodeKind::kList;
  list.mark = list_mark;
  for (const CsvTable::Piece& piece : table.pieces) {
    each_csv_item(table, *shape, piece, [&list](const Node& item) { list.items.push_back(item); });
  }
  return list;
}

}  // namespace sprocketry::document
