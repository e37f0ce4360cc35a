#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace sprocketry::spec {

// What a vehicle of a legal class may be; absent: the class sets no limit.
struct VehicleClass {
  std::string name;
  std::optional<double> top_speed;       // m/s, the most
  std::optional<double> power;           // W, the most for ever, at the motor's shaft
  std::optional<double> power_per_mass;  // W/kg, the most, of the bike without its pack
};

// The classes that may be named, of Regulation (EU) 168/2013, Annex I.
std::span<const VehicleClass> vehicle_classes();

}  // namespace sprocketry::spec
