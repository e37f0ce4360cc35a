#include "document/diagnostics.hpp"

#include <algorithm>
#include <array>
#include <set>
#include <tuple>
#include <utility>

#include "document/text.hpp"

namespace sprocketry::document {
namespace {

constexpr std::size_t kShownColumns = 160;   // a longer line is shown as a window
constexpr std::size_t kColumnsBefore = 100;  // of that window, what stands before the caret
constexpr std::size_t kMessageLength = 600;  // code points of a message or a hint
constexpr std::size_t kNameLength = 400;     // code points of a source's name
constexpr std::size_t kLineNumberWidth = 5;

std::string place(const Mark& mark) {
  if (mark.source == nullptr) return {};
  std::string text = printable(mark.source->name, kNameLength) + ":";
  if (mark.line > 0) {
    text += std::to_string(mark.line) + ":" + std::to_string(mark.column) + ":";
  }
  return text + " ";
}

std::string_view line_text(const Source& source, std::size_t line) {
  const std::string_view text = source.text;
  std::size_t start = byte_order_mark_length(text);
  for (std::size_t i = 1; i < line && start < text.size(); ++i) {
    start = skip_line_end(text, line_end(text, start));
  }
  return text.substr(start, line_end(text, start) - start);
}

std::string_view drop_code_points(std::string_view text, std::size_t count) {
  std::size_t offset = 0;
  for (; count > 0 && offset < text.size(); --count) offset += decode(text, offset).length;
  return text.substr(offset);
}

std::string right_aligned(const std::string& text) {
  return std::string(kLineNumberWidth - std::min(text.size(), kLineNumberWidth), ' ') + text;
}

// The line of a mark and a caret under its column; nothing for a mark without a line.
std::string excerpt(const Mark& mark) {
  if (mark.source == nullptr || mark.line == 0) return {};
  std::string_view line = line_text(*mark.source, mark.line);
  if (line.find_first_not_of(" \t") == std::string_view::npos) return {};
  std::size_t caret = std::max<std::size_t>(mark.column, 1) - 1;
  std::string shown;
  if (count_code_points(line) > kShownColumns && caret > kColumnsBefore) {
    const std::size_t dropped = caret - kColumnsBefore;
    line = drop_code_points(line, dropped);
    shown = "...";
    caret = kColumnsBefore + shown.size();
  }
  shown += printable(line, kShownColumns);
  shown.erase(shown.find_last_not_of(' ') + 1);
  const std::string gutter(kLineNumberWidth, ' ');
  return right_aligned(std::to_string(mark.line)) + " | " + shown + "\n" + gutter + " | " +
         std::string(caret, ' ') + "^\n";
}

std::string finding_text(const Diagnostic& finding) {
  std::string text = place(finding.mark);
  text += finding.severity == Severity::kError ? "error: " : "warning: ";
  text += printable(finding.message, kMessageLength) + "\n" + excerpt(finding.mark);
  if (!finding.hint.empty()) {
    text += std::string(kLineNumberWidth, ' ') + " = " + printable(finding.hint, kMessageLength);
    text += "\n";
  }
  if (finding.second_mark) {
    text += place(*finding.second_mark) + "note: ";
    text += printable(finding.second_message, kMessageLength) + "\n";
    text += excerpt(*finding.second_mark);
  }
  return text;
}

char lower(char letter) {
  return letter >= 'A' && letter <= 'Z' ? static_cast<char>(letter - 'A' + 'a') : letter;
}

// Optimal string alignment distance: insertions, deletions, substitutions and swaps of neighbours.
std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before_last(b.size() + 1);
  std::vector<std::size_t> last(b.size() + 1);
  std::vector<std::size_t> row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::swap(before_last, last);
    std::swap(last, row);
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const bool same = lower(a[i - 1]) == lower(b[j - 1]);
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (same ? 0U : 1U)});
      const bool swapped = i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) &&
                           lower(a[i - 2]) == lower(b[j - 1]);
      if (swapped) row[j] = std::min(row[j], before_last[j - 2] + 1);
    }
  }
  return row[b.size()];
}

bool begins_with(std::string_view text, std::string_view beginning) {
  return text.size() >= beginning.size() &&
         std::equal(beginning.begin(), beginning.end(), text.begin(),
                    [](char a, char b) { return lower(a) == lower(b); });
}

// The same candidate may be there several times.
std::optional<std::string_view> only_completion(std::string_view word,
                                                const std::vector<std::string_view>& candidates) {
  constexpr std::size_t kLeastLetters = 3;
  std::optional<std::string_view> found;
  if (word.size() - (word.rfind('.') + 1) < kLeastLetters) return found;
  for (const std::string_view candidate : candidates) {
    if (!begins_with(candidate, word) || candidate == found) continue;
    if (found) return std::nullopt;
    found = candidate;
  }
  return found;
}

}  // namespace

const Source& Diagnostics::add_source(std::string name, std::string text,
                                      std::filesystem::path file) {
  return sources_.emplace_back(Source{std::move(name), std::move(text), std::move(file)});
}

void Diagnostics::error(const Mark& mark, std::string message, std::string hint) {
  add({Severity::kError, mark, std::move(message), std::move(hint), std::nullopt, {}});
}

void Diagnostics::warning(const Mark& mark, std::string message, std::string hint) {
  add({Severity::kWarning, mark, std::move(message), std::move(hint), std::nullopt, {}});
}

void Diagnostics::add(Diagnostic diagnostic) {
  if (diagnostic.severity == Severity::kError) ++error_count_;
  all_.push_back(std::move(diagnostic));
}

std::string Diagnostics::text(std::size_t limit) const {
  const auto source_order = [this](const Source* source) {
    const auto at = std::find_if(sources_.begin(), sources_.end(),
                                 [source](const Source& own) { return &own == source; });
    return at - sources_.begin();
  };
  using Key = std::tuple<std::ptrdiff_t, std::size_t, std::size_t>;
  std::vector<std::pair<Key, const Diagnostic*>> sorted;
  for (const Diagnostic& one : all_) {
    sorted.push_back({{source_order(one.mark.source), one.mark.line, one.mark.column}, &one});
  }
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<const Diagnostic*> unique;
  std::set<std::string_view> said;  // at the place of the finding before
  for (std::size_t i = 0; i < sorted.size(); ++i) {
    if (i > 0 && sorted[i].first != sorted[i - 1].first) said.clear();
    if (said.insert(sorted[i].second->message).second) unique.push_back(sorted[i].second);
  }

  std::string shown;
  for (std::size_t i = 0; i < std::min(limit, unique.size()); ++i) {
    shown += finding_text(*unique[i]);
  }
  if (unique.size() > limit) {
    shown += "... and " + std::to_string(unique.size() - limit) + " more\n";
  }
  return shown;
}

std::optional<std::string_view> nearest(std::string_view word,
                                        const std::vector<std::string_view>& candidates) {
  if (const auto whole = only_completion(word, candidates)) return whole;
  constexpr std::size_t kMostEdits = 3;
  std::size_t best = std::clamp<std::size_t>(word.size() / 3, 1, kMostEdits) + 1;
  std::optional<std::string_view> found;
  for (const std::string_view candidate : candidates) {
    const std::size_t longer = std::max(word.size(), candidate.size());
    const std::size_t shorter = std::min(word.size(), candidate.size());
    if (longer - shorter >= best) continue;
    const std::size_t distance = edit_distance(word, candidate);
    if (distance < best) {
      best = distance;
      found = candidate;
    }
  }
  return found;
}

}  // namespace sprocketry::document
