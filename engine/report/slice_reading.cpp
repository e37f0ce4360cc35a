#include "report/slice_reading.hpp"

#include <algorithm>
#include <charconv>

#include "rules/rule.hpp"
#include "spec/metrics.hpp"

namespace sprocketry::report {
namespace {

using document::JsonKind;
using document::JsonNode;
using search::Count;

std::string_view name_of(JsonKind kind) {
  switch (kind) {
    case JsonKind::kNull:
      return "nothing";
    case JsonKind::kFlag:
      return "true or false";
    case JsonKind::kNumber:
      return "a number";
    case JsonKind::kText:
      return "a text";
    case JsonKind::kList:
      return "a list";
    case JsonKind::kObject:
      return "an object";
  }
  return {};
}

// A whole number of any length that a count holds.
std::optional<Count> whole_number(std::string_view digits) {
  constexpr std::size_t kMostDigits = 38;  // below 2^127, so that a sum of two is still a count
  if (digits.empty() || digits.size() > kMostDigits) return std::nullopt;
  Count number = 0;
  for (const char digit : digits) {
    if (digit < '0' || digit > '9') return std::nullopt;
    number = number * 10 + static_cast<unsigned>(digit - '0');
  }
  return number;
}

// The number that an object inside a member's text has under a key that occurs in it once. Members
// are not kept as trees: a front can fill hundreds of megabytes.
std::optional<double> number_under(std::string_view text, std::string_view key) {
  constexpr std::string_view kBlanks = " \t\r\n";
  const std::string quoted = '"' + std::string(key) + '"';
  std::size_t at = text.find(quoted);
  if (at == std::string_view::npos) return std::nullopt;
  at = text.find_first_not_of(kBlanks, at + quoted.size());
  if (at == std::string_view::npos || text[at] != ':') return std::nullopt;
  at = text.find_first_not_of(kBlanks, at + 1);
  if (at == std::string_view::npos) return std::nullopt;
  double value = 0;
  const auto [end, problem] = std::from_chars(text.data() + at, text.data() + text.size(), value);
  if (problem != std::errc{}) return std::nullopt;
  return value;
}

class Reading {
 public:
  Reading(const document::Source& source, document::Diagnostics& diagnostics, SliceFront& front)
      : source_(source), diagnostics_(diagnostics), front_(front) {}

  bool run() {
    const JsonNode& root = front_.root;
    if (root.kind != JsonKind::kObject || root.find("front") == nullptr) {
      return error(root, "this is no front", "name what `search --slice K/N --format json` wrote");
    }
    if (root.find("slice") == nullptr) {
      return error(root, "this front is not that of a slice",
                   "make it with `search --slice K/N --format json`");
    }
    return need(root, "sprocketry", JsonKind::kText) != nullptr &&
           need(root, "title", JsonKind::kText) != nullptr && read_exact(root) &&
           read_slice(root) && read_objectives(root) && read_count(root) && read_defaults(root) &&
           read_members(root);
  }

 private:
  bool error(const JsonNode& node, std::string message, std::string hint = kHint) {
    diagnostics_.error(document::mark_of(node, source_), std::move(message), std::move(hint));
    return false;
  }
  // A member that must be there and of this kind; null when an error was reported.
  const JsonNode* need(const JsonNode& in, std::string_view name, JsonKind kind) {
    const JsonNode* node = in.find(name);
    if (node == nullptr) {
      error(in, "`" + std::string(name) + "` is missing here");
    } else if (node->kind != kind) {
      error(*node, "`" + std::string(name) + "` is not " + std::string(name_of(kind)));
      node = nullptr;
    }
    return node;
  }
  bool need_count(const JsonNode& in, std::string_view name, Count& count) {
    const JsonNode* node = need(in, name, JsonKind::kNumber);
    if (node == nullptr) return false;
    const auto number = whole_number(node->text);
    if (!number) return error(*node, "`" + std::string(name) + "` is no count");
    count = *number;
    return true;
  }

  bool read_exact(const JsonNode& root) {
    const JsonNode* exact = need(root, "exact", JsonKind::kFlag);
    if (exact != nullptr) front_.exact = exact->text == "true";
    return exact != nullptr;
  }

  bool read_slice(const JsonNode& root) {
    const JsonNode* slice = need(root, "slice", JsonKind::kObject);
    Count index = 0, of = 0;
    if (slice == nullptr || !need_count(*slice, "index", index) || !need_count(*slice, "of", of) ||
        !need_count(*slice, "compatible", front_.account.compatible)) {
      return false;
    }
    if (index < 1 || index > of || of > search::kMostSlices) {
      return error(*slice, "`index` is not one of 1 to `of`, or `of` is above " +
                               std::to_string(search::kMostSlices));
    }
    front_.slice = {static_cast<std::size_t>(index), static_cast<std::size_t>(of)};
    const JsonNode* question = need(*slice, "question", JsonKind::kText);
    const JsonNode* cells = need(*slice, "cells", JsonKind::kObject);
    if (question == nullptr || cells == nullptr) return false;
    front_.question = question->text;
    for (const JsonNode& cell : cells->children) front_.cells.emplace(cell.key, cell.text);
    return true;
  }

  bool read_objectives(const JsonNode& root) {
    const JsonNode* list = need(root, "objectives", JsonKind::kList);
    if (list == nullptr) return false;
    if (list->children.empty() || list->children.size() > search::kMostObjectives) {
      return error(*list, "`objectives` are none, or too many");
    }
    for (const JsonNode& objective : list->children) {
      const JsonNode* name = need(objective, "name", JsonKind::kText);
      const JsonNode* unit = need(objective, "unit", JsonKind::kText);
      const JsonNode* better = need(objective, "better", JsonKind::kText);
      if (name == nullptr || unit == nullptr || better == nullptr) return false;
      if (better->text != "lower" && better->text != "higher") {
        return error(*better, "`better` is neither lower nor higher");
      }
      front_.objectives.push_back({name->text, unit->text, better->text == "lower"});
    }
    return true;
  }

