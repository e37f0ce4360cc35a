#include "parts/changes.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "document/emit.hpp"
#include "parts/values.hpp"
#include "units/units.hpp"

namespace sprocketry::parts {
namespace {

using document::Node;
using document::NodeKind;

bool same_number(double a, double b) {
  constexpr double kRounding = 1e-12;
  return std::abs(a - b) <= kRounding * std::max(std::abs(a), std::abs(b));
}

// The same quantity in whatever unit. The dimension is not known here: texts that are quantities of
// one dimension both, and equal in it, are equal in every other that both belong to.
bool same_quantity(const std::string& a, const std::string& b) {
  constexpr int kDimensions = static_cast<int>(units::Dimension::kCapacitance) + 1;
  for (int i = 0; i < kDimensions; ++i) {
    const auto dimension = static_cast<units::Dimension>(i);
    const auto one = units::parse(a, dimension);
    if (!one) continue;
    const auto other = units::parse(b, dimension);
    if (other) return same_number(one->value, other->value);
  }
  return false;
}

std::optional<bool> boolean(std::string text) {
  std::ranges::transform(text, text.begin(), [](char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  });
  if (text == "yes" || text == "true") return true;
  if (text == "no" || text == "false") return false;
  return std::nullopt;
}

bool same_scalar(const std::string& a, const std::string& b) {
  if (a == b) return true;
  const auto one = decimal(a);
  const auto other = decimal(b);
  if (one && other) return same_number(*one, *other);
  const auto yes = boolean(a);
  if (yes && yes == boolean(b)) return true;
  return same_quantity(a, b);
}

std::optional<long> whole(const Node* node) {
  constexpr double kMost = 100000;
  if (node == nullptr || node->kind != NodeKind::kScalar) return std::nullopt;
  const auto value = decimal(node->scalar);
  if (!value || std::trunc(*value) != *value || std::abs(*value) > kMost) return std::nullopt;
  return static_cast<long>(*value);
}

// Whole numbers as a list, or as {from, to}; nothing when it is neither.
std::optional<std::vector<long>> whole_numbers(const Node& node) {
  std::vector<long> numbers;
  if (node.kind == NodeKind::kMap && node.entries.size() == 2) {
    const auto from = whole(node.find("from"));
    const auto to = whole(node.find("to"));
    if (!from || !to || *to < *from) return std::nullopt;
    for (long n = *from; n <= *to; ++n) numbers.push_back(n);
    return numbers;
  }
  if (const auto one = whole(&node)) return std::vector<long>{*one};
  if (node.kind != NodeKind::kList || node.items.empty()) return std::nullopt;
  for (const Node& item : node.items) {
    const auto number = whole(&item);
    if (!number) return std::nullopt;
    numbers.push_back(*number);
  }
  std::ranges::sort(numbers);
  return numbers;
}

// The amount of a map that is nothing but {base}, perhaps with per_tooth: 0.
const Node* base_alone(const Node& node) {
  if (node.kind != NodeKind::kMap) return nullptr;
  const Node* base = node.find("base");
  const Node* share = node.find("per_tooth");
  if (base == nullptr || node.entries.size() != (share == nullptr ? 1U : 2U)) return nullptr;
  if (share == nullptr) return base;
  const bool zero = share->kind == NodeKind::kScalar &&
                    (same_scalar(share->scalar, "0") || same_quantity(share->scalar, "0 kg"));
  return zero ? base : nullptr;
}

bool is_words(const Node& list) {
  return list.kind == NodeKind::kList && std::ranges::all_of(list.items, [](const Node& item) {
           return item.kind == NodeKind::kScalar && !decimal(item.scalar);
         });
}

bool same_words(const Node& a, const Node& b) {
  if (!is_words(a) || !is_words(b)) return false;
  const auto sorted = [](const Node& list) {
    std::vector<std::string> words;
    for (const Node& item : list.items) words.push_back(item.scalar);
    std::ranges::sort(words);
    return words;
  };
  return sorted(a) == sorted(b);
}

class Comparison {
 public:
  Comparison(const EntryAt& then, const EntryAt& now) : then_(then), now_(now) {}

