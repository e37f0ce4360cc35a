#pragma once

#include <yaml-cpp/eventhandler.h>

#include <cstddef>
#include <optional>
#include <string>
#include <unordered_map>
#include <vector>

#include "document/locator.hpp"
#include "document/node.hpp"

namespace sprocketry::document {

// Builds the tree of one document from the parser's events, and reports what this subset of YAML
// refuses and what the parser lets pass against the standard (a value indented less than its key, a
// quote that is never closed, a key without a colon, a comma without a value). It goes on after an
// error, so that one run finds all of them; after kMostFindings it only counts.
class Composer : public YAML::EventHandler {
 public:
  static constexpr std::size_t kMostFindings = 200;

  Composer(const Locator& locator, Diagnostics& diagnostics)
      : locator_(locator), diagnostics_(diagnostics) {}

  // The tree; meaningful when no error was counted. Nothing for a text without a value.
  [[nodiscard]] std::optional<Node> take_root() { return std::move(root_); }
  [[nodiscard]] std::size_t error_count() const { return error_count_; }

  // Where the innermost list or map that is still open began; nothing outside any.
  [[nodiscard]] std::optional<Mark> open_mark() const;

  void error(const Mark& mark, std::string message, std::string hint);
  void add(Diagnostic diagnostic);

  void OnDocumentStart(const YAML::Mark& mark) override;
  void OnDocumentEnd() override;
  void OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) override;
  void OnAlias(const YAML::Mark& mark, YAML::anchor_t anchor) override;
  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                const std::string& value) override;
  void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                       YAML::EmitterStyle::value style) override;
  void OnSequenceEnd() override;
  void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                  YAML::EmitterStyle::value style) override;
  void OnMapEnd() override;

 private:
  // Where the parser saw something: bytes from the start of the text, and of the line.
  struct Place {
    std::size_t offset = 0;
    std::size_t column = 0;
  };

  // A list or map that is still open.
  struct Frame {
    Node node;
    Place place;
    bool is_block = false;  // written by indentation, not in brackets
    std::unordered_map<std::string, std::size_t> positions;  // of the keys of a large map
    // The key whose value comes next; `is_kept` is false when it was refused.
    bool has_key = false;
    bool is_kept = false;
    std::string key;
    Mark key_mark;
    std::size_t key_end = 0;
  };

  static Place place_of(const YAML::Mark& mark);
  [[nodiscard]] bool expects_key() const;
  [[nodiscard]] std::size_t empty_offset(std::size_t next_offset) const;

  void refuse_properties(std::size_t offset, YAML::anchor_t anchor);
  void refuse_missing_value(const Mark& mark);
  void refuse_outdented(const Place& place, bool is_block_list);

  void open(NodeKind kind, const YAML::Mark& mark, YAML::anchor_t anchor,
            YAML::EmitterStyle::value style);
  void close();
  void finish(Node node, const Place& place, std::size_t length);
  void take_key(Frame& frame, Node node, std::size_t offset, std::size_t length);
  bool is_allowed_key(const Node& key);
  bool is_first_of_its_name(Frame& frame, const Node& key);

  const Locator& locator_;
  Diagnostics& diagnostics_;
  std::vector<Frame> frames_;
  std::size_t skipped_depth_ = 0;  // open lists and maps beyond kMaxNesting
  std::optional<Node> root_;
  std::size_t error_count_ = 0;
};

}  // namespace sprocketry::document
