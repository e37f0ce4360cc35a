#include <algorithm>
#include <charconv>

#include "spec/load_sections.hpp"

namespace sprocketry::spec {
namespace {

using parts::Catalogue;
using Views = std::vector<std::string_view>;

template <typename Part>
void append_ids(const std::vector<Part>& parts, Views& ids) {
  for (const Part& part : parts) ids.push_back(part.id);
}

Views all_ids(const Catalogue& catalogue) {
  Views ids;
  append_ids(catalogue.motors, ids);
  append_ids(catalogue.controllers, ids);
  append_ids(catalogue.cells, ids);
  append_ids(catalogue.packs, ids);
  append_ids(catalogue.chargers, ids);
  append_ids(catalogue.chains, ids);
  append_ids(catalogue.front_sprockets, ids);
  append_ids(catalogue.rear_sprockets, ids);
  append_ids(catalogue.extras, ids);
  std::ranges::sort(ids);
  return ids;
}

const std::vector<int>* teeth_of(const Catalogue& catalogue, std::string_view family) {
  const auto search = [&](const auto& families) -> const std::vector<int>* {
    const auto found =
        std::ranges::find_if(families, [&](const auto& f) { return f.id == family; });
    return found == families.end() ? nullptr : &found->teeth;
  };
  const auto* front = search(catalogue.front_sprockets);
  return front != nullptr ? front : search(catalogue.rear_sprockets);
}

bool is_generated_pack(const Catalogue& catalogue, std::string_view id) {
  const auto pack = parts::split_pack_id(id);
  return pack && catalogue.find_cell(pack->cell_id) != nullptr;
}

// "family:12": one sprocket of a family.
void check_sprocket(const document::Node& item, std::size_t colon, const Catalogue& catalogue,
                    Findings& findings) {
  const std::string_view text = item.scalar;
  const std::string_view family = text.substr(0, colon);
  const std::string_view digits = text.substr(colon + 1);
  const auto* teeth = teeth_of(catalogue, family);
  if (teeth == nullptr) {
    Views families;
    append_ids(catalogue.front_sprockets, families);
    append_ids(catalogue.rear_sprockets, families);
    std::string hint = parts::did_you_mean(family, families);
    if (hint.empty()) hint = "`id:12` means one tooth count of a sprocket family";
    findings.diagnostics.error(item.mark,
                               "no sprocket family has the id \"" + std::string(family) + "\"",
                               std::move(hint));
    return;
  }
  int count = 0;
  const auto [end, code] = std::from_chars(digits.data(), digits.data() + digits.size(), count);
  const bool whole = code == std::errc{} && end == digits.data() + digits.size();
  if (whole && std::ranges::binary_search(*teeth, count) && std::to_string(count) == digits) return;
  std::string hint;
  if (!teeth->empty()) {
    hint = "it has from " + std::to_string(teeth->front()) + " to " +
           std::to_string(teeth->back()) + " teeth";
  }
  findings.diagnostics.error(item.mark,
                             "the sprocket family \"" + std::string(family) +
                                 "\" has no tooth count \"" + std::string(digits) + "\"",
                             std::move(hint));
}

void check_exists(const document::Node& item, const Views& ids, const Catalogue& catalogue,
                  Findings& findings) {
  const std::size_t colon = item.scalar.find(':');
  if (colon != std::string::npos) {
    check_sprocket(item, colon, catalogue, findings);
    return;
  }
  if (std::ranges::binary_search(ids, std::string_view(item.scalar))) return;
  if (is_generated_pack(catalogue, item.scalar)) return;
  std::string hint = parts::did_you_mean(item.scalar, ids);
  if (hint.empty()) hint = "ids stand in the parts files under `id`";
  findings.diagnostics.error(item.mark, "no part has the id \"" + item.scalar + "\"",
                             std::move(hint));
}

}  // namespace

void read_owned(Reader& root, const Surrounding& around, Requirement& requirement) {
  const auto* items = root.optional_list("owned", "[motor-id, chain-id]");
  if (items == nullptr) return;
  const Views ids = all_ids(around.catalogue);
  for (const document::Node& item : *items) {
    const auto id = parts::read_text(item, "owned", root.findings());
    if (!id) continue;
    if (around.ids_known) check_exists(item, ids, around.catalogue, root.findings());
    requirement.owned.push_back(*id);
  }
}

}  // namespace sprocketry::spec
