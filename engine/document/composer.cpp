#include "document/composer.hpp"

#include <yaml-cpp/mark.h>

#include <algorithm>
#include <string_view>
#include <utility>

#include "document/text.hpp"

namespace sprocketry::document {
namespace {

constexpr std::size_t kIndexedMapSize = 16;  // larger maps look up their keys by hash

// Entries are never removed, so a position stays right; a large map is indexed as it grows.
const Entry* find_earlier(const std::vector<Entry>& entries,
                          std::unordered_map<std::string, std::size_t>& positions,
                          const std::string& key) {
  if (entries.size() < kIndexedMapSize) {
    const auto at = std::find_if(entries.begin(), entries.end(),
                                 [&key](const Entry& entry) { return entry.key == key; });
    return at == entries.end() ? nullptr : &*at;
  }
  for (std::size_t i = positions.size(); i < entries.size(); ++i) {
    positions.emplace(entries[i].key, i);
  }
  const auto at = positions.find(key);
  return at == positions.end() ? nullptr : &entries[at->second];
}

}  // namespace

std::optional<Mark> Composer::open_mark() const {
  if (frames_.empty()) return std::nullopt;
  return frames_.back().node.mark;
}

void Composer::error(const Mark& mark, std::string message, std::string hint) {
  add({Severity::kError, mark, std::move(message), std::move(hint), std::nullopt, {}});
}

void Composer::add(Diagnostic diagnostic) {
  if (error_count_++ < kMostFindings) diagnostics_.add(std::move(diagnostic));
}

void Composer::OnDocumentStart(const YAML::Mark&) {}
void Composer::OnDocumentEnd() {}

void Composer::OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) {
  const Place place = place_of(mark);
  refuse_properties(place.offset, anchor);
  Node node;
  if (expects_key() || locator_.is_written_null(place.offset)) {
    node.mark = locator_.mark(place.offset);
    refuse_outdented(place, false);
  } else {
    node.mark = locator_.mark(empty_offset(place.offset));
    refuse_missing_value(node.mark);
  }
  finish(std::move(node), place, 0);
}

void Composer::OnAlias(const YAML::Mark& mark, YAML::anchor_t) {
  const Place place = place_of(mark);
  Node node;
  node.mark = locator_.mark(place.offset);
  error(node.mark, "aliases ('*name') are not allowed here", "write the value out");
  finish(std::move(node), place, 0);
}

void Composer::OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                        const std::string& value) {
  const Place place = place_of(mark);
  refuse_properties(place.offset, anchor);
  refuse_outdented(place, false);
  Node node;
  node.kind = NodeKind::kScalar;
  node.mark = locator_.mark(place.offset);
  node.scalar = value;
  node.quoted = tag == "!";
  const char first = locator_.at(place.offset);
  if ((first == '"' || first == '\'') && !locator_.after_quotes(place.offset)) {
    error(node.mark, "a quoted text is not closed", "add the closing quote");
  } else if (first_unclean(value) < value.size()) {
    error(node.mark, "this text holds a control character", "remove the escape that makes it");
  }
  finish(std::move(node), place, value.size());
}

void Composer::OnSequenceStart(const YAML::Mark& mark, const std::string&, YAML::anchor_t anchor,
                               YAML::EmitterStyle::value style) {
  open(NodeKind::kList, mark, anchor, style);
}

void Composer::OnMapStart(const YAML::Mark& mark, const std::string&, YAML::anchor_t anchor,
                          YAML::EmitterStyle::value style) {
  open(NodeKind::kMap, mark, anchor, style);
}

void Composer::OnSequenceEnd() { close(); }
void Composer::OnMapEnd() { close(); }

Composer::Place Composer::place_of(const YAML::Mark& mark) {
  return {static_cast<std::size_t>(std::max(mark.pos, 0)),
          static_cast<std::size_t>(std::max(mark.column, 0))};
}

bool Composer::expects_key() const {
  return !frames_.empty() && frames_.back().node.kind == NodeKind::kMap && !frames_.back().has_key;
}

// An empty value is placed just after its key, an empty list item just after its dash.
std::size_t Composer::empty_offset(std::size_t next_offset) const {
  if (frames_.empty()) return next_offset;
  const Frame& frame = frames_.back();
  return frame.has_key ? frame.key_end : locator_.after_last_word(next_offset);
}

void Composer::refuse_properties(std::size_t offset, YAML::anchor_t anchor) {
  if (anchor != 0) {
    error(locator_.mark(offset), "anchors ('&name') are not allowed here",
          "remove the anchor, and write out the value wherever it is used");
  } else if (locator_.at(offset) == '!') {
    error(locator_.mark(offset), "tags ('!name') are not allowed here", "remove the tag");
  }
}

