#include "search/lock_document.hpp"

#include <charconv>
#include <cmath>

#include "document/emit.hpp"
#include "parts/reader.hpp"

namespace sprocketry::search {
namespace {

constexpr std::string_view kWhole = "whole";

using document::Node;
using document::NodeKind;
using parts::Findings;
using parts::Reader;

constexpr const char* kNoNumber = "none";
constexpr parts::NumberRule kAnyNumber{-1e300, 1e300};

// The shortest text that reads back as the same double.
std::string number(double value) {
  if (!std::isfinite(value)) return kNoNumber;
  char buffer[32];
  const auto end = std::to_chars(std::begin(buffer), std::end(buffer), value + 0.0);
  return {std::begin(buffer), end.ptr};
}

Node files_node(const std::vector<LockedFile>& files) {
  Node list = document::make_list();
  for (const LockedFile& file : files) {
    Node node = document::make_map();
    document::add(node, "role", file.role);
    document::add(node, "path", file.path);
    document::add(node, "sha256", document::make_scalar(file.sha256, true));
    list.items.push_back(std::move(node));
  }
  return list;
}

// Lists of parts, as in a parts file.
Node parts_node(const std::vector<parts::WrittenPart>& parts) {
  Node lists = document::make_map();
  for (const parts::WrittenPart& part : parts) {
    auto found = std::ranges::find(lists.entries, part.list, &document::Entry::key);
    if (found == lists.entries.end()) {
      document::add(lists, part.list, document::make_list());
      found = std::prev(lists.entries.end());
    }
    found->value.items.push_back(part.node);
  }
  return lists;
}

Node texts_node(const std::vector<std::string>& texts) {
  Node list = document::make_list();
  for (const std::string& text : texts) list.items.push_back(document::make_scalar(text));
  return list;
}

Node figures_node(const std::vector<Figure>& figures) {
  Node node = document::make_map();
  for (const Figure& figure : figures) document::add(node, figure.key, number(figure.value));
  return node;
}

Node rules_node(const std::vector<LockedRule>& rules) {
  Node list = document::make_list();
  for (const LockedRule& rule : rules) {
    Node node = document::make_map();
    document::add(node, "rule", rule.rule);
    if (!rule.about.empty()) document::add(node, "about", rule.about);
    document::add(node, "outcome", std::string(name_of(rule.outcome)));
    if (rule.outcome != Outcome::kUnchecked) {
      document::add(node, "value", number(rule.value));
      document::add(node, "limit", number(rule.limit));
      document::add(node, "margin", number(rule.margin));
      if (!rule.unit.empty()) document::add(node, "unit", rule.unit);
    }
    list.items.push_back(std::move(node));
  }
  return list;
}

Node tolerances_node(const Tolerances& tolerances) {
  Node node = document::make_map();
  document::add(node, "all", text_of(tolerances.usual));
  for (const auto& [key, tolerance] : tolerances.single) {
    document::add(node, key, text_of(tolerance));
  }
  return node;
}

double read_value(const Node* node, std::string_view name, Findings& findings) {
  if (node == nullptr || (node->kind == NodeKind::kScalar && node->scalar == kNoNumber)) {
    return model::kNone;
  }
  return parts::read_number(*node, name, kAnyNumber, findings).value_or(model::kNone);
}

std::vector<LockedFile> read_files(Reader& root) {
  std::vector<LockedFile> files;
  const auto* items = root.optional_list("files", "[{role: parts, path: parts.yaml}]");
  if (items == nullptr) return files;
  for (const Node& item : *items) {
    Reader reader(item, item.mark, "files", "an entry of `files`", root.findings());
    LockedFile file;
    file.role = reader.text("role", "parts").value_or("");
    file.path = reader.text("path", "parts.yaml").value_or("");
    file.sha256 = reader.optional_text("sha256").value_or("");
    reader.finish();
    files.push_back(std::move(file));
  }
  return files;
}

std::vector<parts::WrittenPart> read_parts(Reader& root) {
  std::vector<parts::WrittenPart> parts;
  const Node* lists = root.require("parts", "{motors: [...]}");
  if (lists == nullptr) return parts;
  for (const document::Entry& list : lists->entries) {
    for (const Node& item : list.value.items) {
      const Node* name = item.find(list.key == "tyres" ? "size" : "id");
      parts.push_back({list.key, name == nullptr ? "" : name->scalar, item});
    }
  }
  return parts;
}

std::vector<std::string> read_texts(Reader& root, std::string_view key) {
  std::vector<std::string> texts;
  const auto* items = root.optional_list(key, "[...]");
  if (items == nullptr) return texts;
  for (const Node& item : *items) texts.push_back(item.scalar);
  return texts;
}

std::vector<Figure> read_figures(Reader& root) {
  std::vector<Figure> figures;
  const Node* node = root.require("metrics", "{range_km: 52.1}");
  if (node == nullptr) return figures;
  for (const document::Entry& entry : node->entries) {
    figures.push_back({entry.key, read_value(&entry.value, entry.key, root.findings())});
  }
  return figures;
}

std::vector<LockedRule> read_rules(Reader& root) {
  std::vector<LockedRule> rules;
  const auto* items = root.optional_list("rules", "[{rule: must range, outcome: holds}]");
  if (items == nullptr) return rules;
  for (const Node& item : *items) {
    Reader reader(item, item.mark, "rules", "an entry of `rules`", root.findings());
    LockedRule rule;
    rule.rule = reader.text("rule", "must range").value_or("");
    rule.about = reader.optional_text("about").value_or("");
    rule.unit = reader.optional_text("unit").value_or("");
    rule.value = read_value(reader.take("value"), "value", root.findings());
    rule.limit = read_value(reader.take("limit"), "limit", root.findings());
    rule.margin = read_value(reader.take("margin"), "margin", root.findings());
    const auto outcome = reader.text("outcome", "holds");
    if (outcome && !outcome_of(*outcome)) {
      reader.error("outcome", "no outcome is called `" + *outcome + "`",
                   "write holds, caution, broken or unchecked");
    }
    rule.outcome = outcome_of(outcome.value_or("")).value_or(Outcome::kHolds);
    reader.finish();
    rules.push_back(std::move(rule));
  }
  return rules;
}

Tolerances read_tolerances(Reader& root) {
  Tolerances tolerances;
  const Node* node = root.take("tolerances");
  if (node == nullptr) return tolerances;
  for (const document::Entry& entry : node->entries) {
    const auto tolerance = parse_tolerance(entry.value.scalar);
    if (!tolerance) {
      root.findings().diagnostics.error(
          entry.value.mark, "`" + entry.key + "` is no tolerance",
          "write a share such as 2 %, or an amount in the figure's unit such as 0.5");
    } else if (entry.key == "all") {
      tolerances.usual = *tolerance;
    } else {
      tolerances.single.emplace_back(entry.key, *tolerance);
    }
  }
  return tolerances;
}

// A file that was cut off between two lines is still YAML, so the last line says that it is there.
bool is_whole(Reader& root, int version, const Lock& lock, const std::filesystem::path& path) {
  constexpr int kUnmarked = 1;
  const auto end = root.optional_text("end");
  if (version == kUnmarked || end == kWhole) return true;
  root.error("end", "the lock is damaged: its last line, `end: whole`, is missing",
             "take it from a backup, or write it anew: " + renewal(lock, path));
  return false;
}

// The version alone is looked at before anything else: a newer format may mean anything.
bool is_readable(Reader& root, const Lock& lock, const std::filesystem::path& path) {
  const auto version = root.integer("sprocketry_lock", {0, 1000000}, std::to_string(kLockVersion));
  if (!version) return false;
  if (*version >= 1 && *version <= kLockVersion) return is_whole(root, *version, lock, path);
  root.error("sprocketry_lock",
             "the lock is written in format " + std::to_string(*version) +
                 ", this program reads format 1" +
                 (kLockVersion > 1 ? " to " + std::to_string(kLockVersion) : ""),
             "use the program that wrote it (" + lock.model +
                 "), or write it anew: " + renewal(lock, path));
  return false;
}

// A text that is no YAML at all was perhaps a lock once.
void add_damage(const std::filesystem::path& path, document::Diagnostics& diagnostics) {
  std::error_code unasked;
  if (!std::filesystem::is_regular_file(path, unasked)) return;
  diagnostics.error({}, path.string() + " is damaged, or is no lock",
                    "take it from a backup, or write it anew: " + renewal({}, path));
}

// What renewal() needs, whatever the format.
void read_origin(const Node& node, Lock& lock) {
  const auto text = [](const Node& map, std::string_view key) {
    const Node* value = map.find(key);
    return value == nullptr ? std::string() : value->scalar;
  };
  lock.model = text(node, "model");
  lock.design = text(node, "design");
  if (const Node* set = node.find("set")) {
    for (const Node& item : set->items) lock.set.push_back(item.scalar);
  }
  const Node* files = node.find("files");
  if (files == nullptr) return;
  for (const Node& file : files->items) {
    lock.files.push_back({text(file, "role"), text(file, "path"), ""});
  }
}

}  // namespace

std::string lock_text(const Lock& lock) {
  Node root = document::make_map();
  document::add(root, "sprocketry_lock", std::to_string(kLockVersion));
  document::add(root, "model", lock.model);
  document::add(root, "design", document::make_scalar(lock.design, true));
  if (!lock.set.empty()) document::add(root, "set", texts_node(lock.set));
  document::add(root, "tolerances", tolerances_node(lock.tolerances));
  document::add(root, "files", files_node(lock.files));
  document::add(root, "metrics", figures_node(lock.figures));
  document::add(root, "rules", rules_node(lock.rules));
  document::add(root, "requirement", lock.requirement);
  document::add(root, "parts", parts_node(lock.parts));
  if (!lock.trace.empty()) document::add(root, "trace", texts_node(lock.trace));
  document::add(root, "end", std::string(kWhole));
  return "# A chosen design, frozen by `sprocketry lock`. `sprocketry check` computes it again "
         "with\n"
         "# today's parts files. Only `tolerances` is meant to be edited: a share (2 %), or an\n"
         "# amount in the figure's unit, for all figures or for one by its name under "
         "`metrics`.\n" +
         document::to_yaml(root);
}

std::optional<Lock> load_lock(const std::filesystem::path& path,
                              document::Diagnostics& diagnostics) {
  auto node = document::load_yaml(path, path.string(), {}, diagnostics);
  if (!node) {
    add_damage(path, diagnostics);
    return std::nullopt;
  }
  std::vector<parts::Default> unused;
  Findings findings{diagnostics, unused};
  Reader root(*node, node->mark, "", "the lock", findings);
  if (!root.is_map()) {
    add_damage(path, diagnostics);
    return std::nullopt;
  }
  if (node->find("sprocketry_lock") == nullptr) {
    diagnostics.error(node->mark, "this is not a lock",
                      "name a file that `sprocketry lock ... -o FILE` has written");
    return std::nullopt;
  }
  Lock origin;
  read_origin(*node, origin);
  if (!is_readable(root, origin, path)) return std::nullopt;
  Lock lock;
  lock.model = root.optional_text("model").value_or("unknown");
  lock.design = root.text("design", "motor/controller/...").value_or("");
  lock.set = read_texts(root, "set");
  lock.tolerances = read_tolerances(root);
  lock.files = read_files(root);
  lock.figures = read_figures(root);
  lock.rules = read_rules(root);
  if (const Node* requirement = root.require("requirement", "{sprocketry: 1}")) {
    lock.requirement = *requirement;
  }
  lock.parts = read_parts(root);
  lock.trace = read_texts(root, "trace");
  root.finish();
  if (diagnostics.has_errors()) return std::nullopt;
  return lock;
}

std::string renewal(const Lock& lock, const std::filesystem::path& lock_file) {
  std::string requirement = "REQUIREMENT";
  for (const LockedFile& file : lock.files) {
    if (file.role == "requirement") requirement = (lock_file.parent_path() / file.path).string();
  }
  std::string text = "sprocketry lock " + requirement;
  for (const std::string& assignment : lock.set) text += " --set '" + assignment + "'";
  return text + " --pick " + (lock.design.empty() ? "DESIGN" : lock.design) + " -o " +
         lock_file.string();
}

}  // namespace sprocketry::search
