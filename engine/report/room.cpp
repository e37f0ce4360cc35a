#include "report/room.hpp"

#include <array>
#include <string_view>

#include "report/text.hpp"

namespace sprocketry::report {
namespace {

using search::Design;

// Null when a size is not stated.
const std::vector<model::Box>* rooms_of(const Design& d, const spec::Requirement& requirement) {
  const auto& space = requirement.bike.space;
  if (!space || space->battery.empty() || !d.parts.pack->cell_size) return nullptr;
  return &space->battery;
}

int cells_of(const Design& d) { return d.parts.pack->model.series * d.parts.pack->model.parallel; }

std::string_view edge_name(const model::Body& body, int edge) {
  constexpr std::array<std::string_view, 3> kBox = {"length", "width", "height"};
  constexpr std::array<std::string_view, 3> kRound = {"length", "diameter", "diameter"};
  return (body.round ? kRound : kBox)[static_cast<std::size_t>(edge)];
}

}  // namespace

void write_room(JsonWriter& json, const Design& d, const spec::Requirement& requirement) {
  constexpr double kLitre = 1000.0;  // per m3
  json.key("room");
  const auto* rooms = rooms_of(d, requirement);
  if (rooms == nullptr) return json.null();
  const model::Body& cell = *d.parts.pack->cell_size;
  json.begin_object();
  json.member("cells", cells_of(d));
  json.member("cells_volume_l", cells_of(d) * cell.volume * kLitre);
  json.member("volume_l", model::room_volume(*rooms) * kLitre);
  json.key("battery");
  json.begin_list();
  for (const model::Box& room : *rooms) {
    const model::GridFit fit = model::best_grid(room, cell.box);
    json.begin_object(Layout::kLine);
    json.member("cells", fit.count());
    json.key("along");
    json.begin_list(Layout::kLine);
    for (const std::int64_t count : fit.along) json.value(count);
    json.end_list();
    json.key("cell_edges");
    json.begin_list(Layout::kLine);
    for (const int edge : fit.edge) json.value(edge_name(cell, edge));
    json.end_list();
    json.end_object();
  }
  json.end_list();
  json.end_object();
}

void write_room_text(std::ostream& out, const Design& d, const spec::Requirement& requirement) {
  const auto* rooms = rooms_of(d, requirement);
  if (rooms == nullptr) return;
  const model::Body& cell = *d.parts.pack->cell_size;
  std::string text = std::to_string(cells_of(d)) + " cells to place.";
  for (std::size_t i = 0; i < rooms->size(); ++i) {
    const model::GridFit fit = model::best_grid((*rooms)[i], cell.box);
    text += " Room " + std::to_string(i + 1) + " holds " + std::to_string(fit.count());
    if (fit.count() > 0) {
      text += ": " + std::to_string(fit.along[0]) + " x " + std::to_string(fit.along[1]) + " x " +
              std::to_string(fit.along[2]) + " along length, width and height, the cell's " +
              std::string(edge_name(cell, fit.edge[0])) + ", " +
              std::string(edge_name(cell, fit.edge[1])) + " and " +
              std::string(edge_name(cell, fit.edge[2])) + " that way";
    }
    text += '.';
  }
  text += " Case, links, board, padding and room to swell are not counted.";
  const std::string indent(17, ' ');
  out << "  battery room   " << wrapped(text, indent).substr(indent.size());
}

}  // namespace sprocketry::report
