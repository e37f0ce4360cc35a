#include "document/yaml_complaint.hpp"

#include <yaml-cpp/exceptions.h>

#include <algorithm>
#include <array>
#include <string_view>

namespace sprocketry::document {
namespace {

struct Translation {
  std::string_view from;  // the beginning of the parser's message
  std::string_view message;
  std::string_view hint;
};

constexpr std::string_view kIndentHint =
    "give the keys of one map the same indentation, and write 'key: value' with a space after the "
    "colon";
constexpr std::string_view kQuoteHint = "put the whole text in double quotes";

constexpr std::string_view kNoAliases = "aliases ('*name') are not allowed here";
constexpr std::string_view kNoAnchors = "anchors ('&name') are not allowed here";
constexpr std::string_view kNoTags = "tags ('!name') are not allowed here";

const std::array<Translation, 24> kTranslations = {{
    {YAML::ErrorMsg::END_OF_MAP_FLOW, "a '{' is not closed, or a ',' is missing",
     "close it with '}' and separate its keys with commas"},
    {YAML::ErrorMsg::END_OF_SEQ_FLOW, "a '[' is not closed, or a ',' is missing",
     "close it with ']' and separate its items with commas"},
    {YAML::ErrorMsg::END_OF_MAP, "this does not fit the map above it", kIndentHint},
    {YAML::ErrorMsg::END_OF_SEQ, "this does not fit the list above it",
     "begin every item of a list with '- ' at the same indentation"},
    {YAML::ErrorMsg::MAP_VALUE, "a ':' is not allowed here",
     "put the text in double quotes if the colon belongs to it; begin nested keys on a line of "
     "their own"},
    {YAML::ErrorMsg::MAP_KEY, "a key is not allowed here", kIndentHint},
    {YAML::ErrorMsg::BLOCK_ENTRY, "a list item is not allowed here",
     "begin the list on a line of its own"},
    {YAML::ErrorMsg::FLOW_END, "this bracket closes nothing",
     "remove it, or add the bracket that opens"},
    {YAML::ErrorMsg::TAB_IN_INDENTATION, "a tab in the indentation",
     "YAML forbids tabs there: indent with spaces"},
    {YAML::ErrorMsg::EOF_IN_SCALAR, "a quoted text is not closed", "add the closing quote"},
    {YAML::ErrorMsg::DOC_IN_SCALAR, "a quoted text is not closed before '---'",
     "add the closing quote"},
    {YAML::ErrorMsg::CHAR_IN_SCALAR, "a text without quotes cannot hold this character",
     kQuoteHint},
    {YAML::ErrorMsg::INVALID_ESCAPE, "unknown escape after '\\'",
     "write '\\\\' for a backslash, or use single quotes"},
    {YAML::ErrorMsg::UNKNOWN_TOKEN, "a text cannot begin with this character", kQuoteHint},
    {YAML::ErrorMsg::CHAR_IN_BLOCK, "only an indentation digit, '+' or '-' may follow '|' or '>'",
     "begin the text on the next line, indented"},
    {YAML::ErrorMsg::UNKNOWN_ANCHOR, kNoAliases, "write the value out"},
    {YAML::ErrorMsg::ALIAS_NOT_FOUND, kNoAliases, kQuoteHint},
    {YAML::ErrorMsg::CHAR_IN_ALIAS, kNoAliases, kQuoteHint},
    {YAML::ErrorMsg::ANCHOR_NOT_FOUND, kNoAnchors, kQuoteHint},
    {YAML::ErrorMsg::CHAR_IN_ANCHOR, kNoAnchors, kQuoteHint},
    {YAML::ErrorMsg::MULTIPLE_ANCHORS, kNoAnchors, "remove it"},
    {YAML::ErrorMsg::MULTIPLE_TAGS, kNoTags, "remove it"},
    {YAML::ErrorMsg::TAG_WITH_NO_SUFFIX, kNoTags, kQuoteHint},
    {YAML::ErrorMsg::CHAR_IN_TAG_HANDLE, kNoTags, kQuoteHint},
}};

}  // namespace

Complaint plain_words(const std::string& parser_message) {
  const std::string_view given = parser_message;
  const auto* const at = std::find_if(
      kTranslations.begin(), kTranslations.end(),
      [given](const Translation& one) { return given.substr(0, one.from.size()) == one.from; });
  if (at == kTranslations.end()) return {"not valid YAML: " + parser_message, {}};
  return {std::string(at->message), std::string(at->hint)};
}

}  // namespace sprocketry::document
