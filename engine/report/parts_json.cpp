#include "report/parts_json.hpp"

#include "model/constants.hpp"
#include "report/design_json.hpp"
#include "units/units.hpp"

namespace sprocketry::report {
namespace {

using parts::Catalogue;
using units::Dimension;

double price(parts::Money money) {
  return static_cast<double>(money) / static_cast<double>(parts::kMoneyUnit);
}

double millimetres(double length) { return units::in_unit(length, Dimension::kLength, "mm"); }

std::optional<double> millimetres(const std::optional<double>& length) {
  return length ? std::optional(millimetres(*length)) : std::nullopt;
}

double percent(double share) { return units::in_unit(share, Dimension::kRatio, "%"); }

double milliohms(double resistance) {
  return units::in_unit(resistance, Dimension::kResistance, "mohm");
}

// One list of the catalogue; `members` writes those of a part.
template <typename Part, typename Members>
void write_list(JsonWriter& json, std::string_view key, const std::vector<Part>& parts,
                const Members& members) {
  json.key(key);
  json.begin_list();
  for (const Part& part : parts) {
    json.begin_object(Layout::kLine);
    members(part);
    json.end_object();
  }
  json.end_list();
}

template <typename Item>
void write_items(JsonWriter& json, std::string_view key, const std::vector<Item>& items) {
  json.key(key);
  json.begin_list(Layout::kLine);
  for (const Item& item : items) json.value(item);
  json.end_list();
}

void write_interval(JsonWriter& json, std::string_view key, const parts::Interval& interval) {
  json.key(key);
  json.begin_object(Layout::kLine);
  json.member("min", interval.min);
  json.member("max", interval.max);
  json.end_object();
}

void write_motors(JsonWriter& json, const Catalogue& catalogue) {
  write_list(json, "motors", catalogue.motors, [&](const parts::MotorPart& part) {
    const model::Motor& m = part.model;
    json.member("id", part.id);
    json.member("kind", m.kind == model::MotorKind::kBrushed ? "brushed" : "brushless");
    json.member("speed_constant_rpm_v",
                units::in_unit(1 / m.torque_constant, Dimension::kSpeedConstant, "rpm/V"));
    json.member("resistance_mohm", milliohms(m.resistance));
    json.member("max_voltage_v", m.max_voltage);
    json.member("max_speed_rpm", units::in_unit(m.max_speed, Dimension::kRotationalSpeed, "rpm"));
    json.member("continuous_current_a", m.continuous_current);
    json.member("peak_current_a", m.peak_current);
    json.member("peak_duration_s", m.peak_duration);
    json.member("max_winding_c", m.thermal.max_winding - model::kZeroCelsius);
    json.member("thermal_estimated", part.thermal_estimated);
    json.member("field_weakening", part.field_weakening);
    const parts::Shaft shaft = part.shaft.value_or(parts::Shaft{model::kNone, {}, {}});
    json.member("shaft_diameter_mm", millimetres(shaft.diameter));
    json.member("shaft_key_mm", millimetres(shaft.key));
    json.member("shaft_length_mm", millimetres(shaft.length));
    json.member("mass_kg", part.mass);
    json.member("price", price(part.price));
  });
}

void write_controllers(JsonWriter& json, const Catalogue& catalogue) {
  write_list(json, "controllers", catalogue.controllers, [&](const parts::ControllerPart& part) {
    const model::Controller& c = part.model;
    json.member("id", part.id);
    json.member("drives_brushed", c.drives_brushed);
    json.member("drives_brushless", c.drives_brushless);
    json.member("min_voltage_v", c.min_voltage);
    json.member("max_voltage_v", c.max_voltage);
    json.member("battery_current_a", c.battery_current);
    json.member("motor_current_a", c.motor_current);
    json.member("settable", c.settable);
    json.member("efficiency_percent", percent(c.efficiency));
    json.member("capacitance_uf", c.capacitance ? *c.capacitance * 1e6 : model::kNone);
    json.member("mass_kg", part.mass);
    json.member("price", price(part.price));
  });
}

void write_cells(JsonWriter& json, const Catalogue& catalogue) {
  write_list(json, "cells", catalogue.cells, [&](const parts::CellPart& part) {
    const model::Cell& c = part.model;
    json.member("id", part.id);
    json.member("chemistry", part.chemistry);
    json.member("capacity_ah", units::in_unit(c.capacity, Dimension::kCharge, "Ah"));
    json.member("resistance_mohm", milliohms(c.resistance));
    json.member("nominal_voltage_v", c.nominal_voltage);
    json.member("full_voltage_v", c.full_voltage);
    json.member("empty_voltage_v", c.empty_voltage);
    json.member("usable_from_percent", percent(c.usable_from));
    json.member("usable_to_percent", percent(c.usable_to));
    json.member("continuous_current_a", c.continuous_current);
    json.member("peak_current_a", c.peak_current);
    json.member("charge_current_a", c.charge_current);
    json.member("mass_kg", part.mass);
    json.member("price", price(part.price));
  });
  write_list(json, "packs", catalogue.packs, [&](const parts::NamedPack& pack) {
    json.member("id", pack.id);
    json.member("cell", pack.cell_id);
    json.member("series", pack.series);
    json.member("parallel", pack.parallel);
  });
}

void write_chargers(JsonWriter& json, const Catalogue& catalogue) {
  write_list(json, "chargers", catalogue.chargers, [&](const parts::ChargerPart& part) {
    json.member("id", part.id);
    write_items(json, "chemistries", part.chemistries);
    json.member("min_full_voltage_v", part.min_full_voltage);
    json.member("max_full_voltage_v", part.max_full_voltage);
    json.member("current_a", part.current);
    json.member("carried", part.carried);
    json.member("mass_kg", part.mass);
    json.member("price", price(part.price));
  });
}

void write_chains(JsonWriter& json, const Catalogue& catalogue) {
  write_list(json, "chains", catalogue.chains, [&](const parts::ChainPart& part) {
    const model::Chain& c = part.model;
    json.member("id", part.id);
    json.member("size", part.size);
    json.member("pitch_mm", millimetres(c.pitch));
    json.member("roller_mm", millimetres(part.roller_diameter));
    json.member("inner_width_mm", millimetres(part.inner_width));
    json.member("pin_mm", millimetres(c.pin_diameter));
    json.member("tensile_strength_n", c.tensile_strength);
    json.member("mass_per_length_kg_m", c.mass_per_length);
    json.member("loss_percent", percent(c.fixed_loss));
    json.member("friction", c.friction);
    json.member("max_speed_m_s", part.max_speed);
    json.member("box_links", part.box_links > 0 ? std::optional(part.box_links) : std::nullopt);
    json.member("price", price(part.price));
  });
}

template <typename Family>
void write_family_price(JsonWriter& json, const Family& family) {
  json.member("price_base", price(family.price.base));
  json.member("price_per_tooth", price(family.price.per_tooth));
  json.member("fabrication", price(family.fabrication));
  json.member("mass_base_kg", family.mass.base);
  json.member("mass_per_tooth_kg", family.mass.per_tooth);
}

void write_sprockets(JsonWriter& json, const Catalogue& catalogue) {
  write_list(json, "front_sprockets", catalogue.front_sprockets,
             [&](const parts::FrontSprocketFamily& family) {
               json.member("id", family.id);
               json.member("size", family.size);
               write_items(json, "teeth", family.teeth);
               json.member("bore_mm", millimetres(family.bore));
               json.member("key_mm", millimetres(family.key));
               json.member("hub_diameter_mm", millimetres(family.hub_diameter));
               json.member("hub_length_mm", millimetres(family.hub_length));
               write_family_price(json, family);
             });
  write_list(json, "rear_sprockets", catalogue.rear_sprockets,
             [&](const parts::RearSprocketFamily& family) {
               json.member("id", family.id);
               json.member("size", family.size);
               write_items(json, "teeth", family.teeth);
               json.member("bolt_circle_mm", millimetres(family.bolt_circle));
               json.member("bolts", family.bolts);
               write_family_price(json, family);
             });
}

void write_rest(JsonWriter& json, const Catalogue& catalogue) {
  write_list(json, "tyres", catalogue.tyres, [&](const parts::Tyre& tyre) {
    json.member("size", tyre.size);
    json.member("rollout_mm", millimetres(tyre.rollout));
  });
  write_list(json, "extras", catalogue.extras, [&](const parts::Extra& extra) {
    json.member("id", extra.id);
    write_interval(json, "full_voltage_v", extra.full_voltage);
    write_interval(json, "nominal_voltage_v", extra.nominal_voltage);
    write_interval(json, "battery_current_a", extra.battery_current);
    json.member("mass_kg", extra.mass);
    json.member("price", price(extra.price));
  });
}

}  // namespace

void write_parts_json(std::ostream& out, const Catalogue& catalogue, std::string_view version) {
  JsonWriter json(out);
  json.begin_object();
  json.member("sprocketry", version);
  write_motors(json, catalogue);
  write_controllers(json, catalogue);
  write_cells(json, catalogue);
  write_chargers(json, catalogue);
  write_chains(json, catalogue);
  write_sprockets(json, catalogue);
  write_rest(json, catalogue);
  write_defaults(json, catalogue.defaults);
  json.end_object();
  json.end_line();
}

}  // namespace sprocketry::report
