#include <algorithm>
#include <array>
#include <cmath>

#include "spec/load_sections.hpp"
#include "spec/spread.hpp"

namespace sprocketry::spec {
namespace {

using document::Node;
using document::NodeKind;
using parts::Input;

constexpr std::array<std::string_view, 3> kShapes = {"normal", "uniform", "triangular"};
constexpr std::string_view kExample = "write for example `bike.drag_area: {normal: 10 %}`";

// A spread as it was written: at `path` of the tree of `spread`.
struct Written {
  std::string path;
  const Node* node = nullptr;
  document::Mark key_mark;
};

// Whether a node of the tree says how something is spread, and does not only lead further.
bool is_leaf(const Node& node, const std::string& path, const std::vector<Input>& inputs) {
  if (node.kind == NodeKind::kScalar || node.kind == NodeKind::kEmpty) return true;
  return (node.entries.empty() && node.items.empty()) ||
         std::ranges::any_of(kShapes, [&](auto shape) { return node.find(shape) != nullptr; }) ||
         std::ranges::any_of(inputs, [&](const Input& input) { return names(path, input); });
}

// Keys may hold whole paths or stand inside each other, as --set writes them; of a list the
// positions are keys.
void collect(const Node& node, const document::Mark& mark, const std::string& path,
             const std::vector<Input>& inputs, std::vector<Written>& found) {
  if (!path.empty() && is_leaf(node, path, inputs)) {
    found.push_back({path, &node, mark});
    return;
  }
  const std::string before = path.empty() ? "" : path + ".";
  for (const document::Entry& entry : node.entries) {
    collect(entry.value, entry.key_mark, before + entry.key, inputs, found);
  }
  for (std::size_t i = 0; i < node.items.size(); ++i) {
    collect(node.items[i], node.items[i].mark, before + std::to_string(i), inputs, found);
  }
}

class SpreadReader {
 public:
  SpreadReader(const std::vector<Input>& inputs, bool all_known, const document::Source* file,
               document::Diagnostics& diagnostics)
      : inputs_(inputs), all_known_(all_known), file_(file), diagnostics_(diagnostics) {}

  // Of a path that is given in the file and by --set, the latter counts.
  std::vector<Written> each_once(const std::vector<Written>& all) {
    std::vector<Written> kept;
    for (const Written& one : all) {
      const auto before = std::ranges::find(kept, one.path, &Written::path);
      if (before == kept.end()) {
        kept.push_back(one);
      } else if (before->key_mark.source == one.key_mark.source) {
        diagnostics_.add({document::Severity::kError, one.key_mark,
                          "the spread of `" + one.path + "` is given twice", "keep one of them",
                          before->key_mark, "first given here"});
      } else if (before->key_mark.source == file_) {
        *before = one;
      }
    }
    return kept;
  }

  std::optional<Spread> read(const Written& written) {
    const std::vector<const Input*> targets = find(written);
    if (targets.empty()) return std::nullopt;
    Spread spread;
    spread.path = written.path;
    const Node& node = *written.node;
    if (node.kind == NodeKind::kScalar && node.scalar == "none") {
      spread.exact = true;
      return spread;
    }
    if (node.kind != NodeKind::kMap || node.entries.size() != 1) {
      error(node.kind == NodeKind::kEmpty ? written.key_mark : node.mark,
            "`" + written.path + "` must have one spread, but " + parts::found_at(node) +
                " was found",
            "write {normal: 10 %}, {uniform: 10 %}, {triangular: 10 %} or none");
      return std::nullopt;
    }
    const document::Entry& entry = node.entries.front();
    const auto shape = std::ranges::find(kShapes, entry.key);
    if (shape == kShapes.end()) {
      const std::string near = parts::did_you_mean(entry.key, {kShapes.begin(), kShapes.end()});
      error(entry.key_mark, "there is no spread `" + entry.key + "`",
            near.empty() ? "write normal, uniform or triangular" : near);
      return std::nullopt;
    }
    spread.shape = static_cast<Shape>(shape - kShapes.begin());
    const bool fine = entry.value.kind == NodeKind::kMap ? read_ends(entry.value, targets, spread)
                                                         : read_amount(entry, targets, spread);
    if (!fine) return std::nullopt;
    return spread;
  }

