#include "parts/values.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <numeric>
#include <system_error>

namespace sprocketry::parts {

using document::Node;
using document::NodeKind;

namespace {

constexpr std::size_t kMaxText = 1000;

std::string lower(std::string_view text) {
  std::string result(text);
  std::ranges::transform(result, result.begin(), [](char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  });
  return result;
}

std::string key_text(std::string_view name) { return "`" + std::string(name) + "`"; }

// Reports the wrong kind of node unless it is a scalar.
bool is_scalar(const Node& node, std::string_view name, std::string_view expected,
               Findings& findings) {
  if (node.kind == NodeKind::kScalar) return true;
  findings.diagnostics.error(node.mark,
                             key_text(name) + " must be " + std::string(expected) + ", but " +
                                 found_at(node) + " was found",
                             "write a single value here");
  return false;
}

bool within(double value, double min, double max, bool above_min) {
  return (above_min ? value > min : value >= min) && value <= max;
}

std::string limits_text(const std::string& min, const std::string& max, bool above_min) {
  return above_min ? "it must be more than " + min + " and at most " + max
                   : "it must be from " + min + " to " + max;
}

void report_range(const Node& node, std::string_view name, const std::string& limits,
                  Findings& findings) {
  findings.diagnostics.error(node.mark, key_text(name) + " is " + node.scalar + "; " + limits,
                             "check the number and what it counts");
}

document::Mark inside(const Node& node, std::size_t offset) {
  document::Mark mark = node.mark;
  mark.column += offset + (node.quoted ? 1 : 0);
  return mark;
}

}  // namespace

std::string found_at(const Node& node) {
  switch (node.kind) {
    case NodeKind::kEmpty:
      return "nothing";
    case NodeKind::kList:
      return "a list";
    case NodeKind::kMap:
      return "a map of keys";
    case NodeKind::kScalar:
      break;
  }
  return "the text \"" + node.scalar + "\"";
}

std::string number_text(double value) {
  // Whole numbers of a size that people write out are not worth an exponent.
  constexpr double kWrittenOut = 1e12;
  const bool whole = std::abs(value) < kWrittenOut && std::trunc(value) == value;
  char buffer[32];
  const auto end = whole ? std::to_chars(std::begin(buffer), std::end(buffer), value + 0.0,
                                         std::chars_format::fixed)
                         : std::to_chars(std::begin(buffer), std::end(buffer), value,
                                         std::chars_format::general, 6);
  return {std::begin(buffer), end.ptr};
}

std::optional<double> decimal(std::string_view text) {
  if (text.size() > 1 && text.front() == '+' && text[1] != '-') text.remove_prefix(1);
  double value = 0;
  const auto [end, code] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (code != std::errc{} || end != text.data() + text.size() || !std::isfinite(value)) return {};
  return value + 0.0;  // no negative zero
}

std::string joined(const std::vector<std::string_view>& words, std::string_view last) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += i + 1 == words.size() ? " " + std::string(last) + " " : ", ";
    text += words[i];
  }
  return text;
}

std::string did_you_mean(std::string_view word, const std::vector<std::string_view>& candidates) {
  const auto near = document::nearest(word, candidates);
  return near ? "did you mean `" + std::string(*near) + "`?" : "";
}

std::string_view example_of(const QuantityRule& rule) {
  return rule.example.empty() ? units::example_of(rule.dimension) : rule.example;
}

std::optional<double> read_quantity(const Node& node, std::string_view name,
                                    const QuantityRule& rule, Findings& findings) {
  if (node.kind != NodeKind::kScalar) {
    const std::string example = "\"" + std::string(example_of(rule)) + "\"";
    is_scalar(node, name, std::string(units::name_of(rule.dimension)) + " such as " + example,
              findings);
    return {};
  }
  const auto read = units::parse(node.scalar, rule.dimension, rule.example);
  if (!read) {
    findings.diagnostics.error(inside(node, read.error().offset),
                               key_text(name) + ": " + read.error().message, read.error().hint);
    return {};
  }
  if (!within(read->value, rule.min, rule.max, rule.above_min)) {
    const auto limit = [&](double value) {
      return number_text(units::in_unit(value, rule.dimension, read->symbol)) + " " +
             std::string(read->symbol);
    };
    report_range(node, name, limits_text(limit(rule.min), limit(rule.max), rule.above_min),
                 findings);
    return {};
  }
  findings.written.push_back({rule.dimension, read->symbol, node.mark});
  return read->value + 0.0;
}

std::optional<double> read_number(const Node& node, std::string_view name, const NumberRule& rule,
                                  Findings& findings) {
  if (!is_scalar(node, name, "a plain number", findings)) return {};
  const auto value = decimal(node.scalar);
  if (!value) {
    findings.diagnostics.error(
        node.mark, key_text(name) + " must be a plain number, but " + found_at(node) + " was found",
        "write the number alone, without a unit, with a point for decimals");
    return {};
  }
  if (!within(*value, rule.min, rule.max, rule.above_min)) {
    report_range(node, name,
                 limits_text(number_text(rule.min), number_text(rule.max), rule.above_min),
                 findings);
    return {};
  }
  return value;
}

