#include "parts/load.hpp"

#include <algorithm>
#include <array>
#include <span>

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

// What an entry is called; "" when it has no name.
std::string name_of(const Node& entry) {
  const Node* name = entry.find("id");
  if (name == nullptr) name = entry.find("size");
  return name == nullptr ? "" : name->scalar;
}

// Sorts by a text, equal ones in the order they stand in. Lists are often in order already.
template <typename Items, typename Item>
void sort_by(Items&& items, std::string Item::*text) {
  if (!std::ranges::is_sorted(items, {}, text)) std::ranges::stable_sort(items, {}, text);
}

// What is the same for all files of a run.
struct Run {
  Gathered gathered;
  Tampering tampering;
};

// Reads entries of a list into a batch.
class EntryReader {
 public:
  EntryReader(const List& list, const Run& run, Batch& batch)
      : list_(&list),
        batch_(&batch),
        keeps_written_(run.gathered.written != nullptr),
        findings_{
            batch.diagnostics,
            batch.catalogue.defaults,
            {},
            {run.tampering.inputs == nullptr ? nullptr : &batch.inputs, run.tampering.replaced}},
        shelf_{batch.catalogue, findings_, batch.ids, batch.all_named} {}

  void read(const Node& item) {
    std::vector<Default>& defaults = batch_->catalogue.defaults;
    const std::size_t first = defaults.size();
    list_->read(item, shelf_);
    // So a long list in order of its ids leaves all of them in order, see sort_by().
    sort_by(std::span(defaults).subspan(first), &Default::key);
    // Nothing is answered in the units of parts.
    findings_.written.clear();
    findings_.scratch.memory.release();
    if (!keeps_written_) return;
    batch_->written.push_back({std::string(list_->key), name_of(item), item});
  }

 private:
  const List* list_;
  Batch* batch_;
  bool keeps_written_;
  Findings findings_;
  Shelf shelf_;
};

void report_no_part(const Node& value, const List& list, document::Diagnostics& diagnostics) {
  diagnostics.error(value.mark, "`" + std::string(list.key) + "` holds no part",
                    "add an entry, or leave the key out");
}

// Reads a list that stands in a CSV file; false when it could not be read.
bool read_table(const Node& value, const List& list, const PartsFile& file, Findings& findings,
                Run& run) {
  document::Diagnostics& diagnostics = findings.diagnostics;
  const std::filesystem::path shown =
      std::filesystem::path(file.shown_name).parent_path() / value.scalar;
  const std::filesystem::path path = file.path.parent_path() / value.scalar;
  const auto table = document::load_csv(path, shown.string(), value.mark, diagnostics);
  if (!table) return false;
  if (run.gathered.written != nullptr) run.gathered.written->files.push_back(path);
  if (!is_short_enough(table->filled, value.mark, list.key, findings)) return false;
  const auto shape = document::csv_shape(*table, diagnostics);
  if (!shape) return false;
  const auto read = [&](std::size_t piece, Batch& batch) {
    EntryReader reader(list, run, batch);
    return document::each_csv_item(*table, *shape, table->pieces[piece],
                                   [&reader](const Node& item) { reader.read(item); });
  };
  if (!read_pieces(table->pieces.size(), read, run.gathered)) {
    document::report_csv_cells(*table, diagnostics);
    return false;
  }
  if (table->filled == 0) report_no_part(value, list, diagnostics);
  return true;
}

// False when the list could not be read.
bool read_entries(const Node& value, const List& list, const PartsFile& file, Findings& findings,
                  Run& run) {
  if (value.kind == NodeKind::kScalar) return read_table(value, list, file, findings, run);
  if (value.kind != NodeKind::kList) {
    findings.diagnostics.error(value.mark,
                               "`" + std::string(list.key) +
                                   "` must be a list of parts or the name of a CSV file, but " +
                                   found_at(value) + " was found",
                               "begin each part with `- id: ...`");
    return false;
  }
  if (!is_short_enough(value.items.size(), value.mark, list.key, findings)) return false;
  if (value.items.empty()) report_no_part(value, list, findings.diagnostics);
  constexpr std::size_t kOfPiece = 256;
  const std::size_t count = value.items.size();
  const auto read = [&](std::size_t piece, Batch& batch) {
    EntryReader reader(list, run, batch);
    const std::size_t end = std::min((piece + 1) * kOfPiece, count);
    for (std::size_t i = piece * kOfPiece; i < end; ++i) reader.read(value.items[i]);
    return true;
  };
  return read_pieces((count + kOfPiece - 1) / kOfPiece, read, run.gathered);
}