 private:
  void error(const document::Mark& mark, std::string message, std::string hint) {
    diagnostics_.error(mark, std::move(message), std::move(hint));
  }

  std::vector<const Input*> find(const Written& written) {
    std::vector<const Input*> targets;
    for (const Input& input : inputs_) {
      if (names(written.path, input)) targets.push_back(&input);
    }
    if (!targets.empty() && !may_be_uncertain(written.path)) {
      error(written.key_mark, "`" + written.path + "` is asked for, not measured: it has no spread",
            "spread what is known only so well: of bike, rider, load, conditions and parts");
      return {};
    }
    if (targets.empty() && all_known_) {
      std::vector<std::string_view> paths;
      for (const Input& input : inputs_) {
        if (!may_be_uncertain(input.path)) continue;
        paths.push_back(input.path);
        paths.push_back(input.pattern);
      }
      const std::string near = parts::did_you_mean(written.path, paths);
      error(written.key_mark,
            "`spread` names `" + written.path +
                "`, which is no number of this requirement or of a part",
            near.empty() ? "a path is that of --set, such as bike.drag_area, "
                           "motors.ID.resistance or motors.*.resistance"
                         : near);
    }
    return targets;
  }

  bool read_amount(const document::Entry& entry, const std::vector<const Input*>& targets,
                   Spread& spread) {
    const Node& node = entry.value;
    if (node.kind != NodeKind::kScalar) {
      error(node.kind == NodeKind::kEmpty ? entry.key_mark : node.mark,
            "`" + entry.key + "` must be an amount, but " + parts::found_at(node) + " was found",
            std::string(kExample));
      return false;
    }
    spread.text = entry.key + " " + node.scalar;
    const auto percent = units::parse(node.scalar, units::Dimension::kRatio);
    if (percent) {
      spread.relative = true;
      spread.amount = percent->value;
    } else if (!read_absolute(node, *targets.front(), spread)) {
      return false;
    }
    if (!(spread.amount > 0) || (spread.relative && spread.amount > 1)) {
      error(node.mark,
            "a spread of " + node.scalar + (spread.amount > 0 ? " is more than all" : " is none"),
            "write more than 0 % and at most 100 %, or `none` for the whole entry");
      return false;
    }
    return !spread.relative || has_shares(node, targets);
  }

  // Percent needs a scale that begins at nothing, and something to take a share of.
  bool has_shares(const Node& node, const std::vector<const Input*>& targets) {
    for (const Input* input : targets) {
      if (input->dimension == units::Dimension::kTemperature) {
        error(node.mark, "a temperature has no percent: its zero is agreed upon",
              "write the spread in K, such as {normal: 5 K}");
        return false;
      }
      if (input->value == 0) {
        error(node.mark, "`" + input->path + "` is 0, and a share of nothing is nothing",
              "write the spread itself, such as {normal: 5" +
                  (input->dimension ? " " + std::string(input->symbol) : "") + "}");
        return false;
      }
    }
    return true;
  }

  bool read_absolute(const Node& node, const Input& input, Spread& spread) {
    using units::Dimension;
    if (!input.dimension) {
      const auto number = parts::decimal(node.scalar);
      if (number) spread.amount = *number;
      if (!number) {
        error(node.mark,
              "the spread of `" + input.path + "` must be a plain number or a percentage",
              std::string(kExample));
      }
      return number.has_value();
    }
    const auto read = units::parse(node.scalar, *input.dimension);
    if (!read) {
      error({node.mark.source, node.mark.line,
             node.mark.column + read.error().offset + (node.quoted ? 1 : 0)},
            "the spread of `" + input.path + "`: " + read.error().message,
            read.error().hint + "; or a percentage of the value");
      return false;
    }
    // A difference on a scale with a zero of its own, or on one that is turned over.
    const bool is_point = *input.dimension == Dimension::kTemperature && read->symbol != "K";
    if (is_point || *input.dimension == Dimension::kSpeedConstant) {
      error(node.mark, "the spread of `" + input.path + "` cannot be " + node.scalar,
            is_point ? "write a difference of temperatures in K, such as 5 K"
                     : "write a percentage of the value, or {from: ..., to: ...}");
      return false;
    }
    spread.amount = read->value;
    return true;
  }

