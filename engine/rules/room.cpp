#include <algorithm>
#include <array>

#include "rules/checks.hpp"

namespace sprocketry::rules {
namespace {

constexpr const char* kNoSpace = "bike.space";

const char* missing_for_battery(const Context& c) {
  if (!c.requirement.bike.space) return kNoSpace;
  if (c.requirement.bike.space->battery.empty()) return "bike.space.battery";
  return c.parts.pack->cell_size ? nullptr : "cells.size";
}

const char* missing_for_motor(const Context& c) {
  if (!c.requirement.bike.space) return kNoSpace;
  if (!c.requirement.bike.space->motor) return "bike.space.motor";
  return c.parts.motor->size ? nullptr : "motors.size";
}

int cells(const Context& c) { return c.parts.pack->model.series * c.parts.pack->model.parallel; }

// More volume than the room has fits in no way at all; a cylinder counts with its own volume, not
// with its prism's, since cylinders may stand closer than on a square grid.
Finding battery_volume(const Context& c, std::size_t) {
  if (const char* field = missing_for_battery(c)) return not_given(field);
  const double room = model::room_volume(c.requirement.bike.space->battery);
  const double volume = cells(c) * c.parts.pack->cell_size->volume;
  return at_most(volume <= room * (1.0 + model::kVolumeRounding) ? std::min(volume, room) : volume,
                 room);
}

Finding battery_room(const Context& c, std::size_t) {
  if (const char* field = missing_for_battery(c)) return not_given(field);
  const std::int64_t held =
      model::grid_count(c.requirement.bike.space->battery, c.parts.pack->cell_size->box);
  return at_least(static_cast<double>(held), cells(c));
}

std::string battery_reason(const Context& c, std::size_t) {
  return battery_volume(c, 0).holds()
             ? "cells: the volume would do, but no grid with all cells of a room turned one way "
               "holds them; try it with cardboard"
             : "cells";
}

Finding motor_diameter(const Context& c, std::size_t) {
  if (const char* field = missing_for_motor(c)) return not_given(field);
  return at_most(c.parts.motor->size->diameter, c.requirement.bike.space->motor->diameter);
}

Finding motor_length(const Context& c, std::size_t) {
  if (const char* field = missing_for_motor(c)) return not_given(field);
  return at_most(c.parts.motor->size->length, c.requirement.bike.space->motor->length);
}

using slot::kMotor;
using slot::kPack;
// Decided with the electrical rules: like them they join motor, controller, pack and charger only.
constexpr Stage kStage = Stage::kElectrical;
constexpr const char* kFrame = "the room in the frame";

constexpr std::array kRules = {
    Rule{"battery volume", kStage, Kind::kReject, Unit::kLitre, kPack, kFrame,
         "all cells together are no larger than the room for them; case, links, board and padding "
         "are not counted",
         one_item, battery_volume},
    Rule{"battery room", kStage, Kind::kCaution, Unit::kNone, kPack, kFrame,
         "the cells stand in the rooms in rows and layers, the best of six ways to turn them in "
         "each (proven); case, links, board and padding are not counted",
         one_item, battery_room, nullptr, false, battery_reason},
    Rule{"motor room diameter", kStage, Kind::kReject, Unit::kMillimetre, kMotor, kFrame,
         "the motor is no thicker than the room for it", one_item, motor_diameter},
    Rule{"motor room length", kStage, Kind::kReject, Unit::kMillimetre, kMotor, kFrame,
         "the motor's body is no longer than the room for it", one_item, motor_length},
};

}  // namespace

std::span<const Rule> room_rules() { return kRules; }

}  // namespace sprocketry::rules
