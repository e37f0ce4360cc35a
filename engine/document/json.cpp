#include "document/json.hpp"

#include <rapidjson/error/en.h>
#include <rapidjson/reader.h>

#include <algorithm>
#include <utility>

#include "document/node.hpp"
#include "document/text.hpp"

namespace sprocketry::document {
namespace {

// NOLINTBEGIN(readability-identifier-naming): the parser names the functions of both classes.

// The bytes of a source as the parser takes them. Behind the last one it sees a zero, as it wants.
class Bytes {
 public:
  using Ch = char;
  explicit Bytes(std::string_view text) : text_(text) {}
  [[nodiscard]] char Peek() const { return at_ < text_.size() ? text_[at_] : '\0'; }
  char Take() { return at_ < text_.size() ? text_[at_++] : '\0'; }
  [[nodiscard]] std::size_t Tell() const { return at_; }
  // Only for writing into the text, which is never asked for.
  char* PutBegin() { return nullptr; }
  void Put(char /*unused*/) {}
  std::size_t PutEnd(char* /*unused*/) { return 0; }

 private:
  std::string_view text_;
  std::size_t at_ = 0;
};

// Where the text begins that ends with the quote before `end`: a quote inside it has a backslash.
std::size_t opening_quote(std::string_view text, std::size_t end) {
  std::size_t at = end - 1;
  do {
    at = text.rfind('"', at - 1);
  } while (at > 0 && text[at - 1] == '\\');
  return at;
}

// Makes nodes of what the parser finds; each of its functions is named by the parser, which tells
// of a bracket before it takes it and of any other value after that.
class Builder {
 public:
  using Ch = char;
  Builder(std::string_view text, const Bytes& bytes, std::string_view closed)
      : text_(text), bytes_(bytes), closed_(closed) {}

  bool Null() { return scalar(JsonKind::kNull, 4, {}); }
  bool Bool(bool flag) { return scalar(JsonKind::kFlag, flag ? 4 : 5, flag ? "true" : "false"); }
  bool RawNumber(const char* digits, std::size_t length, bool /*copy*/) {
    return scalar(JsonKind::kNumber, length, {digits, length});
  }
  bool String(const char* letters, std::size_t length, bool /*copy*/) {
    if (!kept()) return true;
    const std::size_t end = bytes_.Tell();
    return scalar(JsonKind::kText, end - opening_quote(text_, end), {letters, length});
  }
  bool StartObject() { return begin(JsonKind::kObject); }
  bool Key(const char* letters, std::size_t length, bool /*copy*/) {
    if (kept()) key_.assign(letters, length);
    return true;
  }
  bool EndObject(std::size_t /*members*/) { return end(); }
  bool StartArray() { return begin(JsonKind::kList); }
  bool EndArray(std::size_t /*items*/) { return end(); }
  // Numbers come as they are written; these are never called.
  bool Int(int /*unused*/) { return false; }
  bool Uint(unsigned /*unused*/) { return false; }
  bool Int64(std::int64_t /*unused*/) { return false; }
  bool Uint64(std::uint64_t /*unused*/) { return false; }
  bool Double(double /*unused*/) { return false; }

  [[nodiscard]] const std::string& refusal() const { return refusal_; }
  JsonNode& root() { return root_; }

 private:
  // Whether everything that is open is kept.
  [[nodiscard]] bool kept() const { return depth_ == open_.size(); }
  [[nodiscard]] bool in_closed_item() const {
    constexpr std::size_t kItemDepth = 3;  // root, list, item
    return open_.size() == kItemDepth && open_[1].key == closed_;
  }

