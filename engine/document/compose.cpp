#include "document/compose.hpp"

#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/parser.h>

#include <algorithm>
#include <array>
#include <sstream>
#include <unordered_map>
#include <utility>

#include "document/text.hpp"
#include "document/text_check.hpp"
#include "document/yaml_complaint.hpp"

namespace sprocketry::document {
namespace {

constexpr std::size_t kMostFindings = 200;   // per text; the rest would not be read anyway
constexpr std::size_t kIndexedMapSize = 16;  // larger maps look up their keys by hash

// Turns byte offsets of the text into marks and looks at the characters that stand there.
class Locator {
 public:
  Locator(std::string_view text, const Mark& origin) : text_(text), index_(text, origin) {}

  [[nodiscard]] Mark mark(std::size_t offset) const { return index_.mark(offset); }
  [[nodiscard]] char at(std::size_t offset) const {
    return offset < text_.size() ? text_[offset] : '\0';
  }

  // Just after a key that begins at `offset`: behind its colon when one follows on the same line.
  [[nodiscard]] std::size_t after_key(std::size_t offset, std::size_t key_length) const {
    std::size_t end = std::min(offset + key_length, text_.size());
    if (at(offset) == '"' || at(offset) == '\'') end = after_quotes(offset);
    std::size_t colon = end;
    while (at(colon) == ' ' || at(colon) == '\t') ++colon;
    return at(colon) == ':' ? colon + 1 : end;
  }

  // Behind the last character before `offset` that is not blank.
  [[nodiscard]] std::size_t after_last_word(std::size_t offset) const {
    const std::string_view before = text_.substr(0, offset);
    const std::size_t last = before.find_last_not_of(" \t\r\n");
    return last == std::string_view::npos ? 0 : last + 1;
  }

  // Whether an explicit null stands here as a value, not as the key of what follows.
  [[nodiscard]] bool is_written_null(std::size_t offset) const {
    constexpr std::array<std::string_view, 4> kNulls = {"~", "null", "Null", "NULL"};
    const std::string_view here = text_.substr(std::min(offset, text_.size()));
    const auto* const word = std::find_if(kNulls.begin(), kNulls.end(), [here](auto one) {
      return here.substr(0, one.size()) == one;
    });
    if (word == kNulls.end()) return false;
    if (here.find_first_of(" \t\r\n,]}", word->size()) > word->size() &&
        here.size() > word->size()) {
      return false;
    }
    const std::size_t next = here.find_first_not_of(" \t", word->size());
    return next == std::string_view::npos || here[next] != ':';
  }

 private:
  [[nodiscard]] std::size_t after_quotes(std::size_t offset) const {
    const char quote = at(offset);
    for (++offset; offset < text_.size(); ++offset) {
      if (quote == '"' && text_[offset] == '\\') {
        ++offset;
      } else if (text_[offset] == quote) {
        if (quote == '"' || at(offset + 1) != '\'') return offset + 1;
        ++offset;
      }
    }
    return text_.size();
  }

  std::string_view text_;
  LineIndex index_;
};

// Builds the tree from the parser's events and reports what this subset of YAML refuses.
class Composer : public YAML::EventHandler {
 public:
  Composer(const Locator& locator, Diagnostics& diagnostics)
      : locator_(locator), diagnostics_(diagnostics) {}

  [[nodiscard]] std::optional<Node> take_root() { return std::move(root_); }
  [[nodiscard]] std::size_t error_count() const { return error_count_; }

  // Where the innermost list or map that is still open began; nothing outside any.
  [[nodiscard]] std::optional<Mark> open_mark() const {
    if (frames_.empty()) return std::nullopt;
    return frames_.back().node.mark;
  }

  void error(const Mark& mark, std::string message, std::string hint) {
    add({Severity::kError, mark, std::move(message), std::move(hint), std::nullopt, {}});
  }

  void add(Diagnostic diagnostic) {
    if (error_count_++ < kMostFindings) diagnostics_.add(std::move(diagnostic));
  }

  void OnDocumentStart(const YAML::Mark&) override {}
  void OnDocumentEnd() override {}

  void OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) override {
    const std::size_t offset = offset_of(mark);
    refuse_properties(offset, anchor);
    Node node;
    node.mark = locator_.mark(locator_.is_written_null(offset) ? offset : empty_offset(offset));
    finish(std::move(node), offset, 0);
  }

  void OnAlias(const YAML::Mark& mark, YAML::anchor_t) override {
    const std::size_t offset = offset_of(mark);
    Node node;
    node.mark = locator_.mark(offset);
    error(node.mark, "aliases ('*name') are not allowed here", "write the value out");
    finish(std::move(node), offset, 0);
  }

  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                const std::string& value) override {
    const std::size_t offset = offset_of(mark);
    refuse_properties(offset, anchor);
    Node node;
    node.kind = NodeKind::kScalar;
    node.mark = locator_.mark(offset);
    node.scalar = value;
    node.quoted = tag == "!";
    if (first_unclean(value) < value.size()) {
      error(node.mark, "this text holds a control character", "remove the escape that makes it");
    }
    finish(std::move(node), offset, value.size());
  }