// The parser takes a lone word in a block map for a key, and a comma too many for an item.
void Composer::refuse_missing_value(const Mark& mark) {
  if (frames_.empty() || skipped_depth_ > 0) return;
  const Frame& frame = frames_.back();
  if (frame.node.kind == NodeKind::kList && !frame.is_block) {
    error(mark, "a list item is missing here", "write it, or remove the comma");
  } else if (frame.is_block && frame.is_kept && locator_.at(frame.key_end - 1) != ':') {
    error(mark, "a ':' is missing after this key", "write 'key: value'");
  }
}

// What stands inside a block list or map stands further right; only the dashes of a list that is
// the value of a key may stand under the key.
void Composer::refuse_outdented(const Place& place, bool is_block_list) {
  if (frames_.empty() || skipped_depth_ > 0 || expects_key()) return;
  const Frame& frame = frames_.back();
  const bool may_align = is_block_list && frame.node.kind == NodeKind::kMap;
  if (!frame.is_block || place.column > frame.place.column) return;
  if (may_align && place.column == frame.place.column) return;
  const bool has_key = frame.has_key;
  add({Severity::kError, locator_.mark(place.offset), "this is not indented enough",
       has_key ? "indent it further than its key" : "indent it further than its dash",
       has_key ? frame.key_mark : frame.node.mark,
       has_key ? "it would be the value of this key" : "it would be an item of this list"});
}

void Composer::open(NodeKind kind, const YAML::Mark& mark, YAML::anchor_t anchor,
                    YAML::EmitterStyle::value style) {
  if (skipped_depth_ > 0) {
    ++skipped_depth_;
    return;
  }
  Frame frame;
  frame.place = place_of(mark);
  frame.is_block = style == YAML::EmitterStyle::Block;
  frame.node.kind = kind;
  frame.node.mark = locator_.mark(frame.place.offset);
  refuse_properties(frame.place.offset, anchor);
  refuse_outdented(frame.place, frame.is_block && kind == NodeKind::kList);
  if (frames_.size() == kMaxNesting) {
    error(frame.node.mark, "lists and maps are nested deeper than " + std::to_string(kMaxNesting),
          "no key needs such depth; look for a bracket or a dash too many");
    skipped_depth_ = 1;
    return;
  }
  frames_.push_back(std::move(frame));
}

void Composer::close() {
  if (skipped_depth_ > 0) {
    if (--skipped_depth_ == 0) finish({}, {}, 0);  // stands in for what was skipped
    return;
  }
  Frame frame = std::move(frames_.back());
  frames_.pop_back();
  finish(std::move(frame.node), frame.place, 0);
}

void Composer::finish(Node node, const Place& place, std::size_t length) {
  if (skipped_depth_ > 0) return;
  if (frames_.empty()) {
    root_ = std::move(node);
    return;
  }
  Frame& frame = frames_.back();
  if (frame.node.kind == NodeKind::kList) {
    frame.node.items.push_back(std::move(node));
  } else if (!frame.has_key) {
    take_key(frame, std::move(node), place.offset, length);
  } else {
    if (frame.is_kept) {
      frame.node.entries.push_back({std::move(frame.key), frame.key_mark, std::move(node)});
    }
    frame.has_key = false;
    frame.is_kept = false;
  }
}

void Composer::take_key(Frame& frame, Node node, std::size_t offset, std::size_t length) {
  frame.has_key = true;
  frame.key_mark = node.mark;
  frame.key_end = locator_.after_key(offset, length);
  frame.is_kept = is_allowed_key(node) && is_first_of_its_name(frame, node);
  frame.key = std::move(node.scalar);
}

bool Composer::is_allowed_key(const Node& key) {
  if (key.kind == NodeKind::kEmpty) {
    error(key.mark, "a key is missing here",
          "write 'key: value' on one line; quote a key named null or ~");
  } else if (key.kind != NodeKind::kScalar) {
    error(key.mark, "a list or a map cannot be a key", "write 'key: value' with a plain word");
  } else if (key.scalar == "<<" && !key.quoted) {
    error(key.mark, "merge keys ('<<') are not allowed here", "write the keys out");
  } else {
    return true;
  }
  return false;
}

bool Composer::is_first_of_its_name(Frame& frame, const Node& key) {
  const Entry* const earlier = find_earlier(frame.node.entries, frame.positions, key.scalar);
  if (earlier == nullptr) return true;
  add({Severity::kError, key.mark, "the key '" + key.scalar + "' is given twice",
       "keep one of the two", earlier->key_mark, "first given here"});
  return false;
}

}  // namespace sprocketry::document