  bool refuse(std::string what) {
    refusal_ = std::move(what);
    return false;
  }
  bool scalar(JsonKind kind, std::size_t length, std::string_view text) {
    if (!kept()) return true;
    return add({kind,
                std::exchange(key_, {}),
                std::string(text),
                text_.substr(bytes_.Tell() - length, length),
                {}});
  }
  bool add(JsonNode node) {
    if (open_.empty()) {
      root_ = std::move(node);
    } else {
      open_.back().children.push_back(std::move(node));
    }
    return true;
  }
  bool begin(JsonKind kind) {
    if (depth_ == kMaxNesting) {
      return refuse("nesting deeper than " + std::to_string(kMaxNesting));
    }
    const bool closed = !kept() || in_closed_item();
    ++depth_;
    std::string key = std::exchange(key_, {});
    if (!closed) open_.push_back({kind, std::move(key), {}, text_.substr(bytes_.Tell()), {}});
    return true;
  }
  bool end() {
    if (depth_-- > open_.size()) return true;
    JsonNode node = std::move(open_.back());
    open_.pop_back();
    const auto begun = static_cast<std::size_t>(node.raw.data() - text_.data());
    node.raw = text_.substr(begun, bytes_.Tell() + 1 - begun);
    if (const auto twice = named_twice(node)) return refuse("`" + *twice + "` twice");
    return add(std::move(node));
  }
  static std::optional<std::string> named_twice(const JsonNode& node) {
    if (node.kind != JsonKind::kObject) return std::nullopt;
    std::vector<std::string_view> names;
    names.reserve(node.children.size());
    for (const JsonNode& child : node.children) names.push_back(child.key);
    std::ranges::sort(names);
    const auto twice = std::ranges::adjacent_find(names);
    return twice == names.end() ? std::nullopt : std::optional<std::string>(*twice);
  }

  std::string_view text_;
  const Bytes& bytes_;
  std::string_view closed_;
  std::string refusal_;
  std::string key_;
  std::vector<JsonNode> open_;  // what is open and kept
  std::size_t depth_ = 0;       // of all that is open
  JsonNode root_;
};
// NOLINTEND(readability-identifier-naming)

void report(std::string_view text, std::size_t offset, const Mark& mark, const char* why,
            Diagnostics& diagnostics) {
  const bool ends = text.find_first_not_of(" \t\r\n", offset) == std::string_view::npos;
  if (text.find_first_not_of(" \t\r\n") == std::string_view::npos) {
    diagnostics.error(mark, "the file is empty", "make it again");
  } else if (ends) {
    diagnostics.error(mark, "the file ends in the middle of its JSON",
                      "it was not written or copied whole; make or copy it again");
  } else {
    diagnostics.error(mark, std::string("this is not JSON: ") + why,
                      "check that this is the file you meant");
  }
}

}  // namespace

const JsonNode* JsonNode::find(std::string_view name) const {
  const auto found = std::ranges::find(children, name, &JsonNode::key);
  return found == children.end() ? nullptr : &*found;
}

std::optional<JsonNode> compose_json(const Source& source, std::string_view closed,
                                     Diagnostics& diagnostics) {
  constexpr unsigned kHow = rapidjson::kParseIterativeFlag | rapidjson::kParseValidateEncodingFlag |
                            rapidjson::kParseNumbersAsStringsFlag;
  const std::string_view text = source.text;
  Bytes bytes(text);
  Builder builder(text, bytes, closed);
  rapidjson::Reader reader;
  const rapidjson::ParseResult result = reader.Parse<kHow>(bytes, builder);
  const auto mark = [&](std::size_t offset) {
    return LineIndex(text, {&source, 1, 1}).mark(std::min(offset, text.size()));
  };
  if (!builder.refusal().empty()) {
    diagnostics.error(mark(bytes.Tell()), "this has " + builder.refusal(),
                      "check that this is the file you meant");
  } else if (result.IsError()) {
    report(text, result.Offset(), mark(result.Offset()), rapidjson::GetParseError_En(result.Code()),
           diagnostics);
  } else if (bytes.Tell() < text.size()) {  // a zero, which the parser takes for the end
    report(text, bytes.Tell(), mark(bytes.Tell()), "A zero byte stands here.", diagnostics);
  } else {
    return std::move(builder.root());
  }
  return std::nullopt;
}

Mark mark_of(const JsonNode& node, const Source& source) {
  const auto offset = static_cast<std::size_t>(node.raw.data() - source.text.data());
  return LineIndex(source.text, {&source, 1, 1}).mark(offset);
}

}  // namespace sprocketry::document