  std::optional<double> read_end(const Node& ends, std::string_view key, const Input& input) {
    const Node* node = ends.find(key);
    if (node == nullptr || node->kind == NodeKind::kEmpty) {
      error(ends.mark, "a spread between two ends lacks `" + std::string(key) + "`",
            "write {from: ..., to: ...}");
      return std::nullopt;
    }
    std::vector<Default> unused;
    Findings findings{diagnostics_, unused};
    return input.dimension
               ? parts::read_quantity(*node, key,
                                      {*input.dimension, input.min, input.max, input.above_min},
                                      findings)
               : parts::read_number(*node, key, {input.min, input.max, input.above_min}, findings);
  }

  bool read_ends(const Node& ends, const std::vector<const Input*>& targets, Spread& spread) {
    if (spread.shape == Shape::kNormal) {
      error(ends.mark, "`normal` takes one amount, its standard deviation",
            "write {normal: 10 %}, or {uniform: {from: ..., to: ...}}");
      return false;
    }
    for (const document::Entry& entry : ends.entries) {
      if (entry.key == "from" || entry.key == "to") continue;
      error(entry.key_mark, "unknown key `" + entry.key + "` in a spread",
            "known keys here: from and to");
      return false;
    }
    spread.from = read_end(ends, "from", *targets.front());
    spread.to = read_end(ends, "to", *targets.front());
    if (!spread.from || !spread.to) return false;
    if (*spread.from >= *spread.to) {
      error(ends.mark, "a spread must go from a lower to a higher value", "exchange the two");
      return false;
    }
    spread.text = std::string(kShapes[static_cast<std::size_t>(spread.shape)]) + " " +
                  ends.find("from")->scalar + " to " + ends.find("to")->scalar;
    if (spread.shape == Shape::kUniform) return true;
    for (const Input* input : targets) {
      if (input->value >= *spread.from && input->value <= *spread.to) continue;
      error(ends.mark, "the value of `" + input->path + "` does not lie between the two ends",
            "a triangular spread has its peak at the value");
      return false;
    }
    return true;
  }

  const std::vector<Input>& inputs_;
  bool all_known_;
  const document::Source* file_;
  document::Diagnostics& diagnostics_;
};

}  // namespace

bool names(std::string_view path, const Input& input) {
  return path == input.path || path == input.pattern;
}

bool may_be_uncertain(std::string_view path) {
  constexpr std::array<std::string_view, 5> kAsked = {"must", "cruise", "accelerations", "ride",
                                                      "choose"};
  return std::ranges::find(kAsked, path.substr(0, path.find('.'))) == kAsked.end();
}

void read_spread(Reader& root, const std::vector<Input>& inputs, bool all_known,
                 Requirement& requirement) {
  const Node* node = root.take("spread");
  if (node == nullptr) return;
  document::Diagnostics& diagnostics = root.findings().diagnostics;
  if (node->kind != NodeKind::kMap) {
    diagnostics.error(node->mark,
                      "`spread` must be a map, but " + parts::found_at(*node) + " was found",
                      std::string(kExample));
    return;
  }
  std::vector<Written> all;
  collect(*node, node->mark, "", inputs, all);
  SpreadReader reader(inputs, all_known, root.mark().source, diagnostics);
  for (const Written& written : reader.each_once(all)) {
    if (auto spread = reader.read(written)) requirement.spreads.push_back(std::move(*spread));
  }
}

}  // namespace sprocketry::spec
