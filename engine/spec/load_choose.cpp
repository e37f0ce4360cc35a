#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "parts/limits.hpp"
#include "parts/load_parts.hpp"
#include "spec/limits.hpp"
#include "spec/load_sections.hpp"
#include "spec/part_kind.hpp"
#include "spec/voltage_class.hpp"

namespace sprocketry::spec {
namespace {

using parts::Catalogue;
using Ids = std::vector<std::string>;
using Views = std::vector<std::string_view>;

template <typename Part>
Views ids_of(const std::vector<Part>& parts) {
  Views ids;
  for (const Part& part : parts) ids.push_back(part.id);
  return ids;
}

bool contains(const Views& ids, std::string_view id) {
  return std::ranges::find(ids, id) != ids.end();
}

// Reports a second mention of the same text in a list.
class Mentions {
 public:
  explicit Mentions(Findings& findings) : findings_(&findings) {}

  bool is_first(const document::Node& item) {
    const auto [first, fresh] = first_.try_emplace(item.scalar, item.mark);
    if (fresh) return true;
    findings_->diagnostics.add({document::Severity::kError, item.mark,
                                "\"" + item.scalar + "\" is named twice", "name it once",
                                first->second, "first named here"});
    return false;
  }

 private:
  Findings* findings_;
  std::map<std::string, document::Mark> first_;
};

// What to do with an id that names another kind of part; "" when it names none.
std::string hint_of_kind(const std::string& id, const Catalogue& catalogue) {
  const auto other = part_kind(catalogue, id);
  if (!other) return "";
  return "\"" + id + "\" is " + std::string(other->name) + ": " + std::string(other->chosen_by);
}

void report_unknown(const document::Node& item, std::string_view kind, const Views& known,
                    const Catalogue& catalogue, Findings& findings) {
  constexpr std::size_t kListed = 12;
  std::string hint = hint_of_kind(item.scalar, catalogue);
  if (hint.empty()) hint = parts::did_you_mean(item.scalar, known);
  if (hint.empty() && !known.empty() && known.size() <= kListed) {
    hint = "the parts files have " + parts::joined(known);
  }
  if (hint.empty()) hint = "ids stand in the parts files under `id`";
  findings.diagnostics.error(item.mark,
                             "no " + std::string(kind) + " has the id \"" + item.scalar + "\"",
                             std::move(hint));
}

// Ids of one kind of part, each of which exists; `also` accepts what is no plain id.
template <typename Also>
std::optional<Ids> read_ids(Reader& choose, std::string_view key, std::string_view kind,
                            const Views& known, const Surrounding& around, Also also,
                            std::size_t longest = parts::kMaxId) {
  const auto* items = choose.optional_list(key, "[id, id]");
  if (items == nullptr) return {};
  Ids ids;
  Mentions mentions(choose.findings());
  for (const document::Node& item : *items) {
    const auto id = parts::read_id(item, key, choose.findings(), longest);
    if (!id || !mentions.is_first(item)) continue;
    if (around.ids_known && !contains(known, *id) && !also(*id)) {
      report_unknown(item, kind, known, around.catalogue, choose.findings());
    }
    ids.push_back(*id);
  }
  return ids;
}

std::optional<Ids> read_ids(Reader& choose, std::string_view key, std::string_view kind,
                            const Views& known, const Surrounding& around) {
  return read_ids(choose, key, kind, known, around, [](const std::string&) { return false; });
}

bool is_generated(const Catalogue& catalogue, const std::string& id) {
  const auto pack = parts::split_pack_id(id);
  return pack && catalogue.find_cell(pack->cell_id) != nullptr &&
         pack->series <= parts::limits::cell::kSeries.max &&
         pack->parallel <= parts::limits::cell::kParallel.max;
}

// Lists nothing when there was an error, so that the choice stays open.
std::optional<std::vector<int>> read_counts(Reader& reader, std::string_view key,
                                            const parts::IntegerRule& rule) {
  const document::Node* node = reader.take(key);
  if (node == nullptr) return {};
  auto counts = parts::read_integers(*node, key, rule, reader.findings());
  return counts.empty() ? std::nullopt : std::optional(std::move(counts));
}

// The trade's voltage classes; read after what they select from.
void read_classes(Reader& pack, const Surrounding& around, bool generates, PackChoice& choice) {
  const auto* items = pack.optional_list("voltage", "[48 V, 72 V]");
  if (items == nullptr) return;
  std::vector<VoltageClass> classes;
  choice.voltage_classes.emplace();
  for (const document::Node& item : *items) {
    const auto voltage =
        parts::read_quantity(item, "voltage", limits::choose::kVoltageClass, pack.findings());
    if (!voltage) continue;
    classes.push_back({*voltage, &item});
    choice.voltage_classes->push_back(*voltage);
  }
  std::ranges::sort(*choice.voltage_classes);
  if (around.ids_known) {
    warn_of_empty_classes(classes, choice, generates, around.catalogue, pack.findings());
  }
}

// Each pack is set up before the search begins, in some 2 kB: more than anybody compares would only
// fill the memory.
void refuse_too_many(Reader& choose, const Catalogue& catalogue, const PackChoice& choice) {
  constexpr std::size_t kMostPacks = 200000;
  if (!choice.series) return;
  const std::size_t cells = choice.cells ? choice.cells->size() : catalogue.cells.size();
  const std::size_t packs =
      cells * choice.series->size() * (choice.parallel ? choice.parallel->size() : 1);
  if (packs <= kMostPacks) return;
  choose.error("pack",
               "`pack` makes " + std::to_string(packs) + " packs; it must be at most " +
                   std::to_string(kMostPacks),
               "list fewer counts under `series` or `parallel`, or fewer `cells`");
}

void read_generated_packs(Reader& choose, const Surrounding& around, PackChoice& choice) {
  namespace rule = parts::limits::cell;
  auto pack = choose.optional_map("pack", "`pack` of `choose`");
  choice.cells = read_ids(*pack, "cells", "cell", ids_of(around.catalogue.cells), around);
  choice.series = read_counts(*pack, "series", rule::kSeries);
  choice.parallel = read_counts(*pack, "parallel", rule::kParallel);
  const bool generates = pack->has("cells") || pack->has("series") || pack->has("parallel");
  read_classes(*pack, around, generates, choice);
  if (generates && !pack->has("series") && !pack->has("voltage")) {
    choose.error("pack", "`pack` does not say how many cells stand in series",
                 "add `series: [16]`, or the voltage classes `voltage: [48 V]`");
  }
  if (generates && !pack->has("parallel")) {
    choice.parallel = std::vector<int>{1};
    pack->record_default("parallel", "1", kCommonPractice);
  }
  if (pack->is_map() && !generates && !pack->has("voltage")) {
    choose.error("pack", "`pack` chooses nothing",
                 "write {cells: [id], series: [16], parallel: [1]}, or a list of pack ids");
  }
  refuse_too_many(choose, around.catalogue, choice);
  pack->finish();
}

void read_pack(Reader& choose, const Surrounding& around, PackChoice& choice) {
  const document::Node* node = choose.take("pack");
  if (node == nullptr) return;
  if (node->kind == document::NodeKind::kScalar) {
    choose.error(
        "pack",
        "`pack` must be a list of pack ids or a map, but " + parts::found_at(*node) + " was found",
        "write [" + node->scalar + "], or {cells: [id], series: [16], parallel: [1]}");
    return;
  }
  if (node->kind == document::NodeKind::kMap) {
    read_generated_packs(choose, around, choice);
    return;
  }
  choice.ids = read_ids(
      choose, "pack", "pack", ids_of(around.catalogue.packs), around,
      [&](const std::string& id) { return is_generated(around.catalogue, id); }, parts::kMaxPackId);
}

std::string known_sizes(const Catalogue& catalogue) {
  std::set<std::string_view> sizes;
  for (const auto& chain : catalogue.chains) sizes.insert(chain.size);
  return "sizes of the chains in the parts files: " +
         parts::joined(Views(sizes.begin(), sizes.end()));
}

void read_pitches(Reader& choose, const Surrounding& around, ChainChoice& choice) {
  constexpr double kSamePitch = 1e-5;  // m; "15.88 mm" means 5/8 in
  auto chain = choose.optional_map("chain", "`chain` of `choose`");
  const auto* items = chain->list("pitch", "[1/2 in, 5/8 in]");
  chain->finish();
  if (items == nullptr) return;
  choice.pitches.emplace();
  for (const document::Node& item : *items) {
    const auto pitch =
        parts::read_quantity(item, "pitch", parts::limits::chain::kPitch, choose.findings());
    if (!pitch) continue;
    // The chains' own value is kept, so that the search compares like with like.
    bool found = false;
    for (const auto& one : around.catalogue.chains) {
      if (std::abs(one.model.pitch - *pitch) > kSamePitch) continue;
      found = true;
      choice.pitches->push_back(one.model.pitch);
    }
    if (found || !around.ids_known) continue;
    choose.findings().diagnostics.error(item.mark, "no chain has a pitch of " + item.scalar,
                                        known_sizes(around.catalogue));
  }
}

void read_chain(Reader& choose, const Surrounding& around, ChainChoice& choice) {
  const document::Node* node = choose.take("chain");
  if (node == nullptr) return;
  if (node->kind == document::NodeKind::kMap) {
    read_pitches(choose, around, choice);
    return;
  }
  const auto* items = choose.optional_list("chain", "[\"420\", \"428\"]");
  if (items == nullptr) return;
  choice.sizes_or_ids.emplace();
  Mentions mentions(choose.findings());
  for (const document::Node& item : *items) {
    const auto written = parts::read_text(item, "chain", choose.findings());
    if (!written || !mentions.is_first(item)) continue;
    const std::string size = parts::canonical_size(*written);
    const auto& chains = around.catalogue.chains;
    const bool is_id = contains(ids_of(chains), *written);
    const bool is_size = std::ranges::find(chains, size, &parts::ChainPart::size) != chains.end();
    if (around.ids_known && !is_id && !is_size) {
      std::string hint = hint_of_kind(*written, around.catalogue);
      if (hint.empty()) hint = parts::did_you_mean(*written, ids_of(chains));
      if (hint.empty()) hint = known_sizes(around.catalogue);
      choose.findings().diagnostics.error(
          item.mark, "no chain has the size or id \"" + *written + "\"", std::move(hint));
    }
    choice.sizes_or_ids->push_back(is_id ? *written : size);
  }
}

// Tooth counts that no family has leave nothing to choose.
template <typename Family>
void check_teeth(Reader& choose, std::string_view key, const std::optional<std::vector<int>>& teeth,
                 const std::vector<Family>& families, const Surrounding& around) {
  if (!teeth || !around.ids_known || families.empty()) return;
  const bool any = std::ranges::any_of(families, [&](const Family& family) {
    return family.teeth.empty() || std::ranges::any_of(*teeth, [&](int count) {
             return std::ranges::binary_search(family.teeth, count);
           });
  });
  if (any) return;
  int fewest = families.front().teeth.front();
  int most = families.front().teeth.back();
  for (const Family& family : families) {
    fewest = std::min(fewest, family.teeth.front());
    most = std::max(most, family.teeth.back());
  }
  choose.error(
      key, "no sprocket of the parts files has such a tooth count",
      "they have from " + std::to_string(fewest) + " to " + std::to_string(most) + " teeth");
}

}  // namespace

void read_choose(Reader& root, const Surrounding& around, Requirement& requirement) {
  auto choose = root.optional_map("choose", "`choose`",
                                  "{motor: [id, id], pack: {series: [16], parallel: [1]}}");
  if (!choose) {
    if (!root.has("choose")) root.record_default("choose.half_links", "no", kCommonPractice);
    return;
  }
  const Catalogue& catalogue = around.catalogue;
  Choice& choice = requirement.choose;
  namespace rule = parts::limits::sprocket;
  choice.motors = read_ids(*choose, "motor", "motor", ids_of(catalogue.motors), around);
  choice.controllers =
      read_ids(*choose, "controller", "controller", ids_of(catalogue.controllers), around);
  read_pack(*choose, around, choice.pack);
  choice.chargers = read_ids(*choose, "charger", "charger", ids_of(catalogue.chargers), around);
  read_chain(*choose, around, choice.chain);
  choice.front_sprockets = read_ids(*choose, "front_sprocket", "front sprocket",
                                    ids_of(catalogue.front_sprockets), around);
  choice.front_teeth = read_counts(*choose, "front_teeth", rule::kTeeth);
  check_teeth(*choose, "front_teeth", choice.front_teeth, catalogue.front_sprockets, around);
  choice.rear_sprockets =
      read_ids(*choose, "rear_sprocket", "rear sprocket", ids_of(catalogue.rear_sprockets), around);
  choice.rear_teeth = read_counts(*choose, "rear_teeth", rule::kTeeth);
  check_teeth(*choose, "rear_teeth", choice.rear_teeth, catalogue.rear_sprockets, around);
  choice.half_links = choose->boolean_or("half_links", false, kCommonPractice);
  choose->finish();
}

}  // namespace sprocketry::spec