  bool read_rejected(const JsonNode& rejected) {
    const auto& table = rules::rule_table();
    front_.account.rejected.assign(table.size(), 0);
    for (const JsonNode& entry : rejected.children) {
      const auto rule = std::ranges::find(table, std::string_view(entry.key), &rules::Rule::name);
      if (rule == table.end()) return error(entry, "there is no rule `" + entry.key + "`");
      Count& count = front_.account.rejected[static_cast<std::size_t>(rule - table.begin())];
      if (!need_count(rejected, entry.key, count)) return false;
    }
    return true;
  }

  bool read_count(const JsonNode& root) {
    search::Account& account = front_.account;
    const JsonNode* count = need(root, "count", JsonKind::kObject);
    const JsonNode* rejected =
        count == nullptr ? nullptr : need(*count, "rejected", JsonKind::kObject);
    if (rejected == nullptr || !read_rejected(*rejected) ||
        !need_count(*count, "combinations", account.combinations) ||
        !need_count(*count, "pruned", account.pruned) ||
        !need_count(*count, "evaluated", account.evaluated)) {
      return false;
    }
    if (!front_.exact && !need_count(*count, "unsettled", account.unsettled)) return false;
    Count left = account.combinations;
    const auto take = [&left](Count part) {
      const bool enough = part <= left;
      if (enough) left -= part;
      return enough;
    };
    const bool all = take(account.pruned) && take(account.evaluated) && take(account.unsettled) &&
                     std::ranges::all_of(account.rejected, take);
    if (all && left == 0) return true;
    return error(*count, "the counts do not add up to `combinations`");
  }

  bool read_defaults(const JsonNode& root) {
    const JsonNode* defaults = need(root, "defaults", JsonKind::kList);
    return defaults != nullptr && std::ranges::all_of(defaults->children, [&](const auto& entry) {
             return need(entry, "key", JsonKind::kText) != nullptr;
           });
  }

  bool read_members(const JsonNode& root) {
    const JsonNode* members = need(root, "front", JsonKind::kList);
    const JsonNode* values = need(*root.find("slice"), "values", JsonKind::kList);
    if (members == nullptr || values == nullptr) return false;
    Count size = 0;
    if (!need_count(*root.find("count"), "front", size)) return false;
    if (members->children.size() != size || values->children.size() != size) {
      return error(*members, "`front` has " + std::to_string(members->children.size()) +
                                 " members and `values` " +
                                 std::to_string(values->children.size()) + ", where `count` says " +
                                 grouped_or_many(size));
    }
    front_.members.resize(members->children.size());
    for (std::size_t i = 0; i < front_.members.size(); ++i) {
      if (!read_member(members->children[i], front_.members[i]) ||
          !read_values(values->children[i], front_.members[i])) {
        return false;
      }
    }
    return true;
  }

  static std::string grouped_or_many(Count count) {
    constexpr Count kMost = 1000000000;
    return count > kMost ? "many more" : std::to_string(static_cast<std::uint64_t>(count));
  }

  bool read_member(const JsonNode& node, SliceMember& member) {
    const JsonNode* id = need(node, "id", JsonKind::kText);
    if (id == nullptr) return false;
    auto parts = part_ids(id->text);
    if (!parts) return error(*id, "this is no id of a design");
    if (!front_.cells.contains(parts->pack)) {
      return error(*id, "`cells` lacks the pack `" + parts->pack + "`");
    }
    member.parts = std::move(*parts);
    member.text = node.raw;
    return true;
  }

  bool read_values(const JsonNode& node, SliceMember& member) {
    if (node.kind != JsonKind::kList || node.children.size() != front_.objectives.size()) {
      return error(node, "`values` holds a list of one number per objective for each member");
    }
    for (std::size_t k = 0; k < node.children.size(); ++k) {
      const JsonNode& number = node.children[k];
      const char* const end = number.text.data() + number.text.size();
      double value = 0;
      const auto [read, problem] = std::from_chars(number.text.data(), end, value);
      if (number.kind != JsonKind::kNumber || problem != std::errc{} || read != end) {
        return error(number, "this is no number that an objective can have");
      }
      if (!agrees(number, value, front_.objectives[k].name, member)) return false;
      member.costs[k] = front_.objectives[k].lower_is_better ? value : -value;
    }
    return true;
  }

  // Whether the member's own metrics say the same.
  bool agrees(const JsonNode& number, double value, const std::string& objective,
              const SliceMember& member) {
    const spec::MetricInfo* metric = spec::find_metric(objective);
    if (metric == nullptr || metric->json_key.empty()) return true;
    const auto own = number_under(member.text, metric->json_key);
    if (own && *own == value) return true;
    return error(number, "this is not the `" + std::string(metric->json_key) +
                             "` that `front` gives of " + design_id(member.parts));
  }

  static constexpr const char* kHint = "make the front of this slice again";
  const document::Source& source_;
  document::Diagnostics& diagnostics_;
  SliceFront& front_;
};

}  // namespace

std::optional<SliceFront> read_slice_front(const document::Source& source,
                                           document::Diagnostics& diagnostics) {
  auto root = document::compose_json(source, "front", diagnostics);
  if (!root) return std::nullopt;
  SliceFront front;
  front.root = std::move(*root);
  if (!Reading(source, diagnostics, front).run()) return std::nullopt;
  return front;
}

}  // namespace sprocketry::report
