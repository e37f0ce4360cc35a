#include "parts/load.hpp"

#include <algorithm>
#include <array>

#include "document/csv.hpp"
#include "parts/load_parts.hpp"
#include "parts/plausible.hpp"

namespace sprocketry::parts {
namespace {

using document::Node;
using document::NodeKind;

struct List {
  std::string_view key;
  void (*read)(const Node&, Shelf&);
};

// Cells before packs: a pack names its cell.
constexpr std::array kLists = {
    List{"motors", read_motor},
    List{"controllers", read_controller},
    List{"cells", read_cell},
    List{"packs", read_named_pack},
    List{"chargers", read_charger},
    List{"chains", read_chain},
    List{"front_sprockets", read_front_sprocket},
    List{"rear_sprockets", read_rear_sprocket},
    List{"tyres", read_tyre},
    List{"extras", read_extra},
};

// The entries of a list, which may stand in a CSV file.
std::optional<Node> entries(const Node& value, std::string_view key, const PartsFile& file,
                            Findings& findings) {
  if (value.kind == NodeKind::kList) return value;
  if (value.kind != NodeKind::kScalar) {
    findings.diagnostics.error(value.mark,
                               "`" + std::string(key) +
                                   "` must be a list of parts or the name of a "
                                   "CSV file, but " +
                                   found_at(value) + " was found",
                               "begin each part with `- id: ...`");
    return std::nullopt;
  }
  const std::filesystem::path path = file.path.parent_path() / value.scalar;
  const auto table = document::load_csv(path, value.scalar, value.mark, findings.diagnostics);
  if (!table) return std::nullopt;
  return document::csv_to_node(*table, value.mark, findings.diagnostics);
}

void read_file(const PartsFile& file, Shelf& shelf) {
  const auto root =
      document::load_yaml(file.path, file.shown_name, file.mentioned, shelf.findings.diagnostics);
  if (!root) return;
  Reader reader(*root, root->mark, "", "the parts file", shelf.findings);
  for (const List& list : kLists) {
    const Node* value = reader.take(list.key);
    if (value == nullptr) continue;
    const auto items = entries(*value, list.key, file, shelf.findings);
    if (!items) continue;
    for (const Node& item : items->items) list.read(item, shelf);
  }
  reader.finish();
}

template <typename Part>
void sort_by_id(std::vector<Part>& parts) {
  std::ranges::stable_sort(parts, {}, &Part::id);
}

// A pack's cell may stand in another file.
void check_packs(const Catalogue& catalogue, document::Diagnostics& diagnostics) {
  std::vector<std::string_view> cells;
  for (const CellPart& cell : catalogue.cells) cells.push_back(cell.id);
  for (const NamedPack& pack : catalogue.packs) {
    if (pack.cell_id.empty() || catalogue.find_cell(pack.cell_id) != nullptr) continue;
    std::string hint = did_you_mean(pack.cell_id, cells);
    if (hint.empty()) hint = "add the cell to `cells`, or name one that is there";
    diagnostics.error(
        pack.mark,
        "pack `" + pack.id + "` is made of a cell `" + pack.cell_id + "` that no parts file has",
        std::move(hint));
  }
}

}  // namespace

void IdRegistry::add(const std::string& id, const document::Mark& mark) {
  const auto [place, fresh] = first_.try_emplace(id, mark);
  if (fresh) return;
  document::Diagnostic finding;
  finding.mark = mark;
  finding.message = "the id `" + id + "` is used twice";
  finding.hint = "give one of the two parts another id";
  finding.second_mark = place->second;
  finding.second_message = "first used here";
  diagnostics_->add(std::move(finding));
}

Begun begin_entry(const Node& node, std::string_view list, Shelf& shelf) {
  std::string what = "an entry of `" + std::string(list) + "`";
  const Node* id_node = node.find("id");
  std::string path(list);
  if (id_node != nullptr && id_node->kind == NodeKind::kScalar) {
    what = "`" + id_node->scalar + "`";
    path += "." + id_node->scalar;
  }
  Reader reader(node, node.mark, path, what, shelf.findings);
  const auto id = reader.id("id", "hollin-48");
  if (id) shelf.ids.add(*id, id_node->mark);
  return {std::move(reader), id.value_or("")};
}

Catalogue load_catalogue(const std::vector<PartsFile>& files, bool check_plausibility,
                         document::Diagnostics& diagnostics) {
  Catalogue catalogue;
  Findings findings{diagnostics, catalogue.defaults};
  IdRegistry ids(diagnostics);
  Shelf shelf{catalogue, findings, ids};
  for (const PartsFile& file : files) read_file(file, shelf);
  sort_by_id(catalogue.motors);
  sort_by_id(catalogue.controllers);
  sort_by_id(catalogue.cells);
  sort_by_id(catalogue.packs);
  sort_by_id(catalogue.chargers);
  sort_by_id(catalogue.chains);
  sort_by_id(catalogue.front_sprockets);
  sort_by_id(catalogue.rear_sprockets);
  sort_by_id(catalogue.extras);
  std::ranges::stable_sort(catalogue.tyres, {}, &Tyre::size);
  std::ranges::stable_sort(catalogue.defaults, {}, &Default::key);
  check_packs(catalogue, diagnostics);
  if (check_plausibility && !diagnostics.has_errors()) warn_implausible(catalogue, diagnostics);
  return catalogue;
}

}  // namespace sprocketry::parts