std::optional<int> read_integer(const Node& node, std::string_view name, const IntegerRule& rule,
                                Findings& findings) {
  if (!is_scalar(node, name, "a whole number", findings)) return {};
  const std::string_view text = node.scalar;
  int value = 0;
  const auto [end, code] = std::from_chars(text.data(), text.data() + text.size(), value);
  const bool whole = end == text.data() + text.size() && code != std::errc::invalid_argument;
  if (!whole) {
    findings.diagnostics.error(
        node.mark, key_text(name) + " must be a whole number, but " + found_at(node) + " was found",
        "write digits alone, such as " + std::to_string(std::max(rule.min, 1)));
    return {};
  }
  if (code != std::errc{} || value < rule.min || value > rule.max) {
    report_range(node, name, limits_text(std::to_string(rule.min), std::to_string(rule.max), false),
                 findings);
    return {};
  }
  return value;
}

std::optional<bool> read_boolean(const Node& node, std::string_view name, Findings& findings) {
  if (!is_scalar(node, name, "yes or no", findings)) return {};
  const std::string word = lower(node.scalar);
  if (word == "yes" || word == "true") return true;
  if (word == "no" || word == "false") return false;
  findings.diagnostics.error(
      node.mark, key_text(name) + " must be yes or no, but " + found_at(node) + " was found",
      "write `" + std::string(name) + ": yes` or `" + std::string(name) + ": no`");
  return {};
}

std::optional<std::string> read_text(const Node& node, std::string_view name, Findings& findings) {
  if (!is_scalar(node, name, "a text", findings)) return {};
  if (node.scalar.empty()) {
    findings.diagnostics.error(node.mark, key_text(name) + " is an empty text",
                               "write a text, or leave it out");
    return {};
  }
  if (node.scalar.size() > kMaxText) {
    findings.diagnostics.error(
        node.mark, key_text(name) + " is longer than " + std::to_string(kMaxText) + " characters");
    return {};
  }
  return node.scalar;
}

std::optional<std::string> read_id(const Node& node, std::string_view name, Findings& findings,
                                   std::size_t longest) {
  if (!is_scalar(node, name, "an id such as \"hollin-48\"", findings)) return {};
  const std::string& id = node.scalar;
  const bool plain = std::ranges::all_of(id, [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '.' ||
           c == '_' || c == '-';
  });
  if (id.empty() || id.size() > longest || !plain) {
    const std::string shown = id.size() > longest ? id.substr(0, longest) + "..." : id;
    findings.diagnostics.error(node.mark, key_text(name) + " \"" + shown + "\" is not an id",
                               "an id is 1 to " + std::to_string(longest) +
                                   " letters, digits, '.', '_' or '-', such as hollin-48");
    return {};
  }
  return id;
}

std::optional<Money> read_money(const Node& node, std::string_view name, Findings& findings) {
  const auto amount = read_number(node, name, {0, kMaxMoney}, findings);
  if (!amount) return {};
  return static_cast<Money>(std::llround(*amount * static_cast<double>(kMoneyUnit)));
}

std::optional<std::size_t> read_choice(const Node& node, std::string_view name,
                                       std::span<const std::string_view> choices,
                                       Findings& findings) {
  if (node.kind == NodeKind::kScalar) {
    const auto found = std::ranges::find(choices, std::string_view(node.scalar));
    if (found != choices.end()) return static_cast<std::size_t>(found - choices.begin());
  }
  const std::vector<std::string_view> words(choices.begin(), choices.end());
  if (!is_scalar(node, name, "one of " + joined(words, "or"), findings)) return {};
  findings.diagnostics.error(
      node.mark,
      key_text(name) + " must be " + joined(words, "or") + ", but " + found_at(node) + " was found",
      did_you_mean(node.scalar, words));
  return {};
}

bool is_short_enough(std::size_t count, const document::Mark& mark, std::string_view name,
                     Findings& findings) {
  if (count <= kMaxItems) return true;
  findings.diagnostics.error(mark,
                             key_text(name) + " has " + std::to_string(count) +
                                 " entries; at most " + std::to_string(kMaxItems) + " are read",
                             "check that this is the file you meant");
  return false;
}

const std::vector<Node>* read_list(const Node& node, std::string_view name,
                                   std::string_view example, Findings& findings, bool required) {
  if (node.kind != NodeKind::kList) {
    findings.diagnostics.error(
        node.mark, key_text(name) + " must be a list, but " + found_at(node) + " was found",
        "write `" + std::string(name) + ": " + std::string(example) + "`");
    return nullptr;
  }
  if (node.items.empty()) {
    const std::string write = "write `" + std::string(name) + ": " + std::string(example) + "`";
    findings.diagnostics.error(node.mark, key_text(name) + " is an empty list",
                               required ? write : "leave the key out, or " + write);
    return nullptr;
  }
  return is_short_enough(node.items.size(), node.mark, name, findings) ? &node.items : nullptr;
}

}  // namespace sprocketry::parts
