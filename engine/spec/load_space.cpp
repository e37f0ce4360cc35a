#include "parts/load_parts.hpp"
#include "spec/limits.hpp"
#include "spec/load_sections.hpp"

namespace sprocketry::spec {
namespace {

constexpr std::string_view kExample = "[{length: 400 mm, width: 200 mm, height: 220 mm}]";

void read_boxes(Reader& space, std::vector<model::Box>& boxes) {
  const auto* items = space.optional_list("battery", kExample);
  if (items == nullptr) return;
  for (const document::Node& item : *items) {
    Reader reader(item, item.mark, space.path() + ".battery", "a room for the battery",
                  space.findings());
    if (const auto box = parts::read_box(reader)) boxes.push_back(*box);
  }
}

}  // namespace

void read_space(Reader& bike, Bike& result) {
  auto space = bike.optional_map("space", "`space` of the bike",
                                 "{motor: {diameter: 210 mm, length: 190 mm}, battery: [...]}");
  if (!space) return;
  Room room;
  read_boxes(*space, room.battery);
  if (auto motor = space->optional_map("motor", "`motor` of the space",
                                       "{diameter: 210 mm, length: 190 mm}")) {
    room.motor = parts::read_cylinder(*motor);
  }
  space->finish();
  result.space = std::move(room);
}

}  // namespace sprocketry::spec
