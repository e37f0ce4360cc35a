#include <algorithm>
#include <charconv>
#include <utility>

#include "document/compose.hpp"
#include "document/node.hpp"
#include "document/text.hpp"

namespace sprocketry::document {
namespace {

// One key or list position of a dotted path.
struct Step {
  std::string text;
  Mark mark;
};

// Splits at dots; `start` is the mark of the first character.
std::vector<Step> split_path(std::string_view path, const Mark& start) {
  std::vector<Step> steps;
  std::size_t begin = 0;
  while (true) {
    const std::size_t dot = std::min(path.find('.', begin), path.size());
    const std::size_t column = start.column + count_code_points(path.substr(0, begin));
    steps.push_back(
        {std::string(path.substr(begin, dot - begin)), {start.source, start.line, column}});
    if (dot == path.size()) return steps;
    begin = dot + 1;
  }
}

bool is_usable(const std::vector<Step>& steps, const std::string& option,
               Diagnostics& diagnostics) {
  if (steps.size() > kMaxNesting) {
    diagnostics.error(steps[kMaxNesting].mark,
                      "a path has at most " + std::to_string(kMaxNesting) + " keys");
    return false;
  }
  for (const Step& step : steps) {
    if (!step.text.empty()) continue;
    diagnostics.error(step.mark, "a key is missing here",
                      "write for example " + option + " must.top_speed.min=\"70 km/h\"");
    return false;
  }
  return true;
}

std::optional<std::size_t> list_position(const std::string& text) {
  std::size_t position = 0;
  const char* const end = text.data() + text.size();
  const auto [stop, failure] = std::from_chars(text.data(), end, position);
  if (failure != std::errc{} || stop != end) return std::nullopt;
  return position;
}

Node* step_into_list(Node& list, const Step& step, Diagnostics& diagnostics) {
  const std::optional<std::size_t> position = list_position(step.text);
  if (!position || *position > list.items.size()) {
    diagnostics.add(
        {Severity::kError, step.mark,
         "'" + step.text + "' is not a position in a list of " + std::to_string(list.items.size()),
         "count from 0; " + std::to_string(list.items.size()) + " appends an item", list.mark,
         "the list is here"});
    return nullptr;
  }
  if (*position == list.items.size()) {
    list.items.emplace_back();
    list.items.back().mark = step.mark;
  }
  return &list.items[*position];
}

// A key whose whole value is given anew (`is_last`) stands where it was given.
Node* step_into_map(Node& map, const Step& step, bool is_last) {
  for (Entry& entry : map.entries) {
    if (entry.key != step.text) continue;
    if (is_last) entry.key_mark = step.mark;
    return &entry.value;
  }
  map.entries.push_back({step.text, step.mark, {}});
  map.entries.back().value.mark = step.mark;
  return &map.entries.back().value;
}

// The value at `step` inside `node`, made when it is not there yet; null when it was reported.
Node* step_into(Node& node, const Step& step, bool is_last, Diagnostics& diagnostics) {
  if (node.kind == NodeKind::kScalar) {
    diagnostics.add({Severity::kError,
                     step.mark,
                     "'" + step.text + "' cannot be set: what holds it is a single value",
                     {},
                     node.mark,
                     "the value is here"});
    return nullptr;
  }
  // No key begins a list but its first position, so "0" inside nothing means a list.
  if (node.kind == NodeKind::kEmpty) {
    node.kind = step.text == "0" ? NodeKind::kList : NodeKind::kMap;
  }
  return node.kind == NodeKind::kList ? step_into_list(node, step, diagnostics)
                                      : step_into_map(node, step, is_last);
}

}  // namespace

void set_path(Node& root, const std::string& assignment, Diagnostics& diagnostics,
              std::string_view option) {
  const std::string name(option);
  const Source& source = diagnostics.add_source(name + " " + assignment, assignment);
  const Mark start{&source, 1, 1};
  const std::string_view text = source.text;
  const std::size_t equals = text.find('=');
  if (equals == std::string_view::npos) {
    diagnostics.error(start, "an override needs a path, '=' and a value",
                      "write for example " + name + " must.top_speed.min=\"70 km/h\"");
    return;
  }
  const std::vector<Step> steps = split_path(text.substr(0, equals), start);
  if (!is_usable(steps, name, diagnostics)) return;
  const Mark value_mark{&source, 1, 1 + count_code_points(text.substr(0, equals + 1))};
  std::optional<Node> value = compose_fragment(text.substr(equals + 1), value_mark, diagnostics);
  if (!value) return;
  // The tree stays as it was unless the whole path can be walked.
  Node changed = root;
  Node* place = &changed;
  for (const Step& step : steps) {
    place = step_into(*place, step, &step == &steps.back(), diagnostics);
    if (place == nullptr) return;
  }
  *place = std::move(*value);
  root = std::move(changed);
}

}  // namespace sprocketry::document