  void OnSequenceStart(const YAML::Mark& mark, const std::string&, YAML::anchor_t anchor,
                       YAML::EmitterStyle::value) override {
    open(NodeKind::kList, mark, anchor);
  }

  void OnMapStart(const YAML::Mark& mark, const std::string&, YAML::anchor_t anchor,
                  YAML::EmitterStyle::value) override {
    open(NodeKind::kMap, mark, anchor);
  }

  void OnSequenceEnd() override { close(); }
  void OnMapEnd() override { close(); }

 private:
  // A list or map that is still open.
  struct Frame {
    Node node;
    std::size_t offset = 0;
    std::unordered_map<std::string, std::size_t> positions;  // of the keys of a large map
    // The key whose value comes next; `kept` is false when it was refused.
    bool has_key = false;
    bool kept = false;
    std::string key;
    Mark key_mark;
    std::size_t key_end = 0;
  };

  static std::size_t offset_of(const YAML::Mark& mark) {
    return static_cast<std::size_t>(std::max(mark.pos, 0));
  }

  // An empty value is placed just after its key, an empty list item just after its dash.
  [[nodiscard]] std::size_t empty_offset(std::size_t next_offset) const {
    if (frames_.empty()) return next_offset;
    const Frame& frame = frames_.back();
    return frame.has_key ? frame.key_end : locator_.after_last_word(next_offset);
  }

  void refuse_properties(std::size_t offset, YAML::anchor_t anchor) {
    const char first = locator_.at(offset);
    if (anchor != 0) {
      error(locator_.mark(offset), "anchors ('&name') are not allowed here",
            "remove the anchor, and write out the value wherever it is used");
    } else if (first == '!') {
      error(locator_.mark(offset), "tags ('!name') are not allowed here", "remove the tag");
    }
  }

  void open(NodeKind kind, const YAML::Mark& mark, YAML::anchor_t anchor) {
    if (skipped_depth_ > 0) {
      ++skipped_depth_;
      return;
    }
    Frame frame;
    frame.offset = offset_of(mark);
    refuse_properties(frame.offset, anchor);
    frame.node.kind = kind;
    frame.node.mark = locator_.mark(frame.offset);
    if (frames_.size() == kMaxNesting) {
      error(frame.node.mark, "lists and maps are nested deeper than " + std::to_string(kMaxNesting),
            "no key needs such depth; look for a bracket or a dash too many");
      skipped_depth_ = 1;
      return;
    }
    frames_.push_back(std::move(frame));
  }

  void close() {
    if (skipped_depth_ > 0) {
      --skipped_depth_;
      return;
    }
    Frame frame = std::move(frames_.back());
    frames_.pop_back();
    finish(std::move(frame.node), frame.offset, 0);
  }

  void finish(Node node, std::size_t offset, std::size_t length) {
    if (skipped_depth_ > 0) return;
    if (frames_.empty()) {
      root_ = std::move(node);
      return;
    }
    Frame& frame = frames_.back();
    if (frame.node.kind == NodeKind::kList) {
      frame.node.items.push_back(std::move(node));
    } else if (!frame.has_key) {
      take_key(frame, std::move(node), offset, length);
    } else {
      if (frame.kept) {
        frame.node.entries.push_back({std::move(frame.key), frame.key_mark, std::move(node)});
      }
      frame.has_key = false;
    }
  }

  void take_key(Frame& frame, Node node, std::size_t offset, std::size_t length) {
    frame.has_key = true;
    frame.key_mark = node.mark;
    frame.key_end = locator_.after_key(offset, length);
    frame.kept = is_allowed_key(node) && is_first_of_its_name(frame, node);
    frame.key = std::move(node.scalar);
  }

  bool is_allowed_key(const Node& key) {
    if (key.kind == NodeKind::kEmpty) {
      error(key.mark, "a key is missing here", "write 'key: value'");
    } else if (key.kind != NodeKind::kScalar) {
      error(key.mark, "a list or a map cannot be a key", "write 'key: value' with a plain word");
    } else if (key.scalar == "<<" && !key.quoted) {
      error(key.mark, "merge keys ('<<') are not allowed here", "write the keys out");
    } else {
      return true;
    }
    return false;
  }

  bool is_first_of_its_name(Frame& frame, const Node& key) {
    const Entry* const earlier = find_earlier(frame, key.scalar);
    if (earlier == nullptr) return true;
    add({Severity::kError, key.mark, "the key '" + key.scalar + "' is given twice",
         "keep one of the two", earlier->key_mark, "first given here"});
    return false;
  }

