#include "parts/catalogue.hpp"

#include <algorithm>
#include <charconv>
#include <limits>

#include "parts/limits.hpp"

namespace sprocketry::parts {

const CellPart* Catalogue::find_cell(std::string_view id) const {
  const auto found = std::ranges::lower_bound(
      cells, id, {}, [](const CellPart& cell) { return std::string_view(cell.id); });
  return found != cells.end() && found->id == id ? &*found : nullptr;
}

std::string pack_id(std::string_view cell_id, int series, int parallel) {
  return std::string(cell_id) + 'x' + std::to_string(series) + 's' + std::to_string(parallel) + 'p';
}

std::optional<GeneratedPack> split_pack_id(std::string_view id) {
  const std::size_t x = id.rfind('x');
  const std::size_t s = x == std::string_view::npos ? x : id.find('s', x);
  if (s == std::string_view::npos || id.back() != 'p') return std::nullopt;
  GeneratedPack pack{std::string(id.substr(0, x)), 0, 0};
  const auto count = [](std::string_view digits, int& value) {
    std::from_chars(digits.data(), digits.data() + digits.size(), value);
    return value >= 1 && value <= limits::cell::kSeries.max;
  };
  if (!count(id.substr(x + 1, s - x - 1), pack.series)) return std::nullopt;
  if (!count(id.substr(s + 1, id.size() - s - 2), pack.parallel)) return std::nullopt;
  // Only the spelling that pack_id() gives, so that one pack has one id.
  if (pack_id(pack.cell_id, pack.series, pack.parallel) != id) return std::nullopt;
  return pack;
}

PackPart make_pack_part(const CellPart& cell, std::string id, int series, int parallel,
                        const model::CellState& state) {
  PackPart pack;
  pack.cell_id = cell.id;
  pack.chemistry = cell.chemistry;
  pack.cell_size = cell.size;
  pack.model = model::make_pack(model::in_state(cell.model, state), 1, 1, 0.0, 0.0);
  pack.as_new = model::make_pack(model::in_state(cell.model, {}), 1, 1, 0.0, 0.0);
  return resized(cell, std::move(pack), std::move(id), series, parallel);
}

PackPart resized(const CellPart& cell, PackPart pack, std::string id, int series, int parallel) {
  const PackKit& kit = cell.kit;
  const int count = series * parallel;
  pack.id = std::move(id);
  pack.price = cell.price * count + kit.price;
  pack.mass = cell.mass * count + kit.mass;
  const double board = kit.board_current.value_or(std::numeric_limits<double>::infinity());
  for (model::Pack* of_cells : {&pack.model, &pack.as_new}) {
    *of_cells = model::resized(std::move(*of_cells), series, parallel, kit.resistance, board);
  }
  return pack;
}

}  // namespace sprocketry::parts