  std::vector<FieldChange> run() {
    compare_maps(then_.node, now_.node, "");
    return std::move(changes_);
  }

 private:
  static std::string below(const std::string& path, const std::string& key) {
    return path.empty() ? key : path + '.' + key;
  }

  static const std::string* assumed(const EntryAt& entry, const std::string& path) {
    const auto found = std::ranges::find(entry.assumed, path, &Default::key);
    return found == entry.assumed.end() ? nullptr : &found->value;
  }

  void compare(const Node& a, const Node& b, const std::string& path) {
    if (a.kind == NodeKind::kScalar && b.kind == NodeKind::kScalar) {
      if (!same_scalar(a.scalar, b.scalar)) note(a, b, path);
      return;
    }
    const auto numbers = whole_numbers(a);
    if (numbers && numbers == whole_numbers(b)) return;
    if (same_words(a, b)) return;
    const Node* base_then = base_alone(a);
    const Node* base_now = base_alone(b);
    const bool amount =
        (base_then || a.kind == NodeKind::kScalar) && (base_now || b.kind == NodeKind::kScalar);
    if (amount) return compare(base_then ? *base_then : a, base_now ? *base_now : b, path);
    if (a.kind == NodeKind::kMap && b.kind == NodeKind::kMap && !numbers) {
      return compare_maps(a, b, path);
    }
    if (a.kind == NodeKind::kList && b.kind == NodeKind::kList && !numbers &&
        a.items.size() == b.items.size()) {
      for (std::size_t i = 0; i < a.items.size(); ++i) {
        compare(a.items[i], b.items[i], below(path, std::to_string(i)));
      }
      return;
    }
    if (!document::same_tree(a, b)) note(a, b, path);
  }

  void compare_maps(const Node& a, const Node& b, const std::string& path) {
    for (const document::Entry& entry : a.entries) {
      const std::string field = below(path, entry.key);
      const Node* now = b.find(entry.key);
      now != nullptr ? compare(entry.value, *now, field) : note_gone(entry.value, field);
    }
    for (const document::Entry& entry : b.entries) {
      if (a.find(entry.key) == nullptr) note_new(entry.value, below(path, entry.key));
    }
  }

  void note(const Node& a, const Node& b, const std::string& path) {
    changes_.push_back({path, flow_text(a), flow_text(b)});
  }

  static std::string left_out(const std::string* value) {
    return value == nullptr ? "not given" : "not given (" + *value + " assumed)";
  }

  void note_gone(const Node& then, const std::string& field) {
    const std::string* value = assumed(now_, field);
    if (value && then.kind == NodeKind::kScalar && same_scalar(then.scalar, *value)) return;
    changes_.push_back({field, flow_text(then), left_out(value)});
  }

  void note_new(const Node& now, const std::string& field) {
    const std::string* value = assumed(then_, field);
    if (value && now.kind == NodeKind::kScalar && same_scalar(now.scalar, *value)) return;
    changes_.push_back({field, left_out(value), flow_text(now)});
  }

  const EntryAt& then_;
  const EntryAt& now_;
  std::vector<FieldChange> changes_;
};

}  // namespace

std::vector<FieldChange> field_changes(const EntryAt& then, const EntryAt& now) {
  return Comparison(then, now).run();
}

std::vector<Default> assumed_of(const std::vector<Default>& all, const std::string& list,
                                const std::string& name) {
  const std::string prefix = list + '.' + name + '.';
  std::vector<Default> some;
  for (const Default& entry : all) {
    if (!entry.key.starts_with(prefix)) continue;
    some.push_back({entry.key.substr(prefix.size()), entry.value, entry.source});
  }
  return some;
}

}  // namespace sprocketry::parts