// A table holds one list; which, only a parts file says.
bool is_table(const PartsFile& file, document::Diagnostics& diagnostics) {
  if (file.path.extension() != ".csv") return false;
  const std::string stem = file.path.stem().string();
  const auto list = std::ranges::find(kLists, stem, &List::key);
  const std::string key(list == kLists.end() ? kLists.front().key : list->key);
  const std::string name = file.path.filename().string();
  const std::string hint =
      "write the line `" + key + ": " + name + "` into a YAML file beside it, and name that file";
  if (file.mentioned.source != nullptr) {
    diagnostics.error(file.mentioned, "\"" + file.shown_name + "\" is a table, not a parts file",
                      hint);
  } else {
    const document::Source& nameless = diagnostics.add_source(file.shown_name, {});
    diagnostics.error({&nameless, 0, 0}, "the file is a table, not a parts file", hint);
  }
  return true;
}

// False when something in the file could not be read at all.
bool read_file(const PartsFile& file, Findings& findings, Run& run) {
  document::Diagnostics& diagnostics = findings.diagnostics;
  if (is_table(file, diagnostics)) return false;
  const auto root = document::load_yaml(file.path, file.shown_name, file.mentioned, diagnostics);
  if (!root) return false;
  if (run.gathered.written != nullptr) run.gathered.written->files.push_back(file.path);
  if (root->kind == NodeKind::kEmpty) {
    diagnostics.error(root->mark, "the parts file is empty",
                      "write lists of parts, such as `motors:` with one entry a motor");
    return false;
  }
  Reader reader(*root, root->mark, "", "the parts file", findings);
  reader.optional_integer("sprocketry", {1, 1});
  bool complete = reader.is_map();
  for (const List& list : kLists) {
    const Node* value = reader.take(list.key);
    if (value != nullptr && !read_entries(*value, list, file, findings, run)) complete = false;
  }
  reader.finish();
  return complete;
}

void sort_lists(Catalogue& catalogue) {
  sort_by(catalogue.motors, &MotorPart::id);
  sort_by(catalogue.controllers, &ControllerPart::id);
  sort_by(catalogue.cells, &CellPart::id);
  sort_by(catalogue.packs, &NamedPack::id);
  sort_by(catalogue.chargers, &ChargerPart::id);
  sort_by(catalogue.chains, &ChainPart::id);
  sort_by(catalogue.front_sprockets, &FrontSprocketFamily::id);
  sort_by(catalogue.rear_sprockets, &RearSprocketFamily::id);
  sort_by(catalogue.extras, &Extra::id);
  sort_by(catalogue.tyres, &Tyre::size);
  sort_by(catalogue.defaults, &Default::key);
}

// Entries of one size are neighbours after sorting, the first one first.
void check_tyres(const Catalogue& catalogue, document::Diagnostics& diagnostics) {
  for (std::size_t i = 1; i < catalogue.tyres.size(); ++i) {
    const Tyre& tyre = catalogue.tyres[i];
    const Tyre& before = catalogue.tyres[i - 1];
    if (tyre.size != before.size || tyre.size.empty()) continue;
    diagnostics.add({document::Severity::kError, tyre.mark,
                     "the tyre size `" + tyre.size + "` is given twice",
                     "keep one roll-out for each size", before.mark, "first given here"});
  }
}

// The id of a generated pack must not stand for another one.
void check_pack_id(const Catalogue& catalogue, const NamedPack& pack,
                   document::Diagnostics& diagnostics) {
  const auto generated = split_pack_id(pack.id);
  if (!generated || catalogue.find_cell(generated->cell_id) == nullptr) return;
  if (generated->cell_id == pack.cell_id && generated->series == pack.series &&
      generated->parallel == pack.parallel) {
    return;
  }
  diagnostics.error(
      pack.mark, "the id `" + pack.id + "` says another pack than `cell`, `series` and `parallel`",
      "give the pack another id: this form is kept for packs generated from cells");
}

