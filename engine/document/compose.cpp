#include "document/compose.hpp"

#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/exceptions.h>
#include <yaml-cpp/parser.h>

#include <algorithm>
#include <sstream>
#include <utility>

#include "document/composer.hpp"
#include "document/locator.hpp"
#include "document/text.hpp"
#include "document/text_check.hpp"
#include "document/yaml_complaint.hpp"
#include "document/yaml_limits.hpp"

namespace sprocketry::document {
namespace {

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
  const auto offset = static_cast<std::size_t>(std::max(failure.mark.pos, 0));
  Mark mark = locator.mark(offset);
  Complaint complaint = plain_words(failure.msg);
  // What the parser makes of a tab depends on what stands above it; the tab is the trouble.
  const std::optional<Mark> tab = locator.tab_in_indentation(offset);
  if (tab && !is_flow_complaint(failure.msg)) {
    complaint = plain_words(YAML::ErrorMsg::TAB_IN_INDENTATION);
    composer.error(*tab, complaint.message, complaint.hint);
    return;
  }
  // The parser stops at the end of the text; where the quote was opened helps more.
  const bool is_unclosed = failure.msg == YAML::ErrorMsg::EOF_IN_SCALAR;
  if (is_unclosed) mark = locator.unclosed_quote().value_or(mark);
  Diagnostic finding{Severity::kError,          mark,         std::move(complaint.message),
                     std::move(complaint.hint), std::nullopt, {}};
  if (is_flow_complaint(failure.msg) && composer.open_mark()) {
    finding.second_mark = composer.open_mark();
    finding.second_message = "opened here";
  }
  if (failure.msg == YAML::ErrorMsg::MAP_VALUE) {
    finding.second_mark = locator.line_without_colon_before(offset);
    finding.second_message = "a ':' may be missing here";
  }
  composer.add(std::move(finding));
}

// The parser takes a CR alone for an ordinary character; YAML 1.2 (5.4) calls it a line break.
std::string with_known_line_ends(std::string_view text) {
  std::string known(text);
  for (std::size_t at = known.find('\r'); at != std::string::npos; at = known.find('\r', at + 1)) {
    if (at + 1 == known.size() || known[at + 1] != '\n') known[at] = '\n';
  }
  return known;
}

void parse(std::string_view text, const Locator& locator, Composer& composer) {
  // The parser leaves by exception; it may do so from anywhere, and none may pass this function.
  try {
    std::istringstream stream(with_known_line_ends(text));
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
  if (!check_signs(text, origin, diagnostics)) return std::nullopt;
  if (!check_directives(text, origin, diagnostics)) return std::nullopt;
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
