#include "parts/reader.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "parts/hints.hpp"

namespace sprocketry::parts {

using document::Node;
using document::NodeKind;

namespace {

constexpr std::size_t kUsualKeys = 24;  // that a map may have
constexpr std::size_t kBits = 64;

}  // namespace

Reader::Reader(const Node& node, const document::Mark& at, std::string_view path,
               std::string_view what, Findings& findings, std::string_view example)
    : node_(&node),
      at_(at),
      findings_(&findings),
      path_(path, &findings.scratch.memory),
      what_(what, &findings.scratch.memory),
      known_(&findings.scratch.memory) {
  known_.reserve(kUsualKeys);
  if (is_map()) return;
  findings_->diagnostics.error(
      node.mark, std::string(what) + " must be a map of keys, but " + found_at(node) + " was found",
      map_hint(node, std::string(path.substr(path.rfind('.') + 1)), example));
}

bool Reader::is_map() const { return node_->kind == NodeKind::kMap; }

const document::Entry* Reader::entry(std::string_view key) const {
  const auto found = std::ranges::find(node_->entries, key, &document::Entry::key);
  return found == node_->entries.end() ? nullptr : &*found;
}

std::string Reader::path_of(std::string_view key) const {
  if (path_.empty()) return std::string(key);
  std::string path;
  path.reserve(path_.size() + 1 + key.size());
  return path.append(path_).append(1, '.').append(key);
}

// The columns' names stand above all rows; elsewhere a key stands in its map.
bool Reader::in_table() const {
  if (node_->entries.empty()) return false;
  const document::Mark& key = node_->entries.front().key_mark;
  return key.source == node_->mark.source && key.line < node_->mark.line;
}

std::string Reader::column_of(std::string_view key) const {
  const std::string path = path_of(key);
  const std::string entry = findings_->entry + '.';
  // An entry without an id has the path of its list.
  return path.substr(path.starts_with(entry) ? entry.size() : path.find('.') + 1);
}

document::Mark Reader::mark_of(std::string_view key) const {
  const auto* found = entry(key);
  return found == nullptr ? at_ : found->value.mark;
}

void Reader::error(std::string_view key, std::string message, std::string hint) {
  findings_->diagnostics.error(mark_of(key), std::move(message), std::move(hint));
}

void Reader::remember(std::string_view key, const document::Entry* found) {
  const auto position =
      found == nullptr ? kBits : static_cast<std::size_t>(found - node_->entries.data());
  if (position < kBits) {
    const std::uint64_t bit = std::uint64_t{1} << position;
    if ((taken_ & bit) == 0) known_.push_back(key);
    taken_ |= bit;
  } else if (std::ranges::find(known_, key) == known_.end()) {
    known_.push_back(key);
  }
}

const Node* Reader::take(std::string_view key) {
  const auto* found = entry(key);
  remember(key, found);
  if (found == nullptr) return nullptr;
  if (found->value.kind == NodeKind::kEmpty) {
    const document::Source* source = found->key_mark.source;
    const bool assigned = source != nullptr && source->name.starts_with("--");
    findings_->diagnostics.error(found->key_mark, "`" + std::string(key) + "` has no value",
                                 std::string("write a value after the ") +
                                     (assigned ? "equals sign" : "colon") +
                                     ", or leave the key out");
    return nullptr;
  }
  return &found->value;
}

const Node* Reader::require(std::string_view key, std::string_view example) {
  const Node* value = take(key);
  if (value == nullptr && entry(key) == nullptr && is_map()) {
    findings_->diagnostics.error(
        at_, std::string(what_) + " lacks `" + std::string(key) + "`",
        in_table() ? table_hint(column_of(key), example)
                   : "add a line such as `" + std::string(key) + ": " + std::string(example) + "`");
  }
  return value;
}

std::optional<double> Reader::quantity(std::string_view key, const QuantityRule& rule) {
  const Node* value = require(key, example_of(rule));
  if (value == nullptr) return std::nullopt;
  return met_quantity(key, read_quantity(*value, key, rule, *findings_), rule);
}

std::optional<double> Reader::number(std::string_view key, const NumberRule& rule,
                                     std::string_view example) {
  const Node* value = require(key, example);
  if (value == nullptr) return std::nullopt;
  return met_number(key, read_number(*value, key, rule, *findings_), rule);
}

std::optional<int> Reader::integer(std::string_view key, const IntegerRule& rule,
                                   std::string_view example) {
  const Node* value = require(key, example);
  return value == nullptr ? std::nullopt : read_integer(*value, key, rule, *findings_);
}

std::optional<std::string> Reader::text(std::string_view key, std::string_view example) {
  const Node* value = require(key, example);
  return value == nullptr ? std::nullopt : read_text(*value, key, *findings_);
}

std::optional<std::string> Reader::id(std::string_view key, std::string_view example) {
  const Node* value = require(key, example);
  return value == nullptr ? std::nullopt : read_id(*value, key, *findings_);
}

std::optional<Money> Reader::money(std::string_view key, std::string_view example) {
  const Node* value = require(key, example);
  if (value == nullptr) return std::nullopt;
  return met_money(key, read_money(*value, key, *findings_));
}

const std::vector<Node>* Reader::list(std::string_view key, std::string_view example) {
  const Node* value = require(key, example);
  if (value == nullptr || is_split_list(key, example)) {
    return nullptr;
  }
  return read_list(*value, key, example, *findings_);
}

// Columns that name keys of the items but not the items ("no_load.voltage"). It is the first line
// that is wrong, once for all rows.
bool Reader::is_split_list(std::string_view key, std::string_view example) {
  const document::Entry& found = *entry(key);
  if (found.value.kind != NodeKind::kMap || found.value.entries.empty() || !in_table())
    return false;
  // A map that was written into the cell has its keys there.
  if (found.value.entries.front().key_mark.line != found.key_mark.line) return false;
  const std::string column = column_of(key);
  const std::string inner = column + ".0." + found.value.entries.front().key;
  findings_->diagnostics.error(
      found.key_mark,
      "`" + column + "` is a list, and its columns do not say which item they are of",
      "call them `" + inner + "` and so on, or put the list into one cell of a column `" + column +
          "`, in double quotes: \"" + std::string(example) + "\"");
  return true;
}

std::optional<double> Reader::optional_quantity(std::string_view key, const QuantityRule& rule) {
  const Node* value = take(key);
  if (value == nullptr) return std::nullopt;
  return met_quantity(key, read_quantity(*value, key, rule, *findings_), rule);
}

std::optional<double> Reader::optional_number(std::string_view key, const NumberRule& rule) {
  const Node* value = take(key);
  if (value == nullptr) return std::nullopt;
  return met_number(key, read_number(*value, key, rule, *findings_), rule);
}

std::optional<int> Reader::optional_integer(std::string_view key, const IntegerRule& rule) {
  const Node* value = take(key);
  return value == nullptr ? std::nullopt : read_integer(*value, key, rule, *findings_);
}

std::optional<bool> Reader::optional_boolean(std::string_view key) {
  const Node* value = take(key);
  return value == nullptr ? std::nullopt : read_boolean(*value, key, *findings_);
}

std::optional<std::string> Reader::optional_text(std::string_view key) {
  const Node* value = take(key);
  return value == nullptr ? std::nullopt : read_text(*value, key, *findings_);
}

std::optional<Money> Reader::optional_money(std::string_view key) {
  const Node* value = take(key);
  if (value == nullptr) return std::nullopt;
  return met_money(key, read_money(*value, key, *findings_));
}

const std::vector<Node>* Reader::optional_list(std::string_view key, std::string_view example) {
  const Node* value = take(key);
  if (value == nullptr || is_split_list(key, example)) {
    return nullptr;
  }
  return read_list(*value, key, example, *findings_, false);
}

void Reader::record_default(std::string_view key, std::string value, std::string_view source) {
  findings_->defaults.push_back({path_of(key), std::move(value), source});
}

bool Reader::tampers() const {
  return findings_->tampering.inputs != nullptr || findings_->tampering.replaced != nullptr;
}

double Reader::met(std::string_view key, Input input) {
  const Tampering& tampering = findings_->tampering;
  input.path = path_of(key);
  if (tampering.replaced != nullptr) {
    const auto other = tampering.replaced->find(input.path);
    if (other != tampering.replaced->end()) input.value = other->second;
  }
  const double value = input.value;
  if (tampering.inputs != nullptr) {
    const std::string& entry = findings_->entry;
    input.pattern = input.path;
    if (!entry.empty() && input.path.starts_with(entry + '.')) {
      input.pattern = entry.substr(0, entry.find('.')) + ".*" + input.path.substr(entry.size());
    }
    tampering.inputs->push_back(std::move(input));
  }
  return value;
}

std::optional<double> Reader::met_quantity(std::string_view key, std::optional<double> value,
                                           const QuantityRule& rule) {
  if (!value || !tampers()) return value;
  return met(key, {{},
                   {},
                   *value,
                   rule.dimension,
                   findings_->written.back().symbol,
                   rule.min,
                   rule.max,
                   rule.above_min,
                   true});
}

std::optional<double> Reader::met_number(std::string_view key, std::optional<double> value,
                                         const NumberRule& rule) {
  if (!value || !tampers()) return value;
  return met(key, {{}, {}, *value, {}, "", rule.min, rule.max, rule.above_min, true});
}

std::optional<Money> Reader::met_money(std::string_view key, std::optional<Money> value) {
  if (!value || !tampers()) return value;
  const auto unit = static_cast<double>(kMoneyUnit);
  const double amount = static_cast<double>(*value) / unit;
  const double taken = met(key, {{}, {}, amount, {}, "", 0, kMaxMoney, false, true});
  return taken == amount ? *value : static_cast<Money>(std::llround(taken * unit));
}

double Reader::derived(std::string_view key, double value, const QuantityRule& rule,
                       std::string_view symbol) {
  if (!tampers()) return value;
  return met(key,
             {{}, {}, value, rule.dimension, symbol, rule.min, rule.max, rule.above_min, false});
}

double Reader::quantity_or(std::string_view key, const QuantityRule& rule,
                           std::string_view fallback, std::string_view source) {
  if (const auto stated = optional_quantity(key, rule)) return *stated;
  if (entry(key) == nullptr) record_default(key, std::string(fallback), source);
  const units::Quantity taken = units::parse(fallback, rule.dimension).value();
  return derived(key, taken.value, rule, taken.symbol);
}

double Reader::number_or(std::string_view key, const NumberRule& rule, std::string_view fallback,
                         std::string_view source) {
  if (const auto stated = optional_number(key, rule)) return *stated;
  if (entry(key) == nullptr) record_default(key, std::string(fallback), source);
  const double taken = decimal(fallback).value();
  if (!tampers()) return taken;
  return met(key, {{}, {}, taken, {}, "", rule.min, rule.max, rule.above_min, false});
}

bool Reader::boolean_or(std::string_view key, bool fallback, std::string_view source) {
  if (const auto stated = optional_boolean(key)) return *stated;
  if (entry(key) == nullptr) record_default(key, fallback ? "yes" : "no", source);
  return fallback;
}

Reader Reader::below(std::string_view key, const Node& node, const document::Mark& at,
                     std::string_view what, std::string_view example) {
  std::pmr::string path(path_, &findings_->scratch.memory);
  if (!path.empty()) path += '.';
  path += key;
  return Reader(node, at, path, what, *findings_, example);
}

Reader Reader::item(std::string_view key, std::size_t position, const Node& node,
                    std::string_view what) {
  Reader reader = below(key, node, node.mark, what);
  reader.path_.append(1, '.').append(std::to_string(position));
  return reader;
}

std::optional<Reader> Reader::optional_map(std::string_view key, std::string_view what,
                                           std::string_view example) {
  const auto* found = entry(key);
  if (take(key) == nullptr || found == nullptr) return {};
  std::pmr::string name(what, &findings_->scratch.memory);
  if (what.empty()) name.append(1, '`').append(key).append("` of ").append(what_);
  // What a row of a table lacks is missing from the row, not from the first line.
  const document::Mark& at = in_table() ? found->value.mark : found->key_mark;
  return below(key, found->value, at, name, example);
}

std::optional<Reader> Reader::map(std::string_view key, std::string_view what,
                                  std::string_view example) {
  if (require(key, example) == nullptr) return {};
  return optional_map(key, what, example);
}

void Reader::finish() {
  const std::size_t count = node_->entries.size();
  if (!is_map() || (count < kBits && taken_ + 1 == std::uint64_t{1} << count)) return;
  const std::vector<std::string_view> known(known_.begin(), known_.end());
  const document::Entry* before = nullptr;
  for (const document::Entry& one : node_->entries) {
    const document::Entry* last = std::exchange(before, &one);
    if (std::ranges::find(known, one.key) != known.end()) continue;
    std::string hint = last == nullptr ? "" : comma_hint(*last, one);
    if (hint.empty()) hint = did_you_mean(one.key, known);
    if (hint.empty()) hint = "known keys here: " + joined(known);
    findings_->diagnostics.error(
        one.key_mark, "unknown key `" + one.key + "` in " + std::string(what_), std::move(hint));
  }
}

void Reader::check_ascending(std::string_view lower, std::optional<double> low,
                             std::string_view upper, std::optional<double> high,
                             std::string_view rule, bool strictly) {
  if (!low || !high || *low < *high || (!strictly && *low <= *high)) return;
  document::Diagnostic finding;
  finding.mark = mark_of(upper);
  const bool equal = *low <= *high;
  finding.message = "`" + std::string(upper) + "` is " + (equal ? "equal to" : "below") + " `" +
                    std::string(lower) + "`";
  finding.hint = std::string(rule);
  finding.second_mark = mark_of(lower);
  finding.second_message = "`" + std::string(lower) + "` stands here";
  findings_->diagnostics.add(std::move(finding));
}

}  // namespace sprocketry::parts