// A pack's cell may stand in another file.
void check_packs(const Catalogue& catalogue, document::Diagnostics& diagnostics) {
  std::vector<std::string_view> cells;
  for (const CellPart& cell : catalogue.cells) cells.push_back(cell.id);
  for (const NamedPack& pack : catalogue.packs) {
    check_pack_id(catalogue, pack, diagnostics);
    if (pack.cell_id.empty() || catalogue.find_cell(pack.cell_id) != nullptr) continue;
    std::string hint = did_you_mean(pack.cell_id, cells);
    if (hint.empty()) hint = "add the cell to `cells`, or name one that is there";
    diagnostics.error(
        pack.mark,
        "pack `" + pack.id + "` is made of a cell `" + pack.cell_id + "` that no parts file has",
        std::move(hint));
  }
}

bool has_tyre(const Catalogue& catalogue, std::string_view size) {
  return std::ranges::find(catalogue.tyres, size, &Tyre::size) != catalogue.tyres.end();
}

// Adds the entries whose names are still free.
void add_besides(const std::vector<WrittenPart>& besides, Run& run) {
  Gathered& gathered = run.gathered;
  for (const WrittenPart& part : besides) {
    const auto list = std::ranges::find(kLists, part.list, &List::key);
    if (list == kLists.end()) {
      gathered.diagnostics.error(part.node.mark, "there is no list of parts `" + part.list + "`",
                                 "it was written by another version of this program");
      continue;
    }
    if (gathered.ids.find(part.name) != nullptr || has_tyre(gathered.catalogue, part.name))
      continue;
    Batch batch;
    EntryReader(*list, run, batch).read(part.node);
    batch.written.clear();  // it stands in none of the files
    merge(std::move(batch), gathered);
  }
}

}  // namespace

const WrittenPart* WrittenParts::find(std::string_view list, std::string_view name) const {
  const auto found = std::ranges::find_if(
      entries, [&](const WrittenPart& part) { return part.list == list && part.name == name; });
  return found == entries.end() ? nullptr : &*found;
}

Begun begin_entry(const Node& node, std::string_view list, Shelf& shelf) {
  std::pmr::string what("an entry of `", &shelf.findings.scratch.memory);
  const Node* id_node = node.find("id");
  std::string& path = shelf.findings.entry;
  path = list;
  if (id_node != nullptr && id_node->kind == NodeKind::kScalar) {
    what.assign(1, '`').append(id_node->scalar).append(1, '`');
    path.append(1, '.').append(id_node->scalar);
  } else {
    what.append(list).append(1, '`');
  }
  Reader reader(node, node.mark, path, what, shelf.findings);
  const auto id = reader.id("id", "hollin-48");
  if (id == "none") {
    reader.error("id", "`none` cannot be an id", "it stands for an empty slot; choose another");
  } else if (id) {
    shelf.ids.push_back({*id, id_node->mark, shelf.findings.diagnostics.all().size()});
  } else {
    shelf.all_named = false;
  }
  return {std::move(reader), id.value_or("")};
}

LoadedCatalogue load_parts_files(const std::vector<PartsFile>& files,
                                 document::Diagnostics& diagnostics, WrittenParts* written,
                                 const std::vector<WrittenPart>& besides,
                                 const Tampering& tampering) {
  LoadedCatalogue loaded;
  Catalogue& catalogue = loaded.catalogue;
  Findings findings{diagnostics, catalogue.defaults, {}, tampering};
  Run run{{catalogue, diagnostics, {}, true, tampering.inputs, written}, tampering};
  for (const PartsFile& file : files) {
    if (!read_file(file, findings, run)) loaded.complete = false;
  }
  add_besides(besides, run);
  if (!run.gathered.all_named) loaded.complete = false;
  sort_lists(catalogue);
  check_tyres(catalogue, diagnostics);
  if (loaded.complete) check_packs(catalogue, diagnostics);
  return loaded;
}

Catalogue load_catalogue(const std::vector<PartsFile>& files, bool check_plausibility,
                         document::Diagnostics& diagnostics) {
  Catalogue catalogue = load_parts_files(files, diagnostics).catalogue;
  if (check_plausibility && !diagnostics.has_errors()) warn_implausible(catalogue, diagnostics);
  return catalogue;
}

}  // namespace sprocketry::parts