  // Entries are never removed, so a position stays right; a large map is indexed as it grows.
  static const Entry* find_earlier(Frame& frame, const std::string& key) {
    const std::vector<Entry>& entries = frame.node.entries;
    if (entries.size() < kIndexedMapSize) {
      const auto at = std::find_if(entries.begin(), entries.end(),
                                   [&key](const Entry& entry) { return entry.key == key; });
      return at == entries.end() ? nullptr : &*at;
    }
    for (std::size_t i = frame.positions.size(); i < entries.size(); ++i) {
      frame.positions.emplace(entries[i].key, i);
    }
    const auto at = frame.positions.find(key);
    return at == frame.positions.end() ? nullptr : &entries[at->second];
  }

  const Locator& locator_;
  Diagnostics& diagnostics_;
  std::vector<Frame> frames_;
  std::size_t skipped_depth_ = 0;  // open lists and maps beyond kMaxNesting
  std::optional<Node> root_;
  std::size_t error_count_ = 0;
};

// Only notes that there is something, and where: what follows the first document.
class Probe : public YAML::EventHandler {
 public:
  std::optional<std::size_t> offset;

  void OnDocumentStart(const YAML::Mark& mark) override { note(mark); }
  void OnDocumentEnd() override {}
  void OnNull(const YAML::Mark&, YAML::anchor_t) override {}
  void OnAlias(const YAML::Mark&, YAML::anchor_t) override {}
  void OnScalar(const YAML::Mark&, const std::string&, YAML::anchor_t,
                const std::string&) override {}
  void OnSequenceStart(const YAML::Mark&, const std::string&, YAML::anchor_t,
                       YAML::EmitterStyle::value) override {}
  void OnSequenceEnd() override {}
  void OnMapStart(const YAML::Mark&, const std::string&, YAML::anchor_t,
                  YAML::EmitterStyle::value) override {}
  void OnMapEnd() override {}

 private:
  void note(const YAML::Mark& mark) {
    if (!offset) offset = static_cast<std::size_t>(std::max(mark.pos, 0));
  }
};

void report_second_document(const Locator& locator, std::size_t offset, Composer& composer) {
  if (locator.at(offset) == '-' && locator.at(offset + 1) == '-' && locator.at(offset + 2) == '-') {
    composer.error(locator.mark(offset), "a second document begins here",
                   "one file holds one document; remove '---' or move the rest to its own file");
  } else {
    composer.error(locator.mark(offset), "this does not fit what stands above it",
                   "check the indentation, and write 'key: value' with a space after the colon");
  }
}

bool is_flow_complaint(const std::string& message) {
  return message == YAML::ErrorMsg::END_OF_MAP_FLOW || message == YAML::ErrorMsg::END_OF_SEQ_FLOW;
}

void report(const YAML::Exception& failure, const Locator& locator, Composer& composer) {
  const Mark mark = failure.mark.is_null()
                        ? locator.mark(0)
                        : locator.mark(static_cast<std::size_t>(std::max(failure.mark.pos, 0)));
  Complaint complaint = plain_words(failure.msg);
  Diagnostic finding{Severity::kError,          mark,         std::move(complaint.message),
                     std::move(complaint.hint), std::nullopt, {}};
  if (is_flow_complaint(failure.msg) && composer.open_mark()) {
    finding.second_mark = composer.open_mark();
    finding.second_message = "opened here";
  }
  composer.add(std::move(finding));
}

void parse(std::string_view text, const Locator& locator, Composer& composer) {
  // The parser leaves by exception; it may do so from anywhere, and none may pass this function.
  try {
    std::istringstream stream{std::string(text)};
    YAML::Parser parser(stream);
    if (!parser.HandleNextDocument(composer)) return;
    Probe rest;
    parser.HandleNextDocument(rest);
    if (rest.offset) report_second_document(locator, *rest.offset, composer);
  } catch (const YAML::Exception& failure) {
    report(failure, locator, composer);
  }
}

}  // namespace

std::optional<Node> compose_fragment(std::string_view text, const Mark& origin,
                                     Diagnostics& diagnostics) {
  if (!check_text(text, origin, diagnostics)) return std::nullopt;
  text.remove_prefix(byte_order_mark_length(text));
  const Locator locator(text, origin);
  Composer composer(locator, diagnostics);
  parse(text, locator, composer);
  if (composer.error_count() > 0) return std::nullopt;
  if (std::optional<Node> root = composer.take_root()) return root;
  Node empty;
  empty.mark = origin;
  return empty;
}

std::optional<Node> compose(const Source& source, Diagnostics& diagnostics) {
  const Mark start{&source, 1, 1};
  std::optional<Node> root = compose_fragment(source.text, start, diagnostics);
  if (root && root->kind == NodeKind::kEmpty) {
    diagnostics.error(root->mark, "the file is empty", "write at least one 'key: value'");
    return std::nullopt;
  }
  return root;
}

}  // namespace sprocketry::document
